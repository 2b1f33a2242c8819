"""Which distances a view of a part tells, and at which of its sides."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from export.dimensions.content import CAPITAL_MM
from export.dimensions.reading import drawn_length
from export.dimensions.running import APART_MM, RIM_MM, Side, Station
from export.part_drawing.seen import Seen
from export.svg.elements import Point2
from parametric.geometry.space import SAME_MM
from parametric.stock.lengths import Units

_Told = Callable[[float], float]


def stations(
    seen: Seen, places: Iterable[Point2], units: Units
) -> tuple[tuple[Station, ...], tuple[Station, ...]]:
    """Return the distances along the length and those across that tell the places, each once. What
    lies at the corner's own sides or at the opposite ones is told by these.
    """
    listed = list(places)
    panel = seen.panel
    along = _of_axis(listed, 0, panel.length_mm, lambda x: x, units)
    return along, _of_axis(listed, 1, panel.width_mm, seen.across, units)


def _of_axis(
    places: Sequence[Point2], axis: int, most_mm: float, told: _Told, units: Units
) -> tuple[Station, ...]:
    groups: list[list[Point2]] = []
    for place in sorted(places, key=lambda at: at[axis]):
        if min(abs(place[axis]), abs(place[axis] - most_mm)) <= SAME_MM:
            continue
        if groups and place[axis] - groups[-1][0][axis] <= SAME_MM:
            groups[-1].append(place)
        else:
            groups.append([place])
    return tuple(
        Station(value, drawn_length(value, units), tuple(group), axis)
        for group in groups
        for value in (told(group[0][axis]),)
    )


def by_side(
    listed: Sequence[Station], sides: tuple[Side, Side], size_mm: float, room_mm: float
) -> dict[Side, tuple[Station, ...]]:
    """Return at which side each distance is written: at the nearer one, the first if both are, as
    long as it has room. `size_mm` is the part's size square to the sides, `room_mm` that of
    the view along them on the page.
    """
    most = max(1, int((room_mm - CAPITAL_MM - 2 * RIM_MM) / APART_MM) + 1)
    first, second = sides

    def lean(station: Station) -> float:
        axis = 1 - station.along
        to_first = station.nearest(first)[axis]
        to_second = size_mm - station.nearest(second)[axis]
        return round(to_first - to_second, 6)

    ordered = sorted(listed, key=lambda each: (lean(each), each.value_mm))
    wish = sum(1 for each in ordered if lean(each) <= 0.0)
    # What does not fit at one side goes to the other, which it is the least farther from.
    many = max(min(wish, most), len(ordered) - most)
    axis = first.along

    def placed(stations: Iterable[Station]) -> tuple[Station, ...]:
        return tuple(sorted(stations, key=lambda each: each.points[0][axis]))

    return {first: placed(ordered[:many]), second: placed(ordered[many:])}
