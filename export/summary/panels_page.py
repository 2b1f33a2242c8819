"""The summary page of panels that other programs drew: stock, maps, cut list, and their files."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from export.markup_text import in_markup
from export.summary.content import SummaryContent
from export.summary.markup import Align, Column, key_figures, page, section, table
from export.summary.page_script import page_script
from export.summary.part_sections import parts_section, yield_section
from export.summary.sections import maps_section
from export.tables.csv_text import all_decimals
from export.tables.panel_table import PanelSource

_COLUMNS = (
    Column("part"),
    Column("file"),
    Column("name"),
    Column("quantity", Align.NUMBER),
    Column("material"),
    Column("material told by"),
    Column("drawn thickness mm", Align.NUMBER),
    Column("grain"),
    Column("show face"),
)


def panels_html(content: SummaryContent, sources: Iterable[PanelSource]) -> str:
    """Return the page as HTML. It refers to nothing outside itself."""
    head = f"<h1>{in_markup(content.job)}</h1>\n{key_figures(_figures(content))}"
    rows = (
        (
            source.part,
            source.file,
            source.name,
            source.quantity,
            source.material,
            source.matched_by,
            all_decimals(source.drawn_thickness_mm),
            source.grain,
            source.show_face,
        )
        for source in sources
    )
    body = "".join(
        (
            f"<header>{head}</header>\n",
            section("panels", "Panels and their files", (table(_COLUMNS, rows),)),
            yield_section(content),
            maps_section(content),
            parts_section(content),
        )
    )
    return page(f"{content.job}: panels", body, page_script())


def _figures(content: SummaryContent) -> Iterator[tuple[str, str]]:
    parts = content.cut_list.parts
    bounds = {(row.material.key, row.face_up): row.least_in_mix for row in content.yield_rows}
    yield "panels", f"{sum(part.quantity for part in parts)} ({len(parts)} different)"
    yield "sheets", str(sum(row.sheets for row in content.yield_rows))
    yield "sheets needed at least", str(sum(bounds.values()))
