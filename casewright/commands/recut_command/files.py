"""The files of the command's output folder, in memory."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import PurePosixPath

from casewright.job import Job
from casewright.output.left_file import LeftFile, listed
from casewright.stages.labels.label_content import recut_labels
from casewright.stages.labels.label_stage import label_paper
from casewright.stages.nested.offcut_stage import StockNest
from casewright.stages.shop.allotment_stage import CutSheet, cut_sheets
from casewright.stages.shop.sheet_stage import SheetFile, ShopFiles, lying, offcut_boxes
from casewright.wording import counted
from export.manifest import FileRole
from export.papers.pdf import pdf_bytes
from export.shop.recut import RecutPaper, RecutSheet, recut_source
from export.svg.sheet_map import MapLook, sheet_map_svg
from export.tables.csv_text import cut_size, shown_size
from export.tables.edge_bore_table import edge_bores_csv
from export.tables.label_table import labels_csv
from export.tables.recut_table import KIND_WORDS, RecutRow, recut_csv
from nesting.question.instance import StockKind
from parametric.lists.cut_list import CutList, Part
from parametric.stock.lengths import show_length
from parametric.stock.materials import Grain
from parametric.stock.paper import paper_for

TABLE, PAPER, LABELS = "recut.csv", "recut.pdf", "labels.pdf"
LABEL_LIST, EDGE_BORES = "shop/labels.csv", "shop/edge-bores.csv"
_MAP_TEXT = 1 / 34  # of the greater side: read on paper


@dataclass(frozen=True, slots=True, kw_only=True)
class CutAgain:
    """Parts that were nested again and drawn; `cut` has the nests with the files of their layouts,
    and `shop` all files together.
    """

    job: Job
    parts: tuple[Part, ...]
    reason: str
    cut: tuple[tuple[StockNest, tuple[SheetFile, ...]], ...]
    shop: ShopFiles

    @property
    def rows(self) -> tuple[RecutRow, ...]:
        """A row for each part on each layout."""
        return tuple(_rows(self))

    @property
    def told(self) -> tuple[str, ...]:
        """What the shop must know of it: full sheets that are taken."""
        return tuple(
            f"Offcuts do not suffice: {counted(each.nest.solution.sheets, 'full sheet')} of"
            f" {each.nest.group.material.key}{lying(each.nest.group.face_up)}, which the job has"
            " not counted"
            for each, _ in self.cut
            if each.kind is StockKind.SHEET
        )


def recut_files(made: CutAgain) -> dict[PurePosixPath, bytes]:
    """Return all files by path, with the manifest that lists them."""
    return listed(_files(made))


def _files(made: CutAgain) -> Iterator[LeftFile]:
    job, shop = made.job, made.shop
    for sheet in shop.sheets:
        yield LeftFile(path=sheet.path, role=FileRole.SHEET, content=sheet.content)
    for part in shop.parts:
        yield LeftFile(
            path=part.path,
            role=FileRole.PART,
            content=part.content,
            part=part.part,
            operation=part.operation,
        )
    labels = tuple(recut_labels(job, shop, made.parts, _cut_sheets(made)))
    again = CutList(parts=made.parts, bars=(), uses=())
    tables = (
        (TABLE, FileRole.RECUT, recut_csv(made.rows, made.reason)),
        (LABEL_LIST, FileRole.LABEL_LIST, labels_csv(labels)),
        (EDGE_BORES, FileRole.EDGE_BORES, edge_bores_csv(again)),
    )
    for path, role, text in tables:
        if text is not None:
            yield LeftFile(path=path, role=role, content=text.encode())
    paper = paper_for(job.units, job.paper)
    page = pdf_bytes(recut_source(_paper(made), paper))
    yield LeftFile(path=PAPER, role=FileRole.RECUT_PAPER, content=page)
    printed = label_paper(job.name, job.labels.parts, paper, labels)
    yield LeftFile(path=LABELS, role=FileRole.PART_LABELS, content=printed)


def _cut_sheets(made: CutAgain) -> Iterator[tuple[CutSheet, SheetFile]]:
    """Yield each sheet that is cut with its layout's file, in the order of work."""
    for each, files in made.cut:
        for sheet in cut_sheets((each.nest,), each.machine, ()):
            yield sheet, files[sheet.number - 1]


def _rows(made: CutAgain) -> Iterator[RecutRow]:
    names = {part.number: part.description for part in made.parts}
    for each, files in made.cut:
        for layout, file in zip(each.nest.solution.layouts, files, strict=True):
            for number, count in sorted(layout.counts().items()):
                yield RecutRow(
                    part=number,
                    name=names[number],
                    quantity=count * layout.runs,
                    material=each.nest.group.material.key,
                    kind=each.kind,
                    stock=layout.stock,
                    layout=file.path,
                )


def _paper(made: CutAgain) -> RecutPaper:
    units = made.job.units
    parts = {part.number: part for part in made.parts}
    total = sum(part.quantity for part in made.parts)
    sizes = {
        number: cut_size(part.panel.length_mm, part.panel.width_mm, units)
        for number, part in parts.items()
    }
    return RecutPaper(
        job=made.job.name,
        below=f"{counted(total, 'part')}, cut files of revision {made.shop.revision}",
        reason=made.reason,
        told=tuple(f"{words}." for words in made.told),
        rows=tuple(
            (
                row.part,
                row.name,
                sizes[row.part],
                str(row.quantity),
                f"{KIND_WORDS[row.kind]} {row.stock}",
                row.layout.removeprefix("shop/sheets/"),
            )
            for row in made.rows
        ),
        sheets=tuple(_sheet(made, each, file) for each, files in made.cut for file in files),
    )


def _sheet(made: CutAgain, each: StockNest, file: SheetFile) -> RecutSheet:
    entry, material, units = file.entry, each.nest.group.material, made.job.units
    trim = entry.trim_mm
    edges = sorted({trim.left, trim.right, trim.bottom, trim.top})
    trims = " to ".join(show_length(mm, units) for mm in dict.fromkeys((edges[0], edges[-1])))
    grain = material.grain is Grain.LENGTHWISE
    words = [
        f"{material.description}{lying(each.nest.group.face_up)}",
        shown_size(entry.length_mm, entry.width_mm, units),
        f"{trims} trimmed off",
        *(("its length is along the grain",) if grain else ()),
        f"cut {entry.runs} like this" if entry.runs > 1 else "cut one",
    ]
    svg = sheet_map_svg(
        file.read,
        made.shop.layers,
        title=entry.stock,
        runs=entry.runs,
        units=units,
        offcuts=offcut_boxes(entry.offcuts),
        at_risk=file.at_risk,
        cut_order=file.cut_order,
        look=MapLook(
            text_share=_MAP_TEXT,
            titled=False,
            upright=True,
            origin="origin",
            grain="grain" if grain else "",
        ),
    )
    return RecutSheet(
        title=f"{KIND_WORDS[each.kind].capitalize()} {entry.stock}: {entry.file}",
        below="; ".join(words),
        map_svg=svg,
    )
