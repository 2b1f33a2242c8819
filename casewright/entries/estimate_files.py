"""What the job costs and what is bought for it: none without cut files, on which both rest."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.entries.built import Built
from casewright.entries.entry import Rendered
from casewright.stages.estimate.estimate_stage import demand_of
from export.estimate.estimate_paper import estimate_source
from export.estimate.purchase import Demand, purchase_list
from export.estimate.purchase_paper import purchase_source
from export.estimate.workbook import estimate_xlsx
from export.papers.pdf import pdf_bytes
from export.tables.purchase_table import purchase_csv
from parametric.stock.paper import paper_for


def purchase_table(built: Built) -> str | None:
    """Return what is bought; None without cut files."""
    if built.shop is None:
        return None
    return purchase_csv(purchase_list(_demand(built)))


def purchase_paper(built: Built) -> Iterator[Rendered]:
    """Yield the list on paper; nothing without cut files."""
    if built.shop is None:
        return
    job = built.job
    lines = purchase_list(_demand(built))
    source = purchase_source(job.name, job.currency, lines, paper_for(job.units, job.paper))
    yield Rendered(content=pdf_bytes(source))


def estimate_workbook(built: Built) -> Iterator[Rendered]:
    """Yield the estimate as a workbook; nothing without cut files."""
    if built.estimate is not None:
        yield Rendered(content=estimate_xlsx(built.estimate))


def estimate_paper(built: Built) -> Iterator[Rendered]:
    """Yield the estimate on paper; nothing without cut files."""
    if built.estimate is not None:
        paper = paper_for(built.job.units, built.job.paper)
        yield Rendered(content=pdf_bytes(estimate_source(built.estimate, paper)))


def _demand(built: Built) -> Demand:
    return demand_of(built.job, built.sets.cut_list, built.nested, built.kits)
