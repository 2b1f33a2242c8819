"""What lies upside down and is turned over, and the floor that this takes.

Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

from parametric.geometry.space import Axis
from parametric.joints.assembly import Assembly


def turning_floor_mm(assembly: Assembly, parts: Sequence[str]) -> tuple[float, float]:
    """Return the sides of the floor on which parts are turned over together on their long edge: as
    long as they are, and twice as wide, since they lie on one side of that edge and then on the
    other.
    """
    boxes = [assembly.part(name).box for name in parts]
    short, long = sorted(
        max(box.high[axis] for box in boxes) - min(box.low[axis] for box in boxes)
        for axis in (Axis.X, Axis.Y)
    )
    return long, 2 * short
