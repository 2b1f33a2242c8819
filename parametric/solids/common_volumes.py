"""What space any two solids share."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import fsum

import cadquery as cq

from parametric.solids.kernel_errors import kernel_operation

TOUCH_MM = 1e-4  # boxes that overlap by less only touch


def common_volumes(
    solids: tuple[tuple[str, cq.Solid], ...],
) -> Iterator[tuple[tuple[str, str], float]]:
    """Yield the common volume of every pair of solids whose bounding boxes overlap."""
    boxes = {name: solid.BoundingBox() for name, solid in solids}
    for (first, a), (second, b) in combinations(solids, 2):
        if boxes_overlap(boxes[first], boxes[second]):
            with kernel_operation(first, f"intersecting with {second}"):
                common = a.intersect(b)
                yield (first, second), fsum(solid.Volume() for solid in common.Solids())


def boxes_overlap(a: cq.BoundBox, b: cq.BoundBox) -> bool:
    """Return whether two bounding boxes share more than a touch."""
    return (
        min(a.xmax, b.xmax) - max(a.xmin, b.xmin) > TOUCH_MM
        and min(a.ymax, b.ymax) - max(a.ymin, b.ymin) > TOUCH_MM
        and min(a.zmax, b.zmax) - max(a.zmin, b.zmin) > TOUCH_MM
    )
