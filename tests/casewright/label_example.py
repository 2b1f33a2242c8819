"""The labels of a demo job, made by its stages, and as they stand on paper."""

import functools
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2

from casewright.entries.built import Built
from casewright.intake.read_job import read_job
from casewright.job import Job
from casewright.progress import Progress
from casewright.stages.labels.label_content import label_book
from casewright.stages.models.piece_stage import pieces_of
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.nest.nest_stage import Nest
from casewright.stages.nested.nested_stage import OnShortage, nest_job
from casewright.stages.sets.set_stage import SetsOfJob, model_sets
from casewright.stages.shop.sheet_stage import ShopFiles, shop_files
from casewright.stages.site.kit_stage import kits_of
from casewright.stages.site.site_stage import site_work
from export.labels.content import Label, LabelBook
from export.labels.layout import labels_source
from export.labels.stock import LabelStock
from export.papers.pdf import pdf_bytes
from parametric.stock.lengths import Units
from tests.casewright.build_fixtures import CONFIGS, built_demo

POINTS = 72 / 25.4  # of a millimetre

Box = tuple[float, float, float, float]


@dataclass(frozen=True, kw_only=True)
class Labelled:
    """A demo job with its labels and what they are made from."""

    job: Job
    sets: SetsOfJob
    nests: tuple[Nest, ...]
    shop: ShopFiles
    book: LabelBook
    without_cut_files: LabelBook


@functools.cache
def labelled(demo: str, units: Units | None = None) -> Labelled:
    """A demo job, in other units if any are named."""
    if units is None:
        return _of_built(built_demo(demo))
    job, progress, settings = read_job(CONFIGS / f"{demo}.yaml"), Progress(), NestSettings()
    job = replace(job, units=units)
    sets = model_sets(job, progress)
    pieces, nested = pieces_of(sets), nest_job(job, sets, settings, progress, OnShortage.STOP)
    shop = shop_files(job, sets.cut_list, nested.nests, settings, progress)
    site = site_work(job, sets, pieces, kits_of(job), progress)
    bars = [nest.material for nest in nested.bar_nests]
    books = [label_book(job, sets, pieces, nested.nests, bars, each, site) for each in (shop, None)]
    return Labelled(
        job=job,
        sets=sets,
        nests=nested.nests,
        shop=shop,
        book=books[0],
        without_cut_files=books[1],
    )


def _of_built(built: Built) -> Labelled:
    assert built.shop is not None
    job, sets = built.job, built.sets
    return Labelled(
        job=job,
        sets=sets,
        nests=built.nested.nests,
        shop=built.shop,
        book=built.labels.book,
        without_cut_files=label_book(job, sets, built.pieces, (), (), None, built.site),
    )


@dataclass(frozen=True)
class Printed:
    """Labels on paper; boxes count millimetres from a label's upper left corner, right and down."""

    stock: LabelStock
    document: pypdfium2.PdfDocument

    def place(self, index: int) -> tuple[pypdfium2.PdfPage, float, float]:
        """The page of a label and its corner."""
        corners = tuple(self.stock.corners())
        x, y = corners[index % len(corners)]
        return self.document[index // len(corners)], x, y

    def texts(self, index: int) -> list[tuple[Box, str]]:
        """The pieces of text that stand on a label, with their boxes."""
        page, left, top = self.place(index)
        high = page.get_height()
        read = page.get_textpage()
        found = []
        for at in range(read.count_rects()):
            x0, y0, x1, y1 = read.get_rect(at)
            box = (
                x0 / POINTS - left,
                (high - y1) / POINTS - top,
                x1 / POINTS - left,
                (high - y0) / POINTS - top,
            )
            middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
            if 0 <= middle[0] <= self.stock.width_mm and 0 <= middle[1] <= self.stock.height_mm:
                found.append((box, read.get_text_bounded(x0, y0, x1, y1).strip()))
        return found

    def picture(self, index: int, dots_per_mm: float = 12.0) -> np.ndarray[Any, Any]:
        """A label as it is printed."""
        page, left, top = self.place(index)
        whole = page.render(scale=dots_per_mm / POINTS).to_numpy()
        x0, y0 = round(left * dots_per_mm), round(top * dots_per_mm)
        x1 = x0 + round(self.stock.width_mm * dots_per_mm)
        return np.ascontiguousarray(
            whole[y0 : y0 + round(self.stock.height_mm * dots_per_mm), x0:x1]
        )


def printed(labels: Sequence[Label], stock: LabelStock) -> Printed:
    source = labels_source("Demo & job", stock, labels)
    return Printed(stock, pypdfium2.PdfDocument(pdf_bytes(source)))


def stocks() -> dict[str, LabelStock]:
    """All label stocks of the libraries beside the demos."""
    from casewright.errors import Fault
    from casewright.intake.catalogue import read_libraries
    from casewright.intake.label_schema import LabelsEntry, LabelStockEntry
    from casewright.intake.read_labels import label_stocks

    faults: list[Fault] = []
    paths = [Path(CONFIGS / f"labels-{units}.yaml") for units in ("metric", "inch")]
    catalogue = read_libraries(paths, faults)
    assert not faults
    found = {}
    for name in catalogue.shelves[LabelStockEntry]:
        stock = label_stocks(LabelsEntry(parts=name), catalogue).parts
        assert stock is not None
        found[name] = stock
    return found
