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
from parametric.stock.amounts import MM3, Amount, Words

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
    if not worst:
        most = max(overlaps.values(), default=0.0)
        return (_finding(where, "no parts interfere", most),)
    return tuple(
        _finding(
            f"{where}: {first} and {second}", ("both take the same ", Amount(volume, MM3)), volume
        )
        for (first, second), volume in worst
    )


def _finding(where: str, says: Words, volume_mm3: float) -> Finding:
    return at_most(
        code="overlap",
        where=where,
        what="",
        says=says,
        measured=volume_mm3,
        fail_above=OVERLAP_MM3,
        unit=MM3,
        source="two solids cannot be in one place",
        advice="change the sizes that bring the two together",
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
