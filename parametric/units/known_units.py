"""The unit families there are: one line each. A new family is one file and one line here."""

from __future__ import annotations

from collections.abc import Callable

from parametric.joints.assembly import Assembly
from parametric.units.bedside_table import bedside_table
from parametric.units.corner_bench import corner_bench
from parametric.units.platform_bed import platform_bed
from parametric.units.set_plan import BED, BENCH, TABLE, WALL_PANEL, SetPlan
from parametric.units.wall_panel import wall_panel

UnitFamily = Callable[[SetPlan], Assembly]

KNOWN_UNITS: dict[str, UnitFamily] = {
    BENCH: corner_bench,
    TABLE: bedside_table,
    BED: platform_bed,
    WALL_PANEL: wall_panel,
}
