"""The papers for the store, as PDF."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.entries.built import Built
from casewright.entries.entry import Rendered
from casewright.stages.packing_stage import packing_of
from export.papers.pdf import pdf_bytes
from export.store.packing import packing_source
from parametric.stock.paper import paper_for


def packing_lists(built: Built) -> Iterator[Rendered]:
    """Yield what each room gets, and what goes on each trip."""
    job = built.job
    packing = packing_of(job, built.sets, built.pieces)
    source = packing_source(packing, job.units, paper_for(job.units, job.paper))
    yield Rendered(content=pdf_bytes(source))
