"""High repetition: find the best filling for what is left, run it as often as that allows, go on.

The number of steps is the number of layouts, not of sheets, so that more rooms of the same kinds
cost no more work. How pieces get the values that decide which filling is best: `values`.
"""

from collections.abc import Sequence
from typing import TypeAlias

from nesting.draft import Draft
from nesting.filling import Filling
from nesting.problem import Problem, Room
from nesting.proposals import Proposals

Tiers: TypeAlias = tuple[tuple[Room, ...], ...]
"""Rooms to choose from: a later tier serves only where nothing left fits an earlier one."""


def complete(
    problem: Problem,
    draft: Draft,
    demand: dict[int, int],
    tiers: Tiers,
    values: Sequence[float],
    proposals: Proposals,
) -> Draft:
    """Return the draft with the demand added; what the sheets on hand do not hold is short."""
    built = draft.copy()
    residual = dict(demand)
    left = _sheets_left(problem, built)
    while residual:
        filling = _best_filling(tiers, left, residual, values, proposals)
        if filling is None:
            break
        runs = min(left[filling.room], *(residual[kind] // n for kind, n in filling.counts))
        left[filling.room] -= runs
        built.add(filling, runs)
        for kind, count in filling.counts:
            residual[kind] -= count * runs
            if not residual[kind]:
                del residual[kind]
    built.short = residual
    return built


def _best_filling(
    tiers: Tiers,
    left: dict[int, int],
    residual: dict[int, int],
    values: Sequence[float],
    proposals: Proposals,
) -> Filling | None:
    """Return the filling with the most value for its sheet's price, the first of equals."""
    for tier in tiers:
        best: Filling | None = None
        most = 0.0
        for room in tier:
            if not left[room.index]:
                continue
            for filling in proposals.fillings(room, residual):
                worth = filling.value(values) / room.weight
                if worth > most:
                    best, most = filling, worth
        if best is not None:
            return best
    return None


def _sheets_left(problem: Problem, draft: Draft) -> dict[int, int]:
    """Return the sheets left of each room; where there is no limit, as many as there are pieces."""
    used = draft.sheets_by_room()
    enough = sum(problem.demand)
    return {
        room.index: enough if room.on_hand is None else room.on_hand - used.get(room.index, 0)
        for room in problem.rooms
    }
