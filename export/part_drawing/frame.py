"""How much room a view takes at a scale, and the largest scale at which all views have room."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from export.dimensions.content import CAPITAL_MM, text_size
from export.dimensions.overall import beyond_mm, overall_reach_mm
from export.dimensions.running import Side, Station, reach_mm, sticks_out_mm
from export.part_drawing.plan import TITLES, ViewPlan
from export.part_drawing.stations import by_side

TITLE_MM = CAPITAL_MM + 2.5
_LEAST_MM = 5.0  # round a view at a side where nothing is written
_BETWEEN_MM = 4.0  # views
_OVERALL = (Side.BELOW, Side.LEFT)  # length, width


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """A view at a scale: what is written at which side, and how far it reaches there. `written` are
    the overall sizes that have a line of their own.
    """

    plan: ViewPlan
    scale: float
    sides: dict[Side, tuple[Station, ...]]
    written: dict[Side, str]
    reach: dict[Side, float]

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height on the page, the title above included."""
        panel, reach = self.plan.seen.panel, self.reach
        wide = reach[Side.LEFT] + panel.length_mm / self.scale + reach[Side.RIGHT]
        high = reach[Side.BELOW] + panel.width_mm / self.scale + reach[Side.ABOVE] + TITLE_MM
        titled = reach[Side.LEFT] + text_size(TITLES[self.plan.seen.face])[0]
        return max(wide, titled), high


@dataclass(frozen=True, slots=True)
class Placed:
    """A frame and its lower-left corner on the page."""

    frame: Frame
    x: float
    y: float


def frame_at(plan: ViewPlan, scale: float, spare_mm: float = 0.0) -> Frame:
    """Return a view at 1 : scale, with so much to spare at each side."""
    panel = plan.seen.panel
    wide, high = panel.length_mm / scale, panel.width_mm / scale
    sides = by_side(plan.along, (Side.BELOW, Side.ABOVE), panel.width_mm, wide)
    sides |= by_side(plan.across, (Side.LEFT, Side.RIGHT), panel.length_mm, high)
    written: dict[Side, str] = {}
    for side, text, room in zip(_OVERALL, plan.overall or (), (wide, high), strict=False):
        if sticks_out_mm(sides[side], room):
            sides[side] = (*sides[side], _last(plan, side, text))
        else:
            written[side] = text
    over = {
        side: sticks_out_mm(listed, wide if side.along == 0 else high)
        for side, listed in sides.items()
    }
    reach = {side: max(reach_mm(listed) + 1.0, _LEAST_MM) for side, listed in sides.items()}
    for side in written:
        reach[side] = overall_reach_mm(reach_mm(sides[side])) + 1.0
    ends = {
        Side.RIGHT: max(beyond_mm(written.get(Side.BELOW, ""), wide), *_of_axis(over, 0)),
        Side.ABOVE: max(beyond_mm(written.get(Side.LEFT, ""), high), *_of_axis(over, 1)),
    }
    if plan.seen.corner[1]:  # measured downwards, and sticking out at that end
        ends[Side.BELOW] = ends.pop(Side.ABOVE)
    for side, more in ends.items():
        reach[side] = max(reach[side], more + 1.0)
    reach = {side: far + spare_mm for side, far in reach.items()}
    return Frame(plan=plan, scale=scale, sides=sides, written=written, reach=reach)


def _of_axis(over: dict[Side, float], axis: int) -> list[float]:
    return [more for side, more in over.items() if side.along == axis]


def _last(plan: ViewPlan, side: Side, text: str) -> Station:
    """Return an overall size as the last of the distances at a side, where these need its room."""
    panel = plan.seen.panel
    if side is Side.BELOW:
        return Station(panel.length_mm, text, ((panel.length_mm, 0.0),), 0)
    return Station(panel.width_mm, text, ((0.0, panel.width_mm),), 1)


def largest(
    plans: Sequence[ViewPlan],
    scales: Sequence[float],
    room_mm: tuple[float, float],
    spare_mm: float,
) -> tuple[tuple[Placed, ...], tuple[float, float]]:
    """Return the views at the first of the scales, 1 to each, at which they have room, one above
    the other or side by side, and the size of their picture, with so much to spare round each view.
    What is too large for any scale has the last.
    """
    for scale in scales:
        frames = [frame_at(plan, scale, spare_mm) for plan in plans]
        for arranged in (_stacked(frames), _side_by_side(frames)):
            wide, high = arranged[1]
            if wide <= room_mm[0] and high <= room_mm[1]:
                return arranged
    return arranged


def _stacked(frames: Sequence[Frame]) -> tuple[tuple[Placed, ...], tuple[float, float]]:
    sizes = [frame.size_mm for frame in frames]
    left = max(frame.reach[Side.LEFT] for frame in frames)
    placed, y = [], 0.0
    for frame, (_, high) in reversed(list(zip(frames, sizes, strict=True))):
        placed.append(Placed(frame, left - frame.reach[Side.LEFT], y))
        y += high + _BETWEEN_MM
    wide = max(each.x + each.frame.size_mm[0] for each in placed)
    return tuple(reversed(placed)), (wide, y - _BETWEEN_MM)


def _side_by_side(frames: Sequence[Frame]) -> tuple[tuple[Placed, ...], tuple[float, float]]:
    low = max(frame.reach[Side.BELOW] for frame in frames)
    placed, x = [], 0.0
    for frame in frames:
        placed.append(Placed(frame, x, low - frame.reach[Side.BELOW]))
        x += frame.size_mm[0] + _BETWEEN_MM
    high = max(each.y + each.frame.size_mm[1] for each in placed)
    return tuple(placed), (x - _BETWEEN_MM, high)
