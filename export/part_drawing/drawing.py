"""The drawing of a part: its views as large as they have room, and its tables."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass

from export.dimensions.free_space import FreeSpace
from export.dimensions.scales import scales_of
from export.part_drawing.callouts import NoRoom
from export.part_drawing.content import Grid, PartDrawing, View
from export.part_drawing.frame import largest
from export.part_drawing.lettered import lettered_cuts, lettered_holes
from export.part_drawing.plan import ViewPlan, view_plans
from export.part_drawing.tables import cuts, edge_holes, facts, holes
from export.part_drawing.view import drawn_view
from parametric.geometry.outline import Bounds
from parametric.lists.cut_list import Part
from parametric.stock.lengths import Units
from parametric.stock.materials import Grain

Room = tuple[float, float]
"""Width and height on the page."""

_TRIED = (
    (1.0, (0.0, 8.0, 16.0, 32.0)),
    *((times, (0.0, 16.0)) for times in (1.5, 2.0, 3.0, 5.0, 8.0)),
)
"""Paper so many times as large, and what is to spare round the views, tried in turn."""

Rooms = Callable[[tuple[Grid, ...]], tuple[Room, ...]]
"""What room a page has for the views, in each way that it can be laid out with these tables."""


def part_drawing(
    part: Part, units: Units, rooms: Rooms, pieces: tuple[str, ...] = ()
) -> PartDrawing:
    """Return the drawing of a part, in the first of the rooms in which it is largest; `pieces` are
    the numbers of those that the shop joins it into.

    Raises:
        ValueError: no room is large enough for what must be told.
    """
    panel = part.panel
    listed_holes, listed_cuts = lettered_holes(panel), lettered_cuts(panel)
    tables = (
        facts(part, pieces, units),
        cuts(listed_cuts, units),
        holes(listed_holes, units),
        edge_holes(panel.edge_bores, units),
    )
    bands = tuple(each.edge for each in part.banding)
    plans = view_plans(panel, listed_cuts, listed_holes, bands, units)
    grained = part.material.grain is Grain.LENGTHWISE
    drawn = _drawn(plans, scales_of(units), rooms(tables), grained=grained)
    return PartDrawing(
        number=part.number,
        title=part.description,
        room=drawn.room,
        scale=drawn.scale,
        size_mm=drawn.size_mm,
        times=drawn.times,
        views=drawn.views,
        facts=tables[0],
        cuts=tables[1],
        holes=tables[2],
        edge_holes=tables[3],
    )


@dataclass(frozen=True, slots=True)
class _Drawn:
    """Views, their scale and the size of their picture, the room that they are for, and how many
    times as large the paper must be.
    """

    views: tuple[View, ...]
    scale: float
    size_mm: Room
    room: int
    times: float


def _drawn(
    plans: Sequence[ViewPlan], scales: Sequence[float], rooms: Sequence[Room], *, grained: bool
) -> _Drawn:
    """Return the views in the room where they are largest. If some text finds no place there is
    more to spare round them; a part with too much to tell is drawn for larger paper.
    """
    for times, spares in _TRIED:
        larger = [(wide * times, high * times) for wide, high in rooms]
        for spare_mm in spares:
            fitting = [largest(plans, scales, room, spare_mm) for room in larger]
            room = min(range(len(fitting)), key=lambda each: fitting[each][0][0].frame.scale)
            placed, size = fitting[room]
            space = FreeSpace(Bounds(0.0, 0.0, *size))
            with suppress(NoRoom):
                views = tuple(drawn_view(each, space, grained=grained) for each in placed)
                return _Drawn(views, placed[0].frame.scale, size, room, times)
    raise ValueError("the page has no room for what must be told")
