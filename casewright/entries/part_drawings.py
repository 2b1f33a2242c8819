"""The drawings to make each part by hand; none where failed findings keep the cut files back."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.entries.built import Built
from casewright.entries.entry import Rendered
from export.dxf.drawing_writer import drawing_dxf
from export.papers.page_format import page_format
from export.papers.pdf import pdf_bytes
from export.part_drawing.content import PartDrawing
from export.part_drawing.drawing import part_drawing
from export.part_drawing.pages import drawings_source, rooms_on
from parametric.stock.paper import Paper, paper_for


def drawing_pages(built: Built) -> Iterator[Rendered]:
    """Yield a page for each part, all in one paper."""
    if built.shop is not None:
        job = built.job
        drawings = tuple(_drawings(built))
        yield Rendered(
            content=pdf_bytes(drawings_source(job.name, drawings, job.units, _paper(built)))
        )


def drawing_files(built: Built) -> Iterator[Rendered]:
    """Yield the same drawings as DXF, a file for each part."""
    if built.shop is not None:
        for drawing in _drawings(built):
            yield Rendered(name=drawing.number, content=drawing_dxf(drawing), part=drawing.number)


def _drawings(built: Built) -> Iterator[PartDrawing]:
    """Yield the drawings as they stand on the job's paper."""
    rooms = rooms_on(page_format(_paper(built)))
    joined: dict[str, list[str]] = {}
    for piece in built.pieces.pieces():
        for number, _, _ in piece.parts:
            joined.setdefault(number, []).append(piece.number)
    for part in built.sets.cut_list.parts:
        yield part_drawing(part, built.job.units, rooms, tuple(joined.get(part.number, ())))


def _paper(built: Built) -> Paper:
    return paper_for(built.job.units, built.job.paper)
