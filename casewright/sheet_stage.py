"""From nests and cut list to the shop's files: DXF of sheets and parts, checked as written."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import PurePosixPath

from casewright.job import Job
from casewright.nest_stage import Nest
from casewright.progress import BuildProgress
from export.drawing.panel_drawing import Operation, operations, panel_drawing
from export.drawing.sheet_drawing import sheet_drawing
from export.dxf.reader import read_dxf
from export.dxf.writer import dxf_bytes
from export.file_paths import part_file, safe_names, sheet_file
from export.layer_table import LayerTable, layer_table
from export.manifest import FaceUp, LayoutEntry, NestEntry
from export.sheet_check import part_problems, sheet_problems
from export.sheet_problem import SheetProblem
from export.summary.content import SheetMap
from export.svg.sheet_map import sheet_map_svg
from nesting.solution import layout_yield
from parametric.cut_list import CutList
from parametric.lengths import show_length


class BrokenCutFile(RuntimeError):
    """A written DXF does not hold what it must: a bug, so nothing is put in place."""

    def __init__(self, path: str, problems: tuple[SheetProblem, ...]) -> None:
        """Keep the file and its problems."""
        first = problems[0]
        super().__init__(f"{path}: {first.where}: {first.fault}: {first.message}")
        self.path = path
        self.problems = problems


@dataclass(frozen=True, slots=True, kw_only=True)
class PartFile:
    """The DXF of a part in one operation."""

    part: str
    operation: Operation
    path: PurePosixPath
    content: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetFile:
    """The DXF of a layout with its map and its place in the manifest."""

    path: PurePosixPath
    content: bytes
    entry: LayoutEntry
    sheet_map: SheetMap


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopFiles:
    """Everything the router needs; `nests` are the manifest's entries."""

    layers: LayerTable
    parts: tuple[PartFile, ...]
    sheets: tuple[SheetFile, ...]
    nests: tuple[NestEntry, ...]


def shop_files(
    job: Job, cut_list: CutList, nests: tuple[Nest, ...], progress: BuildProgress
) -> ShopFiles:
    """Return the DXF files of all parts and layouts, each read back and compared.

    Raises:
        LayerNameFault: the machine's layer names cannot be used for this job.
        BrokenCutFile: a written file differs from what it was made from.
    """
    layers = layer_table(cut_list.parts, job.machine.layer_names, job.machine.largest_drill_mm)
    progress.stage("cut files", len(cut_list.parts) + sum(n.solution.distinct for n in nests))
    parts = tuple(part_files(job, cut_list, layers, progress))
    names = safe_names(nest.group.material.key for nest in nests)
    sheets: list[SheetFile] = []
    entries = []
    for nest in nests:
        files = tuple(nest_files(job, nest, nest_folder(nest, names), layers, progress))
        sheets.extend(files)
        entries.append(
            NestEntry(
                material=nest.group.material.key,
                thickness_mm=nest.group.material.thickness_mm,
                sheets=nest.solution.sheets,
                lower_bound=nest.solution.lower_bound,
                face_up=nest.group.face_up,
                layouts=tuple(file.entry for file in files),
            )
        )
    return ShopFiles(layers=layers, parts=parts, sheets=tuple(sheets), nests=tuple(entries))


def nest_folder(nest: Nest, names: dict[str, str]) -> str:
    """Return the folder of a nest: its material's, or one in it for sheets lying good face up."""
    name = names[nest.group.material.key]
    return f"{name}/good-face-up" if nest.group.face_up is FaceUp.FRONT else name


def part_files(
    job: Job, cut_list: CutList, layers: LayerTable, progress: BuildProgress
) -> Iterator[PartFile]:
    """Yield a file for each operation of each part, read back and compared with it.

    Raises:
        BrokenCutFile: a written file differs from its part.
    """
    for part in cut_list.parts:
        for operation in operations(part):
            drawing = panel_drawing(part, operation, layers)
            content = dxf_bytes(drawing, layers, job.machine.dxf_version)
            path = part_file(part.number, operation)
            refuse_broken(path, part_problems(read_dxf(content), part, operation, layers))
            yield PartFile(
                part=part.number, operation=operation, path=PurePosixPath(path), content=content
            )
        progress.step(part.number)


def nest_files(
    job: Job, nest: Nest, folder: str, layers: LayerTable, progress: BuildProgress
) -> Iterator[SheetFile]:
    """Yield a file for each layout of a nest, read back and compared with it.

    Raises:
        BrokenCutFile: a written file differs from its layout.
    """
    parts = {part.number: part for part in nest.group.parts}
    stocks = {sheet.key: sheet for sheet in nest.group.material.stock}
    for number, layout in enumerate(nest.solution.layouts, start=1):
        path = sheet_file(folder, number)
        stock = stocks[layout.stock]
        content = dxf_bytes(
            sheet_drawing(layout, parts, stock, layers), layers, job.machine.dxf_version
        )
        read = read_dxf(content)
        refuse_broken(
            path,
            sheet_problems(
                read, layout, parts, stock=stock, layers=layers, rules=nest.instance.rules
            ),
        )
        title = f"Sheet {number}{lying(nest.group.face_up)}"
        sheet_map = sheet_map_svg(read, layers, title=title, runs=layout.runs, units=job.units)
        yield SheetFile(
            path=PurePosixPath(path),
            content=content,
            entry=LayoutEntry(
                file=path,
                stock=stock.key,
                length_mm=stock.length_mm,
                width_mm=stock.width_mm,
                trim_mm=job.machine.sheet_trim_mm,
                gap_mm=job.machine.gap_mm,
                runs=layout.runs,
                share_used=layout_yield(nest.instance, layout),
            ),
            sheet_map=SheetMap(material=nest.group.material.description, file=path, svg=sheet_map),
        )
        progress.step(f"{folder} {number}, {show_length(stock.length_mm, job.units)}")


def lying(face_up: FaceUp) -> str:
    """Return how the sheet lies on the router, where that matters."""
    return {
        FaceUp.FRONT: ", good face up",
        FaceUp.BACK: ", good face down",
        FaceUp.EITHER: "",
    }[face_up]


def refuse_broken(path: str, problems: tuple[SheetProblem, ...]) -> None:
    """Raise for a file with problems.

    Raises:
        BrokenCutFile: there are any.
    """
    if problems:
        raise BrokenCutFile(path, problems)
