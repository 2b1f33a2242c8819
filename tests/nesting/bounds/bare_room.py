"""A room without defects, for bounds of one sheet."""

from nesting.question.maximal_rectangles import Rectangle
from nesting.question.problem import Room


def room(length: int, width: int) -> Room:
    """Return an unlimited room of price 1 that is free all over (ticks)."""
    free = (Rectangle(0, 0, length, width),)
    return Room(index=0, length=length, width=width, price=1.0, cost=1, on_hand=None, free=free)
