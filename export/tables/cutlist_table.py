"""The cut list of sheet parts, one line for each part."""

from __future__ import annotations

from export.edge_names import bands_by_edge, bands_of
from export.file_paths import part_file
from export.tables.csv_text import all_decimals, csv_text, cut_size, fixed
from parametric.lists.cut_list import CutList, Part
from parametric.shapes.panel import Face
from parametric.stock.lengths import Units

COLUMNS = (
    "part",
    "description",
    "units",
    "hand",
    "quantity",
    "material",
    "thickness_mm",
    "formaldehyde",
    "finished_length_mm",
    "finished_width_mm",
    "cut_length_mm",
    "cut_width_mm",
    "grain",
    "bands",
    "band_thickness_mm",
    "two_sided",
    "mass_kg",
    "show_face",
    "machining_face",
    "file",
    "finished_size",
    "cut_size",
)


def cutlist_csv(cut_list: CutList, units: Units) -> str:
    """Return the cut list as CSV, in the order of the part numbers; mass is for one piece, in kg.

    `show_face` is where the seen face lies while the part is machined as its file is drawn: up,
    down, both or none. `machining_face` is what is worked: up, or up and then down.
    """
    return csv_text(COLUMNS, (_row(part, units) for part in cut_list.parts))


def band_thickness_text(part: Part) -> str:
    """Return the thickness of the part's bands in mm, each thickness once, empty without bands."""
    return "; ".join(fixed(mm) for mm in sorted({b.band.thickness_mm for b in part.banding}))


def show_face_text(part: Part) -> str:
    """Return where the seen face lies in the first operation."""
    if len(part.show_faces) == len(Face):
        return "both"
    return part.show_faces[0].value if part.show_faces else "none"


def _row(part: Part, units: Units) -> tuple[object, ...]:
    panel = part.panel
    return (
        part.number,
        part.description,
        "; ".join(part.units),
        part.hand,
        part.quantity,
        part.material.key,
        all_decimals(part.material.thickness_mm),
        part.material.formaldehyde or "not stated",
        all_decimals(part.finished_length_mm),
        all_decimals(part.finished_width_mm),
        all_decimals(panel.length_mm),
        all_decimals(panel.width_mm),
        part.material.grain,
        bands_by_edge(bands_of(part)),
        band_thickness_text(part),
        "yes" if part.two_sided else "no",
        fixed(part.mass_kg),
        show_face_text(part),
        "up, then down" if Face.DOWN in panel.faces_worked() else "up",
        part_file(part.number),
        cut_size(part.finished_length_mm, part.finished_width_mm, units),
        cut_size(panel.length_mm, panel.width_mm, units),
    )
