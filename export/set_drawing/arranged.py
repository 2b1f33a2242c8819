"""Views on a page, at one scale, in the way in which they are drawn largest."""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import Enum
from functools import partial

from export.dimensions.reading import drawn_length, taped_length
from export.dimensions.scales import scales_of
from export.set_drawing.content import SetView
from export.set_drawing.measured import Measured, measured
from export.set_drawing.sized import frame_at, sized
from parametric.stock.lengths import Units

GAP_MM, CAPTION_MM = 6.0, 7.0
"""Between views side by side; what each has below it."""

Room = tuple[float, float]
"""Width and height on the page."""


class Way(Enum):
    """How views stand to each other."""

    BESIDE = "side by side"
    BELOW = "one below the other"


def arranged(
    views: Sequence[SetView], units: Units, ways: Sequence[tuple[Way, Room]]
) -> tuple[int, tuple[Measured, ...]]:
    """Return which of the ways, each with its room, allows the largest scale, the first of those
    that do, and the views drawn so. What is too large for any way has the smallest scale.

    Places from the corner of a room are measured with a tape; sections tell what is cut.
    """
    listed = [
        sized(view, partial(taped_length if view.from_corner else drawn_length, units=units))
        for view in views
    ]
    scales = scales_of(units)
    for scale in scales:
        sizes = [frame_at(view, scale).size_mm for view in listed]
        for at, (way, room) in enumerate(ways):
            if _fits(sizes, way, room):
                return at, tuple(measured(view, scale) for view in listed)
    return 0, tuple(measured(view, scales[-1]) for view in listed)


def _fits(sizes: Sequence[Room], way: Way, room: Room) -> bool:
    wide, high = [size[0] for size in sizes], [size[1] + CAPTION_MM for size in sizes]
    if way is Way.BESIDE:
        across = math.fsum(wide) + GAP_MM * (len(sizes) - 1)
        return across <= room[0] and max(high, default=0.0) <= room[1]
    return max(wide, default=0.0) <= room[0] and math.fsum(high) <= room[1]
