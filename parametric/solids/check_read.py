"""Holding a panel that was read against its solid: what is extruded again must be the solid."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import cadquery as cq
from OCP.BRepGProp import BRepGProp
from OCP.GProp import GProp_GProps

from parametric.geometry.space import Point
from parametric.shapes.laid_panel import LaidPanel
from parametric.solids.kernel_errors import NotFlat
from parametric.solids.panel_solid import panel_solid
from parametric.solids.read_cones import Tip

SAME_VOLUME_MM3 = 0.05
SAME_PLACE_MM = 1e-3
SHARE_OF_ERROR = 1e-7  # of the volume behind a free-form face, when it is added up
_FORMULAS = ("PLANE", "CYLINDER", "CONE")


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowed:
    """In what a solid may differ from the panel: by the tips of its bores, which are left to the
    drill, and by so much volume.
    """

    tips: Sequence[Tip] = ()
    volume_mm3: float = 0.0


EXACT = Allowed()


def check_rebuilt(name: str, solid: cq.Solid, laid: LaidPanel, allowed: Allowed = EXACT) -> None:
    """Compare the solid with what was read from it.

    Raises:
        NotFlat: volume or centre of mass differ.
    """
    rebuilt = panel_solid(name, laid.panel)
    read_mm3, read_centre = rebuilt.Volume(), laid.pose.to_room(Point(*rebuilt.Center().toTuple()))
    solid_mm3, solid_centre = mass_of(solid)
    left = math.fsum(tip.volume_mm3 for tip in allowed.tips)
    volume = read_mm3 - left - solid_mm3
    if abs(volume) > SAME_VOLUME_MM3 + allowed.volume_mm3:
        raise NotFlat(name, f"what was read differs from the solid by {volume:.2f} mm3")
    centre = tuple(
        (read_mm3 * read - math.fsum(tip.volume_mm3 * tip.centre[axis] for tip in allowed.tips))
        / (read_mm3 - left)
        for axis, read in enumerate(read_centre)
    )
    across = math.hypot(laid.panel.length_mm, laid.panel.width_mm)
    if math.dist(centre, solid_centre) > SAME_PLACE_MM + across * allowed.volume_mm3 / solid_mm3:
        raise NotFlat(name, "what was read has its mass elsewhere than the solid")


def mass_of(solid: cq.Solid) -> tuple[float, tuple[float, ...]]:
    """Return volume and centre of mass; the kernel must be told to be careful with free forms."""
    if all(face.geomType() in _FORMULAS for face in solid.Faces()):
        return solid.Volume(), solid.Center().toTuple()
    found = GProp_GProps()
    BRepGProp.VolumeProperties_s(solid.wrapped, found, SHARE_OF_ERROR, False, False)
    centre = found.CentreOfMass()
    return found.Mass(), (centre.X(), centre.Y(), centre.Z())
