"""What is short when the sheets on hand do not hold all pieces, and what would do."""

from dataclasses import replace

from nesting.draft import Draft
from nesting.errors import LimitedStock, NotEnoughStock, ShortageProof, ShortPiece
from nesting.instance import Instance
from nesting.meter import WorkMeter
from nesting.offers import Order
from nesting.pool import Pool
from nesting.problem import Problem, Room
from nesting.proposals import ByRecipe, Recipe
from nesting.rectpack_start import Axis, Rule
from nesting.sheet_by_sheet import complete
from nesting.values import first_values


def shortage(
    instance: Instance, problem: Problem, draft: Draft, proof: ShortageProof
) -> NotEnoughStock:
    """Return the error that tells which pieces the draft left over and what would hold them."""
    short = tuple(
        ShortPiece(piece=instance.pieces[kind].id, quantity=count)
        for kind, count in sorted(draft.short.items())
    )
    stocks = tuple(
        LimitedStock(
            stock=instance.stocks[room.index].id,
            on_hand=room.on_hand,
            more_needed=_more_needed(problem, room, draft.short),
        )
        for room in problem.rooms
        if room.on_hand is not None
    )
    return NotEnoughStock(short=short, stocks=stocks, proof=proof)


def _more_needed(problem: Problem, room: Room, short: dict[int, int]) -> int | None:
    """Return a number of further sheets that holds the short pieces; None if no number does."""
    if not all(problem.kinds[kind].fits(room) for kind in short):
        return None
    endless = replace(room, on_hand=None)
    rooms = tuple(endless if other is room else other for other in problem.rooms)
    unlimited = Problem(problem.kinds, problem.demand, rooms)
    recipe = Recipe(Rule.MAX_SHORT_SIDE, Axis.LENGTH, Order.AREA)
    source = ByRecipe(unlimited, recipe, Pool(unlimited), WorkMeter(0))
    values = first_values(unlimited)
    return complete(unlimited, Draft(), short, ((endless,),), values, source).sheets
