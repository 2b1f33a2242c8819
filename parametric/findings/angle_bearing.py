"""How a steel angle bears on the panels that it passes through, and how it gives way there."""

from __future__ import annotations

from dataclasses import dataclass
from math import fsum, log

from parametric.geometry.space import Axis
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Passing
from parametric.shapes.board import Board
from parametric.shapes.members import SteelAngle
from parametric.strength.steel_angle import STEEL_N_MM2, second_moment_mm4

PANEL_N_MM2 = 2500.0  # elasticity of a panel of which nobody knows it


@dataclass(frozen=True, slots=True)
class AngleBearing:
    """An angle that rests in the notches of two panels, the outermost if there are more."""

    angle: SteelAngle
    panels: tuple[Board, Board]

    def middle_mm(self, panel: Board) -> float:
        """Return where a panel stands along the angle."""
        return panel.box.centre[self.angle.along]

    @property
    def span_mm(self) -> float:
        """From middle to middle of the panels."""
        one, other = self.panels
        return abs(self.middle_mm(other) - self.middle_mm(one))

    def share(self, panel: Board, at_mm: float) -> float:
        """Return how much of a force at a place a panel bears; over one beyond it, as on a simple
        beam.
        """
        one, other = self.panels
        far = self.middle_mm(other if panel is one else one)
        return (at_mm - far) / (self.middle_mm(panel) - far)

    def gives_mm_n(self, at_mm: float) -> float:
        """Return how far a newton at a place presses the angle down there: the panels give way
        under it, and it bends.
        """
        pressed = [
            _gives_mm_n(self.angle, panel) * self.share(panel, at_mm) ** 2 for panel in self.panels
        ]
        from_first = at_mm - min(self.middle_mm(panel) for panel in self.panels)
        stiff_nmm2 = STEEL_N_MM2 * second_moment_mm4(self.angle.section)
        beyond = max(-from_first, from_first - self.span_mm, 0.0)
        if beyond:
            bent = beyond**2 * (self.span_mm + beyond) / (3 * stiff_nmm2)
        else:
            bent = (from_first * (self.span_mm - from_first)) ** 2 / (3 * stiff_nmm2 * self.span_mm)
        return fsum((*pressed, bent))


def angle_bearing(assembly: Assembly, angle: SteelAngle) -> AngleBearing | None:
    """Return how an angle bears on its panels, None where it passes through fewer than two."""
    panels = [
        assembly.board(joint.through)
        for joint in assembly.joints
        if isinstance(joint, Passing) and joint.member == angle.name
    ]
    if len(panels) < 2:
        return None
    places = [panel.box.centre[angle.along] for panel in panels]
    ends = sorted((places.index(min(places)), places.index(max(places))))
    # In the order of the joints, which both hands share.
    return AngleBearing(angle, (panels[ends[0]], panels[ends[1]]))


def _gives_mm_n(angle: SteelAngle, panel: Board) -> float:
    """Return how far a newton presses a notch's bottom down: it spreads at 45 degrees from the toe
    of the angle down to the panel's foot, int dz / E t (w + 2 z).
    """
    strength = panel.material.strength
    elasticity = PANEL_N_MM2 if strength is None else strength.elasticity_n_mm2
    below_mm = angle.box.low[Axis.Z] - panel.box.low[Axis.Z]
    spread = log(1 + 2 * below_mm / angle.section.thickness_mm)
    return spread / (2 * elasticity * panel.box.size(angle.along))
