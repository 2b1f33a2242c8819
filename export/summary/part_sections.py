"""The sections of the summary page that list stock and parts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from math import fsum

from export.edge_names import bands_in_words, bands_of
from export.summary.content import SummaryContent
from export.summary.marks import set_marks
from export.summary.markup import Align, Column, paragraph, section, table
from export.tables.csv_text import cut_size, fixed, shown_size
from export.tables.cutlist_table import show_face_text
from export.tables.linear_table import drill_positions
from export.tables.profile_words import profile_shown
from export.tables.yield_table import YieldRow
from parametric.lists.cut_list import BarPart, Part
from parametric.stock.lengths import Units, show_cut_length, show_length

_YIELD_COLUMNS = (
    Column("material"),
    Column("stock"),
    Column("sheet size"),
    Column("sheets", Align.NUMBER),
    Column("layouts", Align.NUMBER),
    Column("sheet area m²", Align.NUMBER),
    Column("part area m²", Align.NUMBER),
    Column("yield", Align.NUMBER),
    Column("material: sheets", Align.NUMBER),
    Column("at least", Align.NUMBER),
    Column("price", Align.NUMBER),
    Column("cost", Align.NUMBER),
)

_PART_COLUMNS = (
    Column("part"),
    Column("description"),
    Column("units"),
    Column("hand"),
    Column("quantity", Align.NUMBER),
    Column("material"),
    Column("thickness", Align.NUMBER),
    Column("finished size", Align.NUMBER),
    Column("cut size", Align.NUMBER),
    Column("grain"),
    Column("bands"),
    Column("show face"),
    Column("two-sided"),
    Column("kg", Align.NUMBER),
)

_BAR_COLUMNS = (
    Column("part"),
    Column("description"),
    Column("units"),
    Column("hand"),
    Column("quantity", Align.NUMBER),
    Column("material"),
    Column("profile"),
    Column("length", Align.NUMBER),
    Column("drill positions"),
    Column("kg", Align.NUMBER),
)


def yield_section(content: SummaryContent) -> str:
    """Return how much of the stock becomes parts, and what the stock costs; nothing where no sheet
    is cut.
    """
    if not content.yield_rows:
        return ""
    total = fsum(row.cost for row in content.yield_rows)
    markup = (
        table(_YIELD_COLUMNS, (_yield_row(row, content.units) for row in content.yield_rows)),
        paragraph(f"All sheets: {fixed(total, 2)} {content.currency}."),
        paragraph(
            "Yield is the share of the full sheets that becomes parts, without their notches and"
            " openings. 'At least' is a number of sheets of the material that no arrangement can"
            " do without, with the sizes in this proportion; shop/yield.csv tells what proves it."
            " The least that is really possible may be more."
        ),
    )
    return section("sheets", "Stock and yield", markup)


def parts_section(content: SummaryContent) -> str:
    """Return the cut list of sheet parts and of bars."""
    cut_list, units = content.cut_list, content.units
    rows = (_part_row(part, units) for part in cut_list.parts)
    markup = [table(_PART_COLUMNS, rows, _marks(cut_list.parts, content))]
    if cut_list.bars:
        markup.append("<h3>Bars</h3>\n")
        bars = (_bar_row(bar, units) for bar in cut_list.bars)
        markup.append(table(_BAR_COLUMNS, bars, _marks(cut_list.bars, content)))
    return section("parts", "Cut list", markup)


def _marks(
    listed: Iterable[Part | BarPart], content: SummaryContent
) -> Iterator[Mapping[str, str]]:
    """Yield what the page's script knows each line by."""
    for each in listed:
        yield {"part": each.number, "sets": set_marks(content.sets_of.get(each.number, ()))}


def _yield_row(row: YieldRow, units: Units) -> tuple[object, ...]:
    stock = row.stock
    return (
        row.material.key,
        stock.key,
        shown_size(stock.length_mm, stock.width_mm, units),
        row.sheets,
        row.layouts,
        fixed(row.sheet_area_m2, 2),
        fixed(row.part_area_m2, 2),
        f"{fixed(100 * row.share_used, 1)} %",
        row.material_sheets,
        row.least_in_mix,
        fixed(stock.price, 2),
        fixed(row.cost, 2),
    )


def _part_row(part: Part, units: Units) -> tuple[object, ...]:
    return (
        part.number,
        part.description,
        ", ".join(part.units),
        part.hand,
        part.quantity,
        part.material.key,
        show_cut_length(part.material.thickness_mm, units),
        cut_size(part.finished_length_mm, part.finished_width_mm, units),
        cut_size(part.panel.length_mm, part.panel.width_mm, units),
        part.material.grain,
        bands_in_words(bands_of(part)),
        show_face_text(part),
        "yes" if part.two_sided else "no",
        fixed(part.mass_kg, 2),
    )


def _bar_row(bar: BarPart, units: Units) -> tuple[object, ...]:
    return (
        bar.number,
        bar.description,
        ", ".join(bar.units),
        bar.hand,
        bar.quantity,
        bar.material,
        profile_shown(bar.profile, units),
        show_length(bar.length_mm, units),
        drill_positions(bar.holes, units),
        fixed(bar.mass_kg, 2),
    )
