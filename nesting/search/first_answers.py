"""First answers: sheet after sheet filled from sorted lists, each rule and order in turn.

rectpack packs first; what follows must beat it.
"""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice, product

import numpy as np

from nesting.kernels.fill_sheet import fill, rules_of
from nesting.kernels.sheet import unfilled
from nesting.kernels.sheets import Arrays
from nesting.question.errors import StoppedTooEarly
from nesting.question.maximal_rectangles import Rectangle
from nesting.question.problem import ItemType, Problem, Room
from nesting.search.arrays import pattern_from
from nesting.search.budget import Budget
from nesting.search.draft import Draft, rank
from nesting.search.pattern import Pattern, pattern_of
from nesting.search.rectpack_start import Axis, Rule, Surface

LONGEST_LIST = 4_000
"""Most pieces offered to one sheet."""

REFRESHED = 32
"""Sheets after which the list of what is left is made anew."""

Stop = Callable[[], bool]

FIRST_ITEM_TYPES, OTHER_ITEM_TYPES = 250, 150
"""Most item types offered to one sheet: the first in the order, and others spread over the rest."""

MOST_FIRST = 10
"""Most rooms of which each has its turn to come first."""

ORDERS: tuple[Callable[[ItemType], int], ...] = (
    lambda item_type: -item_type.area,
    lambda item_type: -max(item_type.length, item_type.width),
    lambda item_type: -item_type.width,
    lambda item_type: -item_type.length,
    lambda item_type: -(item_type.length + item_type.width),
)


def first_answer(
    problem: Problem, arrays: Arrays, demand: Mapping[int, int], budget: Budget, goal: int
) -> Draft:
    """Return the best draft of all recipes that the budget allows; each plan is tried once.

    `goal` is a price that nothing can beat.

    Raises:
        StoppedTooEarly: the watcher stopped the nest before there was any draft.
    """
    best: Draft | None = None
    plans = len(stock_plans(problem))
    try:
        for number, draft in enumerate(
            _answers(problem, arrays, demand, budget, budget.watcher.cancelled), start=1
        ):
            if best is None or rank(problem, draft) < rank(problem, best):
                best = draft
            found = rank(problem, best)
            met = not found.short_area and found.price <= goal
            if met or (number >= plans and budget.over):
                break
    except StoppedTooEarly:
        if best is None:
            raise
    return best or Draft(short=dict(demand))


def by_priority(
    problem: Problem, arrays: Arrays, demand: Mapping[int, int], priorities: Sequence[int]
) -> Draft:
    """Return a draft that places the pieces of the highest priority (by item type) first."""
    rooms = stock_plans(problem)[0]
    filler = SheetBySheet(problem, arrays, demand, priorities)
    return filler.answer(Recipe(2, 0), rooms, lambda: False)


BY_RECTPACK = -1
"""The rule of the first answer: rectpack's maximal rectangles, shortest side left over."""

RECTPACK_PIECES = 5_000
"""With more pieces rectpack would take longer than all that follows."""


@dataclass(frozen=True, slots=True)
class Recipe:
    """A rule of the decoder, or `BY_RECTPACK`, and the place of an order in `ORDERS`."""

    rule: int
    order: int


def _answers(
    problem: Problem, arrays: Arrays, demand: Mapping[int, int], budget: Budget, stop: Stop
) -> Iterator[Draft]:
    filler = SheetBySheet(problem, arrays, demand)
    rules = rules_of(arrays.stages)
    recipes = [Recipe(rule, order) for order, rule in product(range(len(ORDERS)), range(rules))]
    plans = stock_plans(problem)
    tries = list(product(recipes, plans))
    if suits_rectpack(problem) and sum(demand.values()) <= RECTPACK_PIECES:
        # It is slow: one plan is enough, and the others come next.
        by_rectpack = Recipe(BY_RECTPACK, 0), plans[0]
        tries = [by_rectpack, *tries[1 : len(plans)], tries[0], *tries[len(plans) :]]
    for recipe, rooms in tries:
        yield filler.answer(recipe, rooms, stop)
        budget.spend(filler.offered)
        filler.offered = 0


def stock_plans(problem: Problem) -> list[tuple[Room, ...]]:
    """Return the orders in which rooms are tried: all by price per area, then some of them first.

    Those are the ones that cost something, behind whatever is free; or all when nothing does.
    """
    by_rate = sorted(problem.rooms, key=lambda room: (room.price / room.area, room.index))
    free = [room for room in by_rate if not room.price] if by_rate[-1].price else []
    first = [room for room in by_rate if room not in free]
    if not free:
        first = first[1:]
    plans = [
        (*free, room, *(other for other in by_rate if other is not room and other not in free))
        for room in first[:MOST_FIRST]
    ]
    return [tuple(by_rate), *(plan for plan in plans if plan != tuple(by_rate))]


