"""Panels that other programs drew: which file each part is from, and what was made of it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from export.tables.csv_text import all_decimals, csv_text

COLUMNS = (
    "part",
    "file",
    "name",
    "quantity",
    "material",
    "material_by",
    "thickness_mm",
    "drawn_thickness_mm",
    "grain",
    "show_face",
    "bores_with_drill_tip",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelSource:
    """A solid of a file, and the part it is; several may be one part.

    `tips` is how many of its bores end in a cone: their depths are those of the full diameter.
    """

    part: str
    file: str
    name: str
    quantity: int
    material: str
    matched_by: str
    thickness_mm: float
    drawn_thickness_mm: float
    grain: str
    show_face: str
    tips: int


def panels_csv(sources: Iterable[PanelSource]) -> str:
    """Return where each panel is from as CSV, in the order of the table that lists them."""
    return csv_text(COLUMNS, (_row(source) for source in sources))


def _row(source: PanelSource) -> tuple[object, ...]:
    return (
        source.part,
        source.file,
        source.name,
        source.quantity,
        source.material,
        source.matched_by,
        all_decimals(source.thickness_mm),
        all_decimals(source.drawn_thickness_mm),
        source.grain,
        source.show_face,
        source.tips,
    )
