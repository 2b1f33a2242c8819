"""Better answers by asking for less: one sheet fewer, or a cheaper one, and all pieces on those."""

from collections.abc import Callable, Iterator, Mapping
from itertools import chain

from numpy import uint64
from numpy.typing import NDArray

from nesting.kernels.random_numbers import random_state
from nesting.kernels.sheets import Arrays
from nesting.question.problem import Problem
from nesting.search.budget import Budget
from nesting.search.draft import Draft, rank
from nesting.search.pattern import Pattern, Spot
from nesting.search.sheet_list import SheetList

SHEETS_AT_ONCE = 150
"""Most sheets that are searched together; of a longer list a part is searched at a time."""

TRY_SHARE = 0.2
"""Part of the budget for one target where several compete."""

IDLE_AREA = 3
"""Free sheets that come in the place of a priced one, in areas of it, at most."""

Single = tuple[int, Pattern | None]
"""One sheet: its room, and what lies on it."""


def improved(
    problem: Problem,
    arrays: Arrays,
    draft: Draft,
    goal: int,
    budget: Budget,
    seed: int,
    told: Callable[[Draft], None] | None = None,
) -> Draft:
    """Return the draft, or the best one met that is cheaper or short of less.

    `goal` is a price that nothing can beat; each better draft is `told`. The pieces of the draft,
    with those it is short of, are placed exactly once more.
    """
    rng = random_state(seed)
    best = draft
    while not budget.over:
        standing = rank(problem, best)
        cheapest = not standing.short_area and standing.price <= goal
        found = _once(problem, arrays, best, cheapest, budget, rng)
        if found is None:
            break
        if rank(problem, found) < standing:
            best = found
            if told is not None:
                told(best)
        elif cheapest:
            break
    return best


def _once(
    problem: Problem,
    arrays: Arrays,
    draft: Draft,
    cheapest: bool,
    budget: Budget,
    rng: NDArray[uint64],
) -> Draft | None:
    """Return what one round over all targets comes to; None when there is none to try.

    A draft that is the cheapest can only do without some of its free sheets.
    """
    part, rest = _parted(draft, rng)
    waiting = list(chain.from_iterable([k] * n for k, n in sorted(draft.short.items())))
    targets = list(_targets(problem, part, rest, waiting, cheapest))
    if not targets:
        return None
    found = draft
    for target, waits in targets:
        if budget.over:
            break
        whole = len(targets) == 1 and not rest and not cheapest
        search = SheetList(problem, arrays, target, waits)
        search.search(budget if whole else budget.part(TRY_SHARE), rng)
        answer = _draft_of(rest, search)
        if rank(problem, answer) < rank(problem, found):
            found = answer
            break
    return found


def _targets(
    problem: Problem,
    part: list[Single],
    rest: list[Single],
    waiting: list[int],
    cheapest: bool,
) -> Iterator[tuple[list[Single], list[int]]]:
    """Yield lists of sheets that would be better, nearest to today's price first.

    Where something is short, that is to place it; else a sheet is missing or of a cheaper room.
    In the place of a priced sheet come free ones that lie idle, up to some times its area:
    several remnants together may do what none does alone.
    """
    if waiting:
        if part:
            yield part, waiting
        return
    used: dict[int, int] = {}
    for room, _ in chain(part, rest):
        used[room] = used.get(room, 0) + 1
    emptiest = _emptiest_by_room(problem, part)
    options = []
    for room, place in emptiest.items():
        price = problem.rooms[room].price
        if cheapest and price > 0:
            continue
        options.append((price, room, place, -1))
        for other in problem.rooms:
            idle = other.on_hand is None or used.get(other.index, 0) < other.on_hand
            if idle and 0 < other.price < price:
                options.append((price - other.price, room, place, other.index))
    placed = sum(_area(problem, pattern) for _, pattern in part)
    for _, room, place, replacement in sorted(options):
        target = [*part[:place], *part[place + 1 :]]
        if replacement >= 0:
            target.append((replacement, None))
        if problem.rooms[room].price > 0:
            target += _idle_free(problem, used, problem.rooms[room].area)
        if placed <= sum(problem.rooms[room].area for room, _ in target):
            yield target, [spot.item_type for spot in _spots(part[place][1])]


def _idle_free(problem: Problem, used: Mapping[int, int], area: int) -> list[Single]:
    """Return free sheets that lie idle, the largest first, some times the area if there are."""
    idle: list[Single] = []
    left = IDLE_AREA * area
    free = [room for room in problem.rooms if room.price == 0]
    for room in sorted(free, key=lambda room: (-room.area, room.index)):
        sheets = max(0, -(-left // room.area))
        if room.on_hand is not None:
            sheets = min(sheets, room.on_hand - used.get(room.index, 0))
        idle += [(room.index, None)] * sheets
        left -= sheets * room.area
    return idle


def _emptiest_by_room(problem: Problem, part: list[Single]) -> dict[int, int]:
    """Return the place in the list of the emptiest sheet of each room."""
    emptiest: dict[int, int] = {}
    for place, (room, pattern) in enumerate(part):
        held = emptiest.get(room)
        if held is None or _area(problem, pattern) < _area(problem, part[held][1]):
            emptiest[room] = place
    return emptiest


def _parted(draft: Draft, rng: NDArray[uint64]) -> tuple[list[Single], list[Single]]:
    """Return the sheets to search now, chosen at random when there are many, and the others."""
    singles: list[Single] = [
        (pattern.room, pattern) for pattern, runs in draft for _ in range(runs)
    ]
    if len(singles) <= SHEETS_AT_ONCE:
        return singles, []
    start = int(rng[0] % uint64(len(singles)))
    rng[0] = random_state(int(rng[0]))[0]
    turned = singles[start:] + singles[:start]
    return turned[:SHEETS_AT_ONCE], turned[SHEETS_AT_ONCE:]


def _draft_of(rest: list[Single], search: SheetList) -> Draft:
    draft = Draft()
    for pattern in [*(held for _, held in rest if held), *search.patterns()]:
        draft.add(pattern, 1)
    for item_type in search.waiting():
        draft.short[item_type] = draft.short.get(item_type, 0) + 1
    return draft


def _area(problem: Problem, pattern: Pattern | None) -> int:
    return sum(problem.item_types[spot.item_type].area for spot in _spots(pattern))


def _spots(pattern: Pattern | None) -> tuple[Spot, ...]:
    return pattern.spots if pattern else ()
