"""The drawings to make each part by hand; none where failed findings keep the cut files back."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.entries.built import Built
from casewright.entries.entry import Rendered
from export.dxf.drawing_writer import drawing_dxf
from export.papers.pdf import pdf_bytes
from export.part_drawing.pages import drawings_source


def drawing_pages(built: Built) -> Iterator[Rendered]:
    """Yield a page for each part, all in one paper."""
    if built.shop is not None:
        job = built.job
        source = drawings_source(job.name, built.drawings, job.units, built.paper)
        yield Rendered(content=pdf_bytes(source))


def drawing_files(built: Built) -> Iterator[Rendered]:
    """Yield the same drawings as DXF, a file for each part."""
    if built.shop is not None:
        for drawing in built.drawings:
            yield Rendered(name=drawing.number, content=drawing_dxf(drawing), part=drawing.number)
