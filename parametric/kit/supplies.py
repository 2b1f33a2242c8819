"""What goes into kits beyond the parts that joints name: adhesive, shims, spares, touch-up."""

from __future__ import annotations

import math
from dataclasses import dataclass

from parametric.stock.construction import Construction

ADHESIVE = "adhesive"
GLUE = "glue"
"""What the shop glues with."""
SHIMS = "shims"
PACKERS = "packers"
TOUCH_UP = "touch-up"
BY_ENGINEER = "wall-fixing"
"""What an engineer specifies; it is listed so that nobody forgets it, and never packed."""
CARTRIDGE_ML = 300.0
"""What a cartridge of adhesive holds: the usual sizes run from 290 to 310 ml. Common practice, no
source."""


def cartridges_for(millilitres: float) -> int:
    """Return how many whole cartridges hold so much adhesive."""
    return math.ceil(millilitres / CARTRIDGE_ML - 1e-9)  # less the noise of floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Supplies:
    """Figures of kits; spares are shares of what is needed (0.1 for 10 %).

    `adhesive_bead_mm` is the diameter of a bead, `adhesive_set_minutes` how long it stays clamped
    or weighted, as its maker says, None where nobody has said. The shop spreads `glue_ml_m2` of its
    glue on a square metre of joint, from bottles of `glue_bottle_ml`, with as much spare as for
    adhesive. `shims_per_fixing` counts for each screw through a board into the wall, and packers
    for each notch of a steel angle, `touch_up_per_set` for each set. Articles in `not_supplied` are
    listed, and somebody else brings them. The defaults are common practice, no source.
    """

    adhesive_bead_mm: float = 6.0
    adhesive_set_minutes: float | None = None
    glue_ml_m2: float = 180.0
    glue_bottle_ml: float = 750.0
    shims_per_fixing: int = 2
    touch_up_per_set: int = 1
    spare_screws: float = 0.1
    spare_caps: float = 0.1
    spare_adhesive: float = 0.1
    spare_shims: float = 0.0
    not_supplied: tuple[str, ...] = ()


def article_keys(construction: Construction) -> tuple[str, ...]:
    """Return the names of all articles that kits of a construction can hold."""
    return (
        construction.angle.key,
        construction.leg.key,
        construction.leg.screw.key,
        construction.wall_plate.key,
        construction.wall_plate.screw.key,
        construction.screw_cleat_thin.key,
        construction.screw_cleat_wide.key,
        construction.screw_angle.key,
        construction.screw_wall.key,
        (construction.screw_off_wall or construction.screw_wall).key,
        construction.screw_panel.key,
        construction.cap.key,
        ADHESIVE,
        GLUE,
        SHIMS,
        PACKERS,
        TOUCH_UP,
        BY_ENGINEER,
    )
