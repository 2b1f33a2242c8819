"""Independent check of an answer against its question.

Every bar is sawn again, cut by cut, along a ruler. Nothing here is shared with the solver, so that
a mistake there cannot hide itself here.
"""

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from nesting.linear.answer import BarAnswer, BarPattern
from nesting.linear.instance import Bar, BarInstance, BarKind, RemnantUse, SawRules
from nesting.linear.violation import BarViolation, BarViolationKind


def violations(instance: BarInstance, answer: BarAnswer) -> tuple[BarViolation, ...]:
    """Return every rule of the question that the answer breaks; empty when it is right."""
    return tuple(_all_violations(instance, answer))


def _all_violations(instance: BarInstance, answer: BarAnswer) -> Iterator[BarViolation]:
    bars = {bar.id: bar for bar in instance.bars}
    lengths = {piece.id: piece.length for piece in instance.pieces}
    for number, pattern in enumerate(answer.patterns, start=1):
        yield from _pattern_violations(f"pattern {number}", pattern, lengths, bars, instance.rules)
    yield from _count_violations(instance, answer)
    yield from _on_hand_violations(instance, answer)
    yield from _bound_violations(instance, answer)


def _pattern_violations(
    where: str,
    pattern: BarPattern,
    lengths: dict[str, int],
    bars: dict[str, Bar],
    rules: SawRules,
) -> Iterator[BarViolation]:
    if pattern.runs < 1:
        yield _violation(BarViolationKind.RUNS, where, str(pattern.runs), "1 or more")
    if not pattern.cuts:
        yield _violation(BarViolationKind.EMPTY, where, "no cuts", "1 or more")
    unknown = [cut for cut in pattern.cuts if cut not in lengths]
    for cut in unknown:
        yield _violation(BarViolationKind.UNKNOWN_PIECE, where, cut, "a piece asked for")
    bar = bars.get(pattern.bar)
    if bar is None:
        yield _violation(BarViolationKind.UNKNOWN_BAR, where, pattern.bar, "a bar on the list")
    elif not unknown:
        yield from _sawn(where, pattern, lengths, bar, rules)


def _sawn(
    where: str, pattern: BarPattern, lengths: dict[str, int], bar: Bar, rules: SawRules
) -> Iterator[BarViolation]:
    at = rules.end_trim
    for place, cut in enumerate(pattern.cuts):
        if place:
            at += rules.kerf
        at += lengths[cut]
    end = bar.length - rules.end_trim
    if at > end:
        yield _violation(BarViolationKind.TOO_LONG, where, f"cut at {at}", f"up to {end}")
        return
    left = max(bar.length - at - rules.kerf, 0)
    if pattern.remnant != left:
        yield _violation(BarViolationKind.REMNANT, where, str(pattern.remnant), str(left))


def _count_violations(instance: BarInstance, answer: BarAnswer) -> Iterator[BarViolation]:
    made: Counter[str] = Counter()
    for pattern in answer.patterns:
        for cut in pattern.cuts:
            made[cut] += pattern.runs
    for piece in instance.pieces:
        if made[piece.id] != piece.quantity:
            yield _violation(
                BarViolationKind.COUNT,
                f"piece {piece.id}",
                str(made[piece.id]),
                str(piece.quantity),
            )


def _on_hand_violations(instance: BarInstance, answer: BarAnswer) -> Iterator[BarViolation]:
    used: Counter[str] = Counter()
    for pattern in answer.patterns:
        used[pattern.bar] += pattern.runs
    for bar in instance.bars:
        if bar.on_hand is not None and used[bar.id] > bar.on_hand:
            yield _violation(
                BarViolationKind.ON_HAND,
                f"bar {bar.id}",
                str(used[bar.id]),
                f"at most {bar.on_hand}",
            )


def _bound_violations(instance: BarInstance, answer: BarAnswer) -> Iterator[BarViolation]:
    free = instance.rules.remnants is RemnantUse.FIRST
    total = Fraction(0)
    for bar in instance.bars:
        if not (free and bar.kind is BarKind.REMNANT):
            runs = (pattern.runs for pattern in answer.patterns if pattern.bar == bar.id)
            total += Fraction(str(bar.price)) * sum(runs)
    # Compared as floats: a price with many digits may differ in the last one when it is written.
    if answer.lower_bound > float(total):
        yield _violation(
            BarViolationKind.BOUND,
            "lower bound",
            str(answer.lower_bound),
            f"at most {float(total)}",
        )


def _violation(kind: BarViolationKind, where: str, found: str, required: str) -> BarViolation:
    return BarViolation(kind=kind, where=where, found=found, required=required)
