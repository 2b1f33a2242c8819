"""The unit families there are: one line each. A new family is one file and one line here."""

from __future__ import annotations

from parametric.units.bedside_table import BEDSIDE_TABLE
from parametric.units.bench import BENCH
from parametric.units.desk import DESK
from parametric.units.family import AnyFamily
from parametric.units.platform_bed import PLATFORM_BED

_FAMILIES: tuple[AnyFamily, ...] = (BENCH, BEDSIDE_TABLE, PLATFORM_BED, DESK)

KNOWN_UNITS: dict[str, AnyFamily] = {family.name: family for family in _FAMILIES}
