"""The drawings of each set in each hand."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.entries.built import Built
from casewright.entries.entry import Rendered
from casewright.stages.engineering.set_drawing_content import set_drawings
from export.papers.pdf import pdf_bytes
from export.set_drawing.pages import set_drawing_source


def set_drawing_papers(built: Built) -> Iterator[Rendered]:
    """Yield a paper for each set and hand in use."""
    job = built.job
    for each, files in zip(built.sets.sets, built.models, strict=True):
        key = each.used.sizes.name, each.used.hand
        rooms = [room.number for room in job.rooms if (room.set_name, room.hand) == key]
        drawings = set_drawings(job.name, built.sets, each, rooms, job.units)
        content = pdf_bytes(set_drawing_source(drawings, job.units, built.paper))
        yield Rendered(name=files.name, content=content, set_name=key[0], hand=key[1])
