"""From what is cut to the labels of a job, and those of the shop as they are printed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from casewright.job import Job
from casewright.progress import Progress
from casewright.stages.labels.label_content import label_book
from casewright.stages.nested.nested_stage import Nested
from casewright.stages.sets.set_stage import SetsOfJob
from casewright.stages.shop.sheet_stage import ShopFiles
from casewright.stages.site.site_stage import SiteWork
from export.labels.content import Label, LabelBook
from export.labels.layout import labels_source
from export.labels.stock import USUAL, LabelStock
from export.papers.pdf import pdf_bytes
from parametric.lists.piece_catalogue import PieceCatalogue
from parametric.stock.paper import Paper, paper_for


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelFiles:
    """The labels of a job, and as PDF those of its `materials`, by the names of their files, and
    of what is cut from bars, None without any.
    """

    book: LabelBook
    materials: tuple[tuple[str, bytes], ...]
    bars: bytes | None


def label_files(
    job: Job,
    sets: SetsOfJob,
    pieces: PieceCatalogue,
    nested: Nested,
    shop: ShopFiles | None,
    site: SiteWork,
    progress: Progress,
) -> LabelFiles:
    """Return the labels of a job. Where no cut files are written there are those of boxes only.

    Raises:
        RuntimeError: the typesetter cannot set them, which is a bug.
        Cancelled: the work was cancelled.
    """
    progress.stage("labels", len(nested.nests) + 1 if shop is not None else 0)
    bars = (nest.material for nest in nested.bar_nests)
    book = label_book(job, sets, pieces, nested.nests, bars, shop, site)
    paper, stocks = paper_for(job.units, job.paper), job.labels
    materials = []
    for name, labels in book.materials:
        materials.append((name, label_paper(job.name, stocks.parts, paper, labels)))
        progress.step(f"{name}: {len(labels)} labels")
    of_bars = label_paper(job.name, stocks.bars, paper, book.bars) if book.bars else None
    if shop is not None:
        progress.step("bundles")
    return LabelFiles(book=book, materials=tuple(materials), bars=of_bars)


def label_paper(job: str, stock: LabelStock | None, paper: Paper, labels: Sequence[Label]) -> bytes:
    """Return labels as PDF for their stock, None for the usual one of a paper.

    Raises:
        RuntimeError: the typesetter cannot set them, which is a bug.
    """
    return pdf_bytes(labels_source(job, stock or USUAL[paper], labels))
