"""The files of the command's output folder, in memory."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import PurePosixPath
from typing import NamedTuple

from casewright.commands.nest_command.material_name import MaterialName
from casewright.commands.nest_command.options import Book, NestOptions
from casewright.output.left_file import LeftFile, listed
from casewright.stages.shop.cut_file_check import refuse_broken
from export.file_paths import safe_names
from export.layer_table import LayerTable
from export.manifest import FileRole
from export.nest_json import nest_json
from export.placed_boxes import placed_boxes
from export.plain_sheet import plain_layers, plain_sheet
from export.saw_text import saw_lines
from export.summary.nest_page import nest_html
from export.svg.sheet_map import sheet_map_svg
from export.tables.nest_list_table import nest_list_csv
from export.tables.offcut_stock_table import OffcutsOfSheets, offcut_stock_csv
from export.tables.placement_table import placements_csv
from export.tables.saw_book_table import saw_books_csv
from export.tables.saw_cut_table import saw_cuts_csv
from export.tables.what_if_table import WhatIfRow, what_if_csv
from nesting.answer.nest_answer import NestAnswer, SheetPlan
from nesting.edge_to_edge.books import LayoutBooks, SawWorkload, saw_workload
from nesting.question.instance import Defect
from nesting.question.ticks import to_mm
from parametric.geometry.outline import Bounds
from parametric.stock.lengths import Units


@dataclass(frozen=True, slots=True, kw_only=True)
class NestFiles:
    """The nest of one material, blank where a list tells of none, and its files."""

    material: str
    name: MaterialName
    answer: NestAnswer
    files: tuple[LeftFile, ...]


class _Drawn(NamedTuple):
    dxf: bytes
    svg: str


def list_files(nests: Sequence[NestFiles]) -> dict[PurePosixPath, bytes]:
    """Return the files of all nests with a manifest that lists them.

    Several nests have a folder each, named by the material, and a table of all of them beside.
    """
    files = [
        LeftFile(path="offcuts.csv", role=FileRole.OFFCUTS, content=_kept_offcuts(nests).encode())
    ]
    if len(nests) == 1:
        files += nests[0].files
    else:
        names = safe_names(nest.material for nest in nests)
        for nest in nests:
            files += below(names[nest.material], nest.files)
        table = nest_list_csv((nest.material, names[nest.material], nest.answer) for nest in nests)
        files.append(LeftFile(path="nests.csv", role=FileRole.YIELD, content=table.encode()))
    return listed(files)


def what_if_files(
    rows: Sequence[WhatIfRow], nests: Iterable[NestFiles]
) -> dict[PurePosixPath, bytes]:
    """Return the table of all ways, and the files of each way's nest in its folder."""
    folders = (row.folder for row in rows if row.answer is not None)
    files = [LeftFile(path="what-if.csv", role=FileRole.YIELD, content=what_if_csv(rows).encode())]
    for folder, nest in zip(folders, nests, strict=True):
        files += below(folder, nest.files)
    return listed(files)


def below(folder: str, files: Iterable[LeftFile]) -> Iterator[LeftFile]:
    """Yield the files in a folder."""
    return (replace(file, path=f"{folder}/{file.path}") for file in files)


def _kept_offcuts(nests: Iterable[NestFiles]) -> str:
    return offcut_stock_csv(
        OffcutsOfSheets(nest.name.material, nest.name.thickness, plan.layout.runs, plan.offcuts)
        for nest in nests
        for plan in nest.answer.sheets
    )


def nest_files(
    title: str, answer: NestAnswer, options: NestOptions, drawn: Callable[[int], None]
) -> tuple[LeftFile, ...]:
    """Return all files of a nest; `drawn` hears how many of its sheets are done.

    Raises:
        BrokenCutFile: a written DXF differs from its layout; a bug.
    """
    workload = saw_books(answer, options.book)
    books = workload.layouts if workload is not None else (None,) * len(answer.sheets)
    layers = plain_layers()
    sheets: dict[int, _Drawn] = {}
    for plan, book in zip(answer.sheets, books, strict=True):
        sheets[plan.number] = _drawn(plan, book, layers, options.units)
        drawn(plan.number)
    # The page first: of thousands of maps, the fewest copies are then in memory at once.
    maps = {number: sheet.svg for number, sheet in sheets.items()}
    page = nest_html(title, answer, maps, options.units).encode()
    files: list[LeftFile] = []
    for number, sheet in sheets.items():
        name = f"sheets/{number:03d}"
        files.append(LeftFile(path=f"{name}.dxf", role=FileRole.SHEET, content=sheet.dxf))
        files.append(
            LeftFile(path=f"{name}.svg", role=FileRole.SHEET_MAP, content=sheet.svg.encode())
        )
    files += _tables(answer, workload, options.units)
    files.append(LeftFile(path="summary.html", role=FileRole.SUMMARY, content=page))
    return tuple(files)


def saw_books(answer: NestAnswer, book: Book | None) -> SawWorkload | None:
    """Return how many sheets the saw cuts at once, where that is asked for."""
    if book is None:
        return None
    sequences = ((plan.sequence, plan.layout.runs) for plan in answer.sheets)
    return saw_workload(
        ((sequence, runs) for sequence, runs in sequences if sequence is not None),
        thickness_mm=book.thickness_mm,
        largest_book_mm=book.largest_mm,
    )


def _tables(answer: NestAnswer, workload: SawWorkload | None, units: Units) -> Iterator[LeftFile]:
    yield LeftFile(path="nest.json", role=FileRole.NEST, content=nest_json(answer).encode())
    placements = placements_csv(answer.sheets, units, answer.further)
    yield LeftFile(path="placements.csv", role=FileRole.PLACEMENTS, content=placements.encode())
    sequences = [plan.sequence for plan in answer.sheets if plan.sequence is not None]
    if sequences:
        cuts = saw_cuts_csv(sequences, units)
        yield LeftFile(path="saw-cuts.csv", role=FileRole.SAW_CUTS, content=cuts.encode())
    if workload is not None:
        yield LeftFile(
            path="saw-books.csv", role=FileRole.SAW_BOOKS, content=saw_books_csv(workload).encode()
        )


def _drawn(plan: SheetPlan, books: LayoutBooks | None, layers: LayerTable, units: Units) -> _Drawn:
    (stock,) = plan.instance.stocks
    ordered = plan.layout_in_order
    sheet = plain_sheet(plan.instance, ordered, layers)
    refuse_broken(f"sheets/{plan.number:03d}.dxf", sheet.problems)
    notes = () if plan.sequence is None else saw_lines(plan.sequence, units, books)
    svg = sheet_map_svg(
        sheet.content,
        layers,
        title=f"Layout {plan.number}, {stock.id}",
        runs=plan.layout.runs,
        units=units,
        offcuts=tuple(_rectangle(o.x, o.y, o.length, o.width) for o in plan.offcuts),
        at_risk=placed_boxes(plan.instance, plan.at_risk),
        cut_order=placed_boxes(plan.instance, plan.order),
        defects=tuple(_defect(defect) for defect in stock.defects),
        notes=notes,
    )
    return _Drawn(sheet.dxf, svg)


def _defect(defect: Defect) -> Bounds:
    return _rectangle(defect.x, defect.y, defect.length, defect.width)


def _rectangle(x: int, y: int, length: int, width: int) -> Bounds:
    return Bounds(to_mm(x), to_mm(y), to_mm(x + length), to_mm(y + width))
