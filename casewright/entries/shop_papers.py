"""The papers for the shop, as PDF."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.entries.built import Built
from casewright.entries.entry import Rendered
from casewright.stages.shop.assembly_content import assembly_book
from casewright.stages.shop.drilling_content import drilling_book
from casewright.stages.shop.operator_content import operator_packs
from export.papers.pdf import pdf_bytes
from export.shop.assembly import assembly_source
from export.shop.drilling import drawing_width_mm, drilling_source
from export.shop.lists import lists_source
from export.shop.operator import operator_source
from export.shop.sorting import sorting_source
from parametric.kit.glue import whole_shop_list
from parametric.kit.set_kit import whole_shop_hardware


def assembly_sheets(built: Built) -> Iterator[Rendered]:
    """Yield a page for each piece that the shop joins, all in one paper; nothing without any."""
    pieces = built.pieces.pieces()
    if not pieces:
        return
    models = {(each.used.sizes.name, each.used.hand): each.model for each in built.sets.sets}
    book = assembly_book(
        built.job.name,
        pieces,
        models,
        whole_shop_hardware(built.kits),
        built.sets.cut_list.bars,
        built.job.units,
    )
    yield Rendered(content=pdf_bytes(assembly_source(book, built.paper)))


def operator_pages(built: Built) -> Iterator[Rendered]:
    """Yield the operator's pack of each nest; nothing without cut files."""
    if built.shop is None or built.router is None:
        return
    for name, pack in operator_packs(built.job, built.shop, built.router):
        yield Rendered(name=name, content=pdf_bytes(operator_source(pack, built.paper)))


def drilling_drawings(built: Built) -> Iterator[Rendered]:
    """Yield the drawings of all cleats and angles with holes; nothing without any."""
    bars = built.sets.cut_list.bars
    if not any(bar.holes for bar in bars):
        return
    book = drilling_book(built.job.name, bars, built.job.units, drawing_width_mm(built.paper))
    yield Rendered(content=pdf_bytes(drilling_source(book, built.paper)))


def sorting_pages(built: Built) -> Iterator[Rendered]:
    """Yield which part goes on which cart; nothing without cut files."""
    if built.shop is None:
        return
    source = sorting_source(built.sorting, built.job.units, built.paper)
    yield Rendered(content=pdf_bytes(source))


def lists(built: Built) -> Iterator[Rendered]:
    """Yield cut list, banding list, cleats and angles, and hardware on paper."""
    job, hardware = built.job, whole_shop_list(built.kits, built.job.supplies)
    source = lists_source(job.name, built.sets.cut_list, hardware, job.units, built.paper)
    yield Rendered(content=pdf_bytes(source))
