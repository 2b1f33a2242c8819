"""Whether any two solids of a set take the same space."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import fsum

import cadquery as cq

from parametric.findings.finding import Finding
from parametric.findings.measure import at_most
from parametric.solids.kernel_errors import kernel_operation
from parametric.solids.set_model import SetModel

OVERLAP_MM3 = 1.0
TOUCH_MM = 1e-4  # boxes that overlap by less only touch


def overlap_findings(model: SetModel) -> tuple[Finding, ...]:
    """Return a failed finding for each pair of solids that overlap; one that is well if none do.

    Raises:
        KernelFailure: the kernel cannot intersect two of them.
    """
    room_set = model.room_set
    where = f"{room_set.name}, {room_set.hand} hand"
    overlaps = dict(common_volumes(model.installed))
    worst = [(pair, volume) for pair, volume in overlaps.items() if volume > OVERLAP_MM3]
    listed = worst or [(("any part", "another"), max(overlaps.values(), default=0.0))]
    return tuple(
        at_most(
            code="overlap",
            where=f"{where}: {first} and {second}",
            what=f"common space of {first} and {second}",
            measured=volume,
            fail_above=OVERLAP_MM3,
            unit="mm3",
            source="two solids cannot be in one place",
            advice="change the sizes that bring the two together",
        )
        for (first, second), volume in listed
    )


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
