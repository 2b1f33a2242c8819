"""The part of a picture that is shown, and lines cut off at its rim."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from parametric.geometry.outline import Bounds
from parametric.pictures.camera import PicturePoint
from parametric.pictures.sight import SHORT_MM, Line


def around(points: Iterable[PicturePoint], share: float, least_mm: float = 0.0) -> Bounds:
    """Return the bounds of the points, wider all round by a share of the longer side, and so that
    this is as long as `least_mm`.
    """
    listed = list(points)
    xs, ys = [x for x, _ in listed], [y for _, y in listed]
    longer = max(max(xs) - min(xs), max(ys) - min(ys))
    more = max(share * longer, (least_mm - longer) / 2)
    return Bounds(min(xs) - more, min(ys) - more, max(xs) + more, max(ys) + more)


def cut_off(lines: Iterable[Line], frame: Bounds, least_mm: float = SHORT_MM) -> Iterator[Line]:
    """Yield what of the lines lies in the frame (Liang and Barsky's way), if it is long enough."""
    for (x, y), (x_end, y_end) in lines:
        run, rise = x_end - x, y_end - y
        low, high = 0.0, 1.0
        inside = (
            frame.x0 <= x <= frame.x1
            and frame.x0 <= x_end <= frame.x1
            and frame.y0 <= y <= frame.y1
            and frame.y0 <= y_end <= frame.y1
        )
        if not inside:
            for way, room in (
                (-run, x - frame.x0),
                (run, frame.x1 - x),
                (-rise, y - frame.y0),
                (rise, frame.y1 - y),
            ):
                if way < 0:
                    low = max(low, room / way)
                elif way > 0:
                    high = min(high, room / way)
                elif room < 0:
                    low = 2.0
        if low < high and (high - low) * max(abs(run), abs(rise)) >= least_mm:
            yield (x + low * run, y + low * rise), (x + high * run, y + high * rise)
