"""Valuable patterns of one sheet: what column generation asks for, again and again.

Sheets of through cuts are found by methods that are exact in parts, whatever way the nest is cut;
climbs start from patterns that are given, and from nothing.
"""

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from nesting.edge_to_edge.sawn_patterns import sawn_patterns
from nesting.kernels.fill_sheet import rules_of
from nesting.kernels.random_numbers import below, random_state
from nesting.kernels.sequence import Steps
from nesting.kernels.sheet import Filled, unfilled
from nesting.kernels.sheets import Arrays
from nesting.kernels.valuable_sheet import (
    PLACED,
    RULE,
    Climb,
    Wanted,
    begin,
    climb,
    not_begun,
)
from nesting.question.problem import Problem, Room
from nesting.search.arrays import pattern_from
from nesting.search.budget import CHUNK, Budget
from nesting.search.first_answers import most_on
from nesting.search.pattern import Pattern

SAWN_ITEM_TYPES = 60
"""With more item types the through cuts take longer than they are worth."""

SAWN_OFFERS = 15_000
"""What the through cuts count for each item type, in pieces offered: they take as long."""

DEFECT_TRIES = 128
"""Sheets with defects that are cut through are filled at random so often: of defects the exact
methods see the largest clear rectangle alone."""

Whole = NDArray[np.int64]


class Pricer:
    """Finds patterns of high value. It is a heuristic: what it finds proves no bound."""

    def __init__(self, problem: Problem, arrays: Arrays, seed: int) -> None:
        """Keep the problem, and a stream of random numbers of its own."""
        self._problem = problem
        self._arrays = arrays
        self._rng = random_state(seed)
        self._most = np.array(
            [
                [most_on(room, item_type) for item_type in problem.item_types]
                for room in problem.rooms
            ],
            dtype=np.int64,
        )

    def patterns(
        self,
        room: Room,
        values: Sequence[float],
        most: Sequence[int],
        climbs: int,
        steps: int,
        budget: Budget,
        starts: Sequence[Pattern] = (),
    ) -> list[Pattern]:
        """Return different patterns by falling value, with at most `most` of each item type.

        Each is the best of one of the `climbs` of so many `steps`; the first ones start from
        patterns of the same room. Pieces without value are left out. There are fewer when the
        budget ends.
        """
        wanted_values = np.asarray(values, dtype=np.float64)
        copies = np.minimum(self._most[room.index], np.asarray(most, dtype=np.int64))
        kept = np.flatnonzero((copies > 0) & (wanted_values > 0))
        if not kept.size:
            return []
        found: dict[object, Pattern] = {}
        wanted = self._wanted(kept, wanted_values, copies)
        for pattern in self._climbed(room, kept, wanted, starts, climbs, steps, budget):
            found.setdefault(pattern.counts, pattern)
        return sorted(found.values(), key=lambda pattern: -pattern.value(values))

    def sawn(
        self, room: Room, values: Sequence[float], most: Sequence[int], budget: Budget
    ) -> list[Pattern]:
        """Return patterns of through cuts by falling value, within the stages that are allowed.

        They are good ones in a free nest as well. There are none where pieces are of too many
        item types.
        """
        item_types, saw = self._problem.item_types, self._problem.saw
        if len(item_types) > SAWN_ITEM_TYPES or budget.over:
            return []
        budget.spend(SAWN_OFFERS * len(item_types))
        copies = np.minimum(self._most[room.index], np.asarray(most, dtype=np.int64)).tolist()
        stages, seed = None if saw is None else saw.stages, below(self._rng, 1 << 31)
        tries = 0 if saw is None or len(room.free) == 1 else DEFECT_TRIES
        return sawn_patterns(room, item_types, values, copies, stages, tries, seed)

    def some(self, patterns: Sequence[Pattern], count: int) -> list[Pattern]:
        """Return so many of the patterns at random, or all."""
        left = list(patterns)
        return [left.pop(below(self._rng, len(left))) for _ in range(min(count, len(left)))]

    def _wanted(self, kept: Whole, wanted_values: NDArray[np.float64], copies: Whole) -> Wanted:
        """Return the item types kept, with their values and how many there may be of each."""
        item_types, values = (
            np.ascontiguousarray(self._arrays.item_types[kept]),
            wanted_values[kept],
        )
        by_value = np.argsort(-values / (item_types[:, 0] * item_types[:, 1]), kind="stable")
        return Wanted(item_types, values, copies[kept], by_value)

    def _climbed(
        self,
        room: Room,
        kept: Whole,
        wanted: Wanted,
        starts: Sequence[Pattern],
        climbs: int,
        steps: int,
        budget: Budget,
    ) -> Iterator[Pattern]:
        """Yield the best pattern of each climb, of the item types kept."""
        place = {int(item_type): at for at, item_type in enumerate(kept)}
        longest = int(wanted.most.sum())
        now, filled = not_begun(longest, kept.size), unfilled(longest)
        for number in range(climbs):
            now.numbers[RULE] = below(self._rng, rules_of(self._arrays.stages))
            if number < len(starts):
                begun = [
                    place[spot.item_type]
                    for spot in starts[number].spots
                    if spot.item_type in place
                ]
            else:
                begun = self._random_sequence(wanted.most)
            begin(now, begun[:longest])
            if not self._climb(room, wanted, now, filled, steps, budget):
                return
            rows = now.best[: now.numbers[PLACED]].copy()
            if len(rows):
                rows[:, 0] = kept[rows[:, 0]]
                yield pattern_from(room.index, rows)

    def _climb(
        self, room: Room, wanted: Wanted, now: Climb, filled: Filled, steps: int, budget: Budget
    ) -> bool:
        """Do all steps of a climb; return whether the budget allowed them."""
        sheet, stages = self._arrays.sheet(room.index), self._arrays.stages
        at_once = max(1, CHUNK // len(now.sequence))
        for first in range(0, steps, at_once):
            if budget.over:
                return False
            some = Steps(first, min(steps, first + at_once), steps)
            budget.spend(int(climb(sheet, wanted, stages, some, self._rng, now, filled)))
        return True

    def _random_sequence(self, copies: Whole) -> list[int]:
        """Return item types in random order, each as often as chance will have it."""
        left, item_types = list(range(copies.size)), []
        while left:
            item_type = left.pop(below(self._rng, len(left)))
            item_types += [item_type] * below(self._rng, int(copies[item_type]) + 1)
        return item_types
