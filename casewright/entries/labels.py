"""The labels, as PDF for their stock."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from casewright.entries.built import Built
from casewright.entries.entry import Rendered
from casewright.stages.label_content import box_labels
from casewright.stages.site_stage import SiteWork
from export.labels.content import Label
from export.labels.layout import labels_source
from export.labels.stock import USUAL, LabelStock
from export.papers.pdf import pdf_bytes
from parametric.stock.paper import Paper, paper_for


def of_parts(built: Built) -> Iterator[Rendered]:
    """Yield for each material the labels of its sheets, parts and offcuts, in the order of work."""
    job = built.job
    paper = paper_for(job.units, job.paper)
    for name, labels in built.labels.materials:
        yield from _paper(name, job.name, job.labels.parts, paper, labels)


def of_bars(built: Built) -> Iterator[Rendered]:
    """Yield the labels of what is cut from bars; nothing without any."""
    job = built.job
    paper = paper_for(job.units, job.paper)
    yield from _paper("", job.name, job.labels.bars, paper, built.labels.bars)


def of_boxes(site: SiteWork) -> Iterator[Rendered]:
    """Yield the labels of the rooms' boxes; nothing without any."""
    yield from _paper("", site.job, site.box_labels, site.paper, tuple(box_labels(site)))


def _paper(
    name: str, job: str, stock: LabelStock | None, paper: Paper, labels: Sequence[Label]
) -> Iterator[Rendered]:
    if labels:
        source = labels_source(job, stock or USUAL[paper], labels)
        yield Rendered(name=name, content=pdf_bytes(source))
