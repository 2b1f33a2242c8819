"""Comparing solids by the volume of their difference. See `test_solid_assertions`."""

import cadquery as cq

from parametric.geometry.pose import Pose
from parametric.solids.kernel_pose import location

# The kernel's booleans fail on faces that coincide but for float noise unless told what noise is.
NOISE_MM = 1e-5


def difference_mm3(a: cq.Shape, b: cq.Shape) -> float:
    """Volume that only one of the two solids takes."""
    return sum(
        solid.Volume()
        for one, other in ((a, b), (b, a))
        for solid in one.cut(other, tol=NOISE_MM).Solids()
    )


def placed(solid: cq.Shape, pose: Pose) -> cq.Shape:
    """The solid, given in a panel frame, where the frame lies."""
    return solid.moved(location(pose))


def mirrored(solid: cq.Shape) -> cq.Shape:
    """The mirror image across the plane x = 0."""
    return solid.mirror("YZ")
