"""Where placed pieces lie on a sheet, as cut files and maps measure it."""

from __future__ import annotations

from collections.abc import Iterable

from nesting.answer.nest_answer import turned_size
from nesting.answer.solution import Placement
from nesting.question.instance import Instance
from nesting.question.ticks import to_mm
from parametric.geometry.outline import Bounds


def placed_boxes(instance: Instance, placements: Iterable[Placement]) -> tuple[Bounds, ...]:
    """Return the rectangles of placements in the sheet's frame, millimetres.

    Raises:
        KeyError: a placement names a piece that the question does not have.
    """
    boxes = []
    for placed in placements:
        length, width = turned_size(instance.piece_of[placed.piece], placed)
        x, y = placed.x, placed.y
        boxes.append(Bounds(to_mm(x), to_mm(y), to_mm(x + length), to_mm(y + width)))
    return tuple(boxes)