class SheetBySheet:
    """Fills the rooms of a plan in turn, each as often as it may be used."""

    def __init__(
        self,
        problem: Problem,
        arrays: Arrays,
        demand: Mapping[int, int],
        priorities: Sequence[int] = (),
    ) -> None:
        """Keep the question and make the scratch; higher priorities come first in every list."""
        self.offered = 0
        self._demand = demand
        self._priorities = priorities or [0] * len(problem.item_types)
        self._sorted: dict[int, list[int]] = {}
        self._problem = problem
        self._arrays = arrays
        self._sheets = [arrays.sheet(room.index) for room in problem.rooms]
        self._filled_now = unfilled(LONGEST_LIST)
        self._order = np.zeros(LONGEST_LIST, np.int64)
        self._most_on: list[dict[int, int]] = [{} for _ in problem.rooms]

    def answer(self, recipe: Recipe, rooms: Sequence[Room], stop: Stop) -> Draft:
        """Return a draft with sheets for the demand; what found no place is short.

        Raises:
            StoppedTooEarly: `stop` came true before all pieces had a place.
        """
        result = Draft()
        left = {item_type: self._demand[item_type] for item_type in self._in_order(recipe.order)}
        for room in rooms:
            free_sheets = room.on_hand
            sheets_since = REFRESHED
            while left and free_sheets != 0:
                if stop():
                    raise StoppedTooEarly
                if sheets_since == REFRESHED:
                    # A unfilled dictionary: old ones walk past all that was taken out in front.
                    left, sheets_since = dict(left), 0
                    others = _spread(list(left))
                sheets_since += 1
                offered = dict.fromkeys([*islice(left, FIRST_ITEM_TYPES), *others])
                pattern = self._filled(room, left, offered, recipe.rule)
                if pattern is None:
                    break
                runs = min(left[item_type] // count for item_type, count in pattern.counts)
                if free_sheets is not None:
                    runs = min(runs, free_sheets)
                    free_sheets -= runs
                result.add(pattern, runs)
                for item_type, count in pattern.counts:
                    left[item_type] -= count * runs
                    if not left[item_type]:
                        del left[item_type]
        result.short = left
        return result

    def _in_order(self, order: int) -> list[int]:
        """Return the item types asked for, sorted; once for all recipes of an order."""
        if order not in self._sorted:
            key, item_types, priorities = ORDERS[order], self._problem.item_types, self._priorities
            asked = [item_type for item_type, count in self._demand.items() if count]
            self._sorted[order] = sorted(
                asked, key=lambda k: (-priorities[k], key(item_types[k]), k)
            )
        return self._sorted[order]

    def _most(self, room: Room, item_type: int) -> int:
        held = self._most_on[room.index]
        if item_type not in held:
            held[item_type] = most_on(room, self._problem.item_types[item_type])
        return held[item_type]

    def _filled(
        self, room: Room, left: Mapping[int, int], offered: Collection[int], rule: int
    ) -> Pattern | None:
        if rule == BY_RECTPACK:
            return self._by_rectpack(room, left, offered)
        order, n = self._order, 0
        for item_type in offered:
            count = left.get(item_type, 0)
            copies = min(count, self._most(room, item_type), LONGEST_LIST - n)
            if not copies:
                continue
            order[n : n + copies] = item_type
            n += copies
            if n == LONGEST_LIST:
                break
        self.offered += max(n, len(offered))  # what fits nowhere takes as long to find out
        arrays, filled = self._arrays, self._filled_now
        sheet = self._sheets[room.index]
        placed = fill(sheet, arrays.item_types, order[:n], rule, arrays.stages, np.inf, filled)
        return pattern_from(room.index, filled.placed[:placed]) if placed else None

    def _by_rectpack(
        self, room: Room, left: Mapping[int, int], offered: Iterable[int]
    ) -> Pattern | None:
        surface = Surface(Rule.MAX_SHORT_SIDE, Axis.LENGTH, room)
        free = room.area
        for index in offered:
            item_type = self._problem.item_types[index]
            for _ in range(min(left.get(index, 0), self._most(room, index))):
                if item_type.area > free or not surface.place(item_type):
                    break
                free -= item_type.area
        self.offered += len(surface.spots)
        return pattern_of(room.index, surface.spots) if surface.spots else None


def suits_rectpack(problem: Problem) -> bool:
    """Return whether rectpack knows all rules: whole sheets, no rim, no saw."""
    whole = all(room.free == (Rectangle(0, 0, room.length, room.width),) for room in problem.rooms)
    return (
        whole and problem.saw is None and not any(item_type.rim for item_type in problem.item_types)
    )


def _spread(item_types: list[int]) -> list[int]:
    """Return some of the item types behind the first ones, from all over the list."""
    others = len(item_types) - FIRST_ITEM_TYPES
    return (
        item_types[FIRST_ITEM_TYPES :: max(1, -(-others // OTHER_ITEM_TYPES))] if others > 0 else []
    )


def most_on(room: Room, item_type: ItemType) -> int:
    """Return a number of pieces of the item type that no sheet exceeds, by area; 0 if none fits."""
    return room.area // item_type.area if item_type.fits(room) else 0
