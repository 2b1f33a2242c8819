"""In which preference the stock is used: all sizes together, or one size first."""

from nesting.problem import Problem, Room
from nesting.sheet_by_sheet import Tiers


def stock_plans(problem: Problem) -> tuple[Tiers, ...]:
    """Return the plans: all stock in one tier, then each stock before all others.

    Stock of which nothing is on hand is left out.
    """
    rooms = tuple(room for room in problem.rooms if room.on_hand != 0)
    if len(rooms) < 2:
        return ((rooms,),)
    return ((rooms,), *(_first(room, rooms) for room in rooms))


def _first(room: Room, rooms: tuple[Room, ...]) -> Tiers:
    return (room,), tuple(other for other in rooms if other is not room)
