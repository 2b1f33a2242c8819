"""The pattern program: bars cut in fractions, and the bound that its duals prove.

Every pattern that a bar can hold is a column; those that help are found by pricing. The duals of
each round, rounded to whole numbers and priced again exactly, prove a bound by themselves: no
float decides whether it holds.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from nesting.linear.pricing import Best, Pricing
from nesting.linear.problem import BarProblem, Pattern, patterns_of
from nesting.programs.linear_programs import Cancel, MasterProblem
from nesting.programs.programs import Column, LinearStatus, Row, at_least, at_most

SCALE_BITS = 36
"""The dearest bar counts about this power of 2 where values of pieces are whole numbers."""

WORTH_ADDING = 1e-9
"""Share of the dearest bar that a pattern must save to be worth a column."""

MOST_ROUNDS = 3_000
"""Rounds after which a relaxation ends as it stands; its bound holds all the same."""

DEAREST_ESCAPE = 10**4
"""Price of leaving a piece uncut, in dearest bars, beyond which it is given up."""


@dataclass(frozen=True, slots=True)
class Proof:
    """Whole-number values that prove a bound: of each item type, and of each room that is limited.

    No pattern is worth more than the price of its room plus the room's value, both times `scale`.
    """

    scale: int
    item_types: tuple[int, ...]
    rooms: tuple[int, ...]
    bound: Fraction

    def reduced_cost(self, problem: BarProblem, pattern: Pattern) -> Fraction:
        """Return what a pattern costs above its dual values (price units), 0 or more."""
        value = sum(
            value * count for value, count in zip(self.item_types, pattern.counts, strict=True)
        )
        price = problem.rooms[pattern.room].price * self.scale + self.rooms[pattern.room]
        return Fraction(price - value, self.scale)


@dataclass(frozen=True, slots=True)
class Relaxation:
    """Patterns with their fractional runs; `complete` unless some pieces were left uncut."""

    runs: dict[Pattern, float]
    proof: Proof
    complete: bool


class PatternProgram:
    """Relaxations of one problem. Patterns found stay, so that each one starts with the last."""

    def __init__(self, problem: BarProblem, known: Iterable[Pattern] = ()) -> None:
        """Start with full bars of each item type and the patterns already known."""
        self._problem = problem
        self._pricing = Pricing(problem.lengths, problem.demand)
        self._dearest = max((room.price for room in problem.rooms), default=0) or 1
        self._scale = max(1, 2**SCALE_BITS // self._dearest)
        self.patterns = list(dict.fromkeys([*patterns_of(problem), *known]))
        self._known = set(self.patterns)

    def learn(self, patterns: Iterable[Pattern]) -> None:
        """Keep patterns found elsewhere for the same bars and item types."""
        for pattern in patterns:
            if pattern not in self._known:
                self._known.add(pattern)
                self.patterns.append(pattern)

    def relax(self, *, cancel: Cancel | None = None) -> Relaxation:
        """Return the optimum over all patterns with the best bound proven on the way."""
        escape = 2 * self._dearest
        master = self._master(escape)
        proof = _nothing_proven(self._problem, self._scale)
        for _ in range(MOST_ROUNDS):
            answer = master.solve(cancel=cancel)
            if answer.status is not LinearStatus.OPTIMAL:
                break
            item_types = self._whole(answer.duals)
            found = self._pricing.best(item_types, [room.size for room in self._problem.rooms])
            proof = max(proof, self._proof(item_types, found), key=lambda each: each.bound)
            added = self._add(master, found, answer.duals, item_types)
            uncut = any(value > 1e-7 for value in answer.values[: len(item_types)])
            if added and (uncut or not _closed(proof.bound, answer.cost)):
                continue
            if not uncut or escape >= DEAREST_ESCAPE * self._dearest:
                return self._relaxation(answer.values, proof, not uncut)
            escape *= 100
            for place in range(len(item_types)):
                master.change_cost(place, float(escape))
        return Relaxation({}, proof, False)

    def _master(self, escape: int) -> MasterProblem:
        """Return the program: rows of demand, rows of limits; columns of uncut pieces first."""
        problem = self._problem
        rows: list[Row] = [at_least(float(count)) for count in problem.demand]
        rows += [Row() if r.on_hand is None else at_most(float(r.on_hand)) for r in problem.rooms]
        uncut = [
            Column(cost=float(escape), entries=((item_type, 1.0),))
            for item_type in range(len(problem.demand))
        ]
        return MasterProblem(rows, [*uncut, *(column_of(problem, f) for f in self.patterns)])

    def _whole(self, duals: Sequence[float]) -> list[int]:
        item_types = len(self._problem.demand)
        return [max(0, int(dual * self._scale)) for dual in duals[:item_types]]

    def _proof(self, item_types: Sequence[int], found: Sequence[Best]) -> Proof:
        """Return the bound that the dual values prove, once no endless room is worth too much."""
        rooms = self._problem.rooms
        share = Fraction(1)
        for room, best in zip(rooms, found, strict=True):
            if room.on_hand is None and best.value > room.price * self._scale:
                share = min(share, Fraction(room.price * self._scale, best.value))
        lowered = tuple(int(value * share) for value in item_types)
        # Lowering every value by the share lowers the best pattern at least so far.
        room_values = [
            0
            if room.on_hand is None
            else max(0, ceil(best.value * share) - room.price * self._scale)
            for room, best in zip(rooms, found, strict=True)
        ]
        total = sum(v * count for v, count in zip(lowered, self._problem.demand, strict=True))
        total -= sum(
            value * room.on_hand
            for value, room in zip(room_values, rooms, strict=True)
            if room.on_hand is not None
        )
        return Proof(self._scale, lowered, tuple(room_values), Fraction(total, self._scale))

    def _add(
        self,
        master: MasterProblem,
        found: Sequence[Best],
        duals: Sequence[float],
        item_types: Sequence[int],
    ) -> bool:
        added = False
        least = int(WORTH_ADDING * self._dearest * self._scale)
        for place, (room, best) in enumerate(zip(self._problem.rooms, found, strict=True)):
            allowed = room.price * self._scale - int(duals[len(item_types) + place] * self._scale)
            pattern = Pattern(place, best.counts)
            if room.on_hand == 0 or best.value - allowed <= least or pattern in self._known:
                continue
            self._known.add(pattern)
            self.patterns.append(pattern)
            master.add_column(column_of(self._problem, pattern))
            added = True
        return added

    def _relaxation(self, values: Sequence[float], proof: Proof, complete: bool) -> Relaxation:
        of_patterns = values[len(self._problem.demand) :]
        runs = {
            pattern: value
            for pattern, value in zip(self.patterns, of_patterns, strict=False)
            if value > 1e-9
        }
        return Relaxation(runs, proof, complete)


def column_of(problem: BarProblem, pattern: Pattern) -> Column:
    """Return the pattern as a column: rows of demand by item type, then rows of limits by room."""
    entries = [(item_type, float(count)) for item_type, count in enumerate(pattern.counts) if count]
    entries.append((len(problem.demand) + pattern.room, 1.0))
    return Column(cost=float(problem.rooms[pattern.room].price), entries=tuple(entries))


def _closed(bound: Fraction, cost: float) -> bool:
    """Return whether the bound, rounded up to a whole price, cannot rise any more."""
    return ceil(bound) >= ceil(cost - 1e-6 * max(1.0, cost))


def _nothing_proven(problem: BarProblem, scale: int) -> Proof:
    return Proof(scale, (0,) * len(problem.demand), (0,) * len(problem.rooms), Fraction(0))
