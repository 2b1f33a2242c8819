"""What each material takes of sheets and money, over all its stock and ways to lie."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import fsum

from export.tables.yield_table import YieldRow


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialFigures:
    """One material: sheets in use, the share of them that becomes parts, and what they cost."""

    material: str
    sheets: int
    share_used: float
    cost: float


def material_figures(rows: Iterable[YieldRow]) -> tuple[MaterialFigures, ...]:
    """Return a line for each material, in the order of their first rows."""
    by_material: dict[str, list[YieldRow]] = {}
    for row in rows:
        by_material.setdefault(row.material.key, []).append(row)
    return tuple(_figures(of_material) for of_material in by_material.values())


def _figures(rows: list[YieldRow]) -> MaterialFigures:
    area = fsum(row.sheet_area_m2 for row in rows)
    return MaterialFigures(
        material=rows[0].material.description,
        sheets=sum(row.sheets for row in rows),
        share_used=fsum(row.part_area_m2 for row in rows) / area if area else 0.0,
        cost=fsum(row.cost for row in rows),
    )
