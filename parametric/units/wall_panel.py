"""Wall panel: hung behind the bed, as wide as its deck, its lower edge just above it."""

from __future__ import annotations

from parametric.joints.assembly import Assembly
from parametric.primitives.hung_panel import hung_panel
from parametric.units.set_plan import WALL_PANEL, SetPlan


def wall_panel(plan: SetPlan) -> Assembly:
    """Return the wall panel of the planned set; empty if the set has none."""
    panel, deck = plan.sizes.wall_panel, plan.bed_deck
    if panel is None or deck is None:
        return Assembly()
    low_z = deck.high.z + panel.gap_mm
    return hung_panel(
        WALL_PANEL,
        (deck.low.x, deck.high.x),
        (low_z, low_z + panel.height_mm),
        panel.plates,
        plan.construction,
    )
