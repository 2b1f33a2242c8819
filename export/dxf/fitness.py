"""What a drawing must not hold if a machine is to cut it."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Hashable, Iterable, Iterator

from export.drawing.primitives import Circle, ClosedPath, Drawing, Label
from export.errors import UnfitDrawing
from export.layer_table import LayerTable
from parametric.geometry.space import SAME_MM

# Controllers refuse shorter moves or halt on them: common practice, no source. The ends of an arc
# may come no closer either, or its centre would follow from noise.
SHORTEST_SEGMENT_MM = 0.01

_DECIMALS = 6  # of a millimetre: places that agree so far are one place (SAME_MM)


def require_fit(drawing: Drawing, layers: LayerTable) -> None:
    """Return nothing if the drawing can be cut.

    Raises:
        UnfitDrawing: it holds segments too short to cut, paths without area, holes without
            diameter, texts of no or several lines, the same thing twice, numbers that are not
            finite, or a layer the table does not have.
    """
    faults = [
        *_unknown_layers(drawing, layers),
        *(fault for path in drawing.paths for fault in _path_faults(path)),
        *(fault for circle in drawing.circles for fault in _circle_faults(circle)),
        *(fault for label in drawing.labels for fault in _label_faults(label)),
        *_twice(_path_key(path) for path in drawing.paths),
        *_twice(_circle_key(circle) for circle in drawing.circles),
    ]
    if faults:
        raise UnfitDrawing(tuple(faults))


def _unknown_layers(drawing: Drawing, layers: LayerTable) -> Iterator[str]:
    known = layers.by_name()
    for name in sorted(drawing.used_layers() - known.keys()):
        yield f"layer {name} is not in the layer table"


def _path_faults(path: ClosedPath) -> Iterator[str]:
    if not all(math.isfinite(number) for vertex in path.vertices for number in vertex):
        yield f"layer {path.layer}: a path has a coordinate that is no number"
        return
    for a, b in path.outline.segments():
        if math.dist((a.x, a.y), (b.x, b.y)) < SHORTEST_SEGMENT_MM - SAME_MM:
            yield (
                f"layer {path.layer}: a segment shorter than {SHORTEST_SEGMENT_MM} mm"
                f" at {_at(a.x, a.y)}"
            )
            return
    if abs(path.outline.signed_area_mm2) <= SAME_MM:
        yield f"layer {path.layer}: a path round no area at {_at(*path.vertices[0][:2])}"


def _circle_faults(circle: Circle) -> Iterator[str]:
    if not all(map(math.isfinite, (circle.x, circle.y, circle.diameter_mm))):
        yield f"layer {circle.layer}: a hole has a coordinate that is no number"
    elif circle.diameter_mm <= SAME_MM:
        yield f"layer {circle.layer}: a hole of no diameter at {_at(circle.x, circle.y)}"


def _label_faults(label: Label) -> Iterator[str]:
    # A line break would end the entry in the file and garble all that follows.
    if not label.text.strip() or not label.text.isprintable():
        yield f"layer {label.layer}: {label.text!r} is no text of one line"
    if not all(map(math.isfinite, (label.x, label.y, label.angle_deg))) or label.height_mm <= 0:
        yield f"layer {label.layer}: text {label.text!r} has no place or no height"


def _twice(keys: Iterable[tuple[str, float, float, Hashable]]) -> Iterator[str]:
    for (layer, x, y, _), times in Counter(keys).items():
        if times > 1:
            yield f"layer {layer}: the same thing {times} times at {_at(x, y)}"


def _path_key(path: ClosedPath) -> tuple[str, float, float, Hashable]:
    points = tuple((round(v.x, _DECIMALS), round(v.y, _DECIMALS)) for v in path.vertices)
    # Sorted, so that a path run the other way or from another start is the same thing.
    area = round(abs(path.outline.signed_area_mm2), 3)
    return path.layer, *min(points), (area, tuple(sorted(points)))


def _circle_key(circle: Circle) -> tuple[str, float, float, Hashable]:
    # Two holes of different diameters round one centre on one layer would be drilled twice too.
    return circle.layer, round(circle.x, _DECIMALS), round(circle.y, _DECIMALS), None


def _at(x: float, y: float) -> str:
    return f"({x:.3f}, {y:.3f})"
