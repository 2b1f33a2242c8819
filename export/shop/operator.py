"""The operator's pack of a material: setting up, a map of each layout, second operations."""

from __future__ import annotations

from collections.abc import Iterator

from export.papers.blocks import (
    Beside,
    Block,
    Cautions,
    Head,
    Named,
    Numbered,
    Page,
    Paragraph,
    Picture,
    Share,
    Table,
    Whole,
)
from export.papers.cautions import DEFERS
from export.papers.page_format import PageFormat, page_format
from export.papers.typesetting import Source, document
from export.shop.operator_content import OperatorPack, SecondOperation, SheetPage
from export.svg.elements import picture_size
from export.svg.tick_grid import tick_grid
from parametric.stock.paper import Paper

_CAUTIONS = (
    "Dry-run each file above the sheet before the first cut: sheet size, face up, origin, bits and"
    " depths. Nobody stays within reach of a running machine; stop it before you clear it.",
    "Dust of wood and board harms the lungs and can burn or explode: run the extraction, clean by"
    " vacuum and not by air. Wear eye and ear protection, and breathing protection where the rules"
    " ask for it.",
    "Sheets are heavy and wide: nobody lifts one alone; take a hoist or a trolley for sheets.",
    DEFERS,
)
_BESIDE_MAP_MM, _GAP_MM = 72.0, 5.0
_ABOVE_MAP_MM, _BELOW_MAP_MM = 24.0, 12.0
_SECOND_COLUMNS, _SECOND_HIGH_MM = 2, 55.0
_KEPT_WHOLE = 12
"""So many layouts and their times stay on one page."""


def operator_source(pack: OperatorPack, paper: Paper) -> Source:
    """Return the pack: the page to set up by, a page for each layout, then second operations."""
    format_ = page_format(paper)
    pages = [_setup(pack), *(_sheet(page, format_) for page in pack.pages)]
    if pack.second or pack.edge_bores:
        pages.append(_second(pack, format_))
    return document(format_, pack.job, pages)


def _setup(pack: OperatorPack) -> Page:
    return Page(blocks=(Head(title=pack.title, below=pack.below), *_setting_up(pack)))


def _setting_up(pack: OperatorPack) -> Iterator[Block]:
    yield Table(
        title="Stock to pull",
        heads=("sheet", "size", "lies", "count"),
        widths=(Share(), None, None, 16.0),
        rows=pack.stock,
        right=(3,),
    )
    yield Table(title="Setting up", heads=("what", "how"), widths=(34.0, Share()), rows=pack.facts)
    yield Cautions(_CAUTIONS)
    yield Table(
        title="Bits",
        heads=("no.", "bit", "dia.", "runs these layers", "feed", "plunge", "at once"),
        widths=(10.0, Share(0.8), None, Share(1.3), None, None, None),
        rows=pack.bits,
    )
    if pack.not_counted:
        yield Cautions(pack.not_counted)
    yield Numbered(title="Order of operations on every sheet", items=pack.order)
    yield Named(
        title="Parts that the table may not hold", blocks=(Paragraph(pack.held),), whole=True
    )
    yield Table(
        heads=("part", "why", "on sheets"), widths=(22.0, Share(), Share()), rows=pack.risks
    )
    yield Named(title="Measure on the first sheet", blocks=(Paragraph(pack.measuring),), whole=True)
    yield Table(
        heads=("part", "along X", "along Y", "both diagonals", "measured"),
        widths=(18.0, Share(), Share(), Share(1.3), Share(0.9)),
        rows=pack.measures,
    )
    times = _times(pack)
    if len(pack.sheets) <= _KEPT_WHOLE:
        yield Whole(times)
    else:
        yield from times


def _times(pack: OperatorPack) -> tuple[Block, ...]:
    heads, sums = zip(*pack.sums, strict=True)
    return (
        Table(
            title="Sheets, with estimated time",
            heads=("no.", "stock", "runs", "parts", "path", "each", "all runs"),
            widths=(12.0, Share(), 13.0, 13.0, 22.0, 24.0, 28.0),
            rows=pack.sheets,
            right=(2, 3, 4, 5, 6),
        ),
        # Side by side, so that seldom a page begins for them.
        Table(
            heads=("", *heads),
            widths=(28.0, *[Share()] * len(sums)),
            rows=(("time in all", *sums),),
            right=tuple(range(1, 1 + len(sums))),
        ),
    )


def _sheet(page: SheetPage, format_: PageFormat) -> Page:
    """Return the page of a layout, on its side: the map beside its figures, over its boxes."""
    wide = format_.height_mm - 2 * format_.beside_mm
    high = format_.width_mm - format_.above_mm - format_.below_mm
    grid = tick_grid(page.runs, wide)
    room = high - _ABOVE_MAP_MM - _BELOW_MAP_MM - grid.height_mm
    across, up = picture_size(page.map_svg)
    width = min(wide - _BESIDE_MAP_MM - _GAP_MM, room * across / up)
    boxes = "a box for each sheet that is cut"
    if grid.each > 1:
        boxes = f"a box for every {grid.each} sheets that are cut, with their count"
    figures = (
        Table(heads=("this sheet", ""), widths=(None, Share()), rows=page.facts),
        Table(
            heads=("bit", "dia.", "cuts", "path", "min"),
            widths=(10.0, Share(), 13.0, 20.0, 13.0),
            rows=page.bits,
            right=(2, 3, 4),
        ),
        Table(heads=("offcut", "size"), widths=(Share(), None), rows=page.offcuts),
    )
    return Page(
        wide=True,
        blocks=(
            Head(title=page.title, below=page.below),
            Beside(
                columns=((Picture(svg=page.map_svg, width_mm=width),), figures),
                widths=(width, Share()),
                gap_mm=_GAP_MM,
            ),
            Named(
                title=f"Tick {boxes}",
                blocks=(Picture(svg=grid.svg, width_mm=wide),),
                whole=True,
            ),
        ),
    )


def _second(pack: OperatorPack, format_: PageFormat) -> Page:
    blocks: list[Block] = [
        Head(title="Second operations" if pack.second else "Holes in edges", below=pack.title)
    ]
    if pack.second:
        blocks.append(Numbered(title="Each part", items=pack.turning))
        width = (format_.text_width_mm - _GAP_MM) / _SECOND_COLUMNS
        for at in range(0, len(pack.second), _SECOND_COLUMNS):
            row = pack.second[at : at + _SECOND_COLUMNS]
            columns = tuple(_turned(each, width) for each in row)
            blank: tuple[tuple[Block, ...], ...] = ((),) * (_SECOND_COLUMNS - len(row))
            beside = Beside(
                columns=columns + blank, widths=(Share(),) * _SECOND_COLUMNS, gap_mm=_GAP_MM
            )
            blocks.append(Whole((beside,)))
    blocks.append(
        Table(
            title="Holes in edges, drilled apart",
            heads=("part", "count", "edge", "along", "above the lower face", "hole"),
            widths=(16.0, 14.0, Share(), Share(), Share(), Share(1.2)),
            rows=pack.edge_bores,
        )
    )
    blocks.append(Cautions(_CAUTIONS[:2] + _CAUTIONS[-1:]))
    return Page(blocks=tuple(blocks))


def _turned(second: SecondOperation, width_mm: float) -> tuple[Block, ...]:
    across, up = picture_size(second.picture_svg)
    return (
        Named(
            title=second.title,
            blocks=(
                Picture(
                    svg=second.picture_svg, width_mm=min(width_mm, _SECOND_HIGH_MM * across / up)
                ),
                Table(heads=("what", ""), widths=(None, Share()), rows=second.facts),
            ),
        ),
    )
