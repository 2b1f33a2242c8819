"""The entry: a question about bars in, a verified answer out."""

from nesting.linear.answer import BarAnswer, BarBoundKind, BarPattern, canonical
from nesting.linear.errors import BrokenBarAnswer
from nesting.linear.instance import BarInstance
from nesting.linear.problem import Pattern, problem_of
from nesting.linear.rounding import greedy
from nesting.linear.search import search
from nesting.linear.shortage import plan_from_bars_on_hand, refuse_too_long
from nesting.linear.verify import violations
from nesting.programs.linear_programs import Cancel


def solve_bars(instance: BarInstance, *, cancel: Cancel | None = None) -> BarAnswer:
    """Return patterns that make every piece exactly as often as asked, at the lowest cost found.

    Equal costs are told apart by the length of bars, then by the number of patterns. Nothing is
    random and no clock is read, so the same question gives the same answer; work hardly grows
    with the quantities. Once `cancel` says so, the best answer so far is returned. Every answer
    has passed `violations`.

    Raises:
        PieceTooLong: a piece is longer than every bar between its trims.
        NotEnoughBars: the bars on hand do not hold all pieces, or no way was found.
        BrokenBarAnswer: the answer failed its verification; a bug in the nest.
    """
    refuse_too_long(instance)
    if not instance.pieces:
        return BarAnswer(patterns=(), lower_bound=0.0, bound_kind=BarBoundKind.NOTHING)
    problem, unit = problem_of(instance)
    start = greedy(problem)
    if start is None:
        start = plan_from_bars_on_hand(instance, problem, cancel=cancel)
    found = search(problem, start, cancel=cancel)
    answer = BarAnswer(
        patterns=canonical(_pattern(instance, each, runs) for each, runs in found.plan.items()),
        lower_bound=float(found.bound * unit),
        bound_kind=found.kind,
    )
    broken = violations(instance, answer)
    if broken:
        raise BrokenBarAnswer(violations=broken)
    return answer


def _pattern(instance: BarInstance, pattern: Pattern, runs: int) -> BarPattern:
    """Return the pattern with its cuts in order: long pieces first, as a spoilt one can then be
    cut again from what is left (common practice, no source).
    """
    rules = instance.rules
    bar = instance.bars[pattern.room]
    cuts = [
        piece
        for piece, count in zip(instance.pieces, pattern.counts, strict=True)
        for _ in range(count)
    ]
    cuts.sort(key=lambda piece: (-piece.length, piece.id))
    end = rules.end_trim + sum(piece.length for piece in cuts) + (len(cuts) - 1) * rules.kerf
    return BarPattern(
        bar=bar.id,
        cuts=tuple(piece.id for piece in cuts),
        runs=runs,
        remnant=max(0, bar.length - end - rules.kerf),
    )
