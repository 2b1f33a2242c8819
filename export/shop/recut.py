"""The paper for cutting parts again: what, from what, why, and a map of each sheet."""

from __future__ import annotations

from dataclasses import dataclass

from export.papers.blocks import (
    Beside,
    Block,
    Cautions,
    Head,
    Named,
    Page,
    Paragraph,
    Picture,
    Row,
    Share,
    Table,
    Whole,
)
from export.papers.cautions import DEFERS
from export.papers.page_format import PageFormat, page_format
from export.papers.typesetting import Source, document
from export.svg.elements import picture_size
from parametric.stock.paper import Paper

COLUMNS = 2
_GAP_MM, _MAP_HIGH_MM = 6.0, 78.0
_CAUTIONS = (
    "Measure the offcut, edges and corners, before it is fixed: it must be what its map says. A"
    " small piece is held by less vacuum: fix it as small parts are fixed on this router.",
    "Dry-run the file above the offcut: origin, face up, bits and depths. Extraction on, eyes, ears"
    " and lungs protected, hands away from the running machine.",
    DEFERS,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class RecutSheet:
    """A layout: what is pulled and how it lies, and its map."""

    title: str
    below: str
    map_svg: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RecutPaper:
    """What stands on the paper. `rows` have part, name, cut size, how many, from what, layout and
    grain; `told` is what the shop must know of it, such as full sheets that are taken.
    """

    job: str
    below: str
    reason: str
    told: tuple[str, ...]
    rows: tuple[Row, ...]
    sheets: tuple[RecutSheet, ...]


def recut_source(content: RecutPaper, paper: Paper) -> Source:
    """Return the paper: a page, or more where there are many sheets."""
    format_ = page_format(paper)
    blocks: list[Block] = [Head(title="Cut again", below=content.below)]
    if content.reason:
        blocks.append(Named(title="Reason", blocks=(Paragraph(content.reason),), whole=True))
    blocks += [
        Table(
            title="Parts",
            heads=("part", "name", "cut size", "count", "from", "layout"),
            widths=(16.0, Share(1.2), Share(), 14.0, Share(), Share()),
            rows=content.rows,
            right=(3,),
        ),
        Cautions((*content.told, *_CAUTIONS)),
    ]
    width = (format_.text_width_mm - _GAP_MM * (COLUMNS - 1)) / COLUMNS
    for at in range(0, len(content.sheets), COLUMNS):
        blocks.append(_beside(content.sheets[at : at + COLUMNS], width, format_))
    return document(format_, content.job, (Page(blocks=tuple(blocks)),))


def _beside(sheets: tuple[RecutSheet, ...], width_mm: float, format_: PageFormat) -> Whole:
    """Return maps side by side; one alone has all the width."""
    alone = len(sheets) == 1
    widest = format_.text_width_mm if alone else width_mm
    columns = tuple(_map(each, widest) for each in sheets)
    widths = (Share(),) * len(sheets)
    return Whole((Beside(columns=columns, widths=widths, gap_mm=_GAP_MM),))


def _map(sheet: RecutSheet, widest_mm: float) -> tuple[Block, ...]:
    across, up = picture_size(sheet.map_svg)
    width = min(widest_mm, _MAP_HIGH_MM * across / up)
    picture = Picture(svg=sheet.map_svg, width_mm=width)
    return (Named(title=sheet.title, blocks=(Paragraph(sheet.below), picture), whole=True),)
