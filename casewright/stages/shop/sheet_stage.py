"""From nests and cut list to the shop's files: DXF of sheets and parts, checked as written."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Protocol

from casewright.job import Machine
from casewright.progress import Progress
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.nest.nest_stage import Nest, rounded_mm
from casewright.stages.shop.cut_file_check import refuse_broken
from export.drawing.panel_drawing import panel_drawing
from export.drawing.sheet_drawing import sheet_drawing
from export.dxf.content import DxfContent
from export.dxf.reader import read_dxf
from export.dxf.writer import dxf_bytes
from export.file_paths import (
    PART_FILES,
    SHEET_FILES,
    named,
    part_name,
    safe_names,
    sheet_name,
)
from export.layer_table import LayerTable, layer_table
from export.manifest import LayoutEntry, NestEntry, OffcutEntry, TrimEntry
from export.papers.revision import revision_of
from export.placed_boxes import placed_boxes
from export.sheet_check import part_problems, sheet_problems
from export.summary.content import SheetMap
from export.svg.sheet_map import sheet_map_svg
from nesting.after.cut_order import cut_order
from nesting.after.offcuts import Reusable, offcuts
from nesting.after.vacuum_risk import HoldLimits, risks
from nesting.answer.solution import Layout, layout_yield
from nesting.question.instance import Instance
from nesting.question.ticks import gap_ticks, to_mm
from parametric.geometry.outline import Bounds
from parametric.lists.cut_list import CutList
from parametric.lists.face_up import FaceUp
from parametric.lists.operations import Operation, operations
from parametric.stock.lengths import Units, show_length


class RouterJob(Protocol):
    """What the router must know of a job: the machine, and the units that maps show."""

    @property
    def machine(self) -> Machine:
        """The router."""

    @property
    def units(self) -> Units:
        """The units of lengths on maps."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartFile:
    """The DXF of a part in one operation, and what it was read back as."""

    part: str
    operation: Operation
    name: str
    content: bytes
    read: DxfContent

    @property
    def path(self) -> str:
        """Where it stands in the output folder."""
        return named(PART_FILES, self.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetFile:
    """The DXF of a layout with its map and its place in the manifest, and what it was read back as;
    parts in the order of cutting, and those at risk on a vacuum, as bounds on the sheet.
    """

    name: str
    content: bytes
    read: DxfContent
    entry: LayoutEntry
    sheet_map: SheetMap
    cut_order: tuple[Bounds, ...]
    at_risk: tuple[Bounds, ...]

    @property
    def path(self) -> str:
        """Where it stands in the output folder."""
        return named(SHEET_FILES, self.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopFiles:
    """Everything the router needs; `nests` are the manifest's entries."""

    layers: LayerTable
    parts: tuple[PartFile, ...]
    sheets: tuple[SheetFile, ...]
    nests: tuple[NestEntry, ...]

    @property
    def revision(self) -> str:
        """A short digest of all cut files: papers and labels of the same cuts bear the same."""
        parts, sheets = self.parts, self.sheets
        return revision_of([*(each.content for each in parts), *(each.content for each in sheets)])


def shop_files(
    job: RouterJob,
    cut_list: CutList,
    nests: tuple[Nest, ...],
    settings: NestSettings,
    progress: Progress,
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
                bound_kind=nest.solution.bound_kind,
                price=round(nest.solution.price, 6),
                price_bound=round(nest.solution.price_bound, 6),
                gap=round(nest.solution.gap, 6),
                seed=nest.solution.seed,
                effort=settings.effort.name.lower(),
                extra_seconds=settings.extra_seconds if nest.before is not None else 0.0,
                stop=nest.solution.stop,
                face_up=nest.group.face_up,
                rounded_mm=round(rounded_mm(nest.group, job.machine), 6),
                layouts=tuple(file.entry for file in files),
            )
        )
    return ShopFiles(layers=layers, parts=parts, sheets=tuple(sheets), nests=tuple(entries))


def nest_folder(nest: Nest, names: dict[str, str]) -> str:
    """Return the folder of a nest: its material's, or one in it for sheets lying good face up."""
    name = names[nest.group.material.key]
    return f"{name}/good-face-up" if nest.group.face_up is FaceUp.FRONT else name


def part_files(
    job: RouterJob, cut_list: CutList, layers: LayerTable, progress: Progress
) -> Iterator[PartFile]:
    """Yield a file for each operation of each part, read back and compared with it.

    Raises:
        BrokenCutFile: a written file differs from its part.
    """
    for part in cut_list.parts:
        for operation in operations(part):
            drawing = panel_drawing(part, operation, layers)
            content = dxf_bytes(drawing, layers, job.machine.dxf_version)
            name = part_name(part.number, operation)
            read = read_dxf(content)
            file = PartFile(
                part=part.number, operation=operation, name=name, content=content, read=read
            )
            refuse_broken(file.path, part_problems(read, part, operation, layers))
            yield file
        progress.step(part.number)


def nest_files(
    job: RouterJob, nest: Nest, folder: str, layers: LayerTable, progress: Progress
) -> Iterator[SheetFile]:
    """Yield a file for each layout of a nest, read back and compared with it.

    Raises:
        BrokenCutFile: a written file differs from its layout.
    """
    parts = {part.number: part for part in nest.group.parts}
    stocks = {sheet.key: sheet for sheet in nest.group.material.stock}
    limits = hold_limits(job.machine)
    left, right, bottom, top = job.machine.edges_mm
    for number, layout in enumerate(nest.solution.layouts, start=1):
        name = sheet_name(folder, number)
        path = named(SHEET_FILES, name)
        stock = stocks[layout.stock]
        ordered = replace(layout, placements=cut_order(nest.instance, layout, limits))
        content = dxf_bytes(
            sheet_drawing(ordered, parts, stock, layers), layers, job.machine.dxf_version
        )
        read = read_dxf(content)
        refuse_broken(
            path,
            sheet_problems(
                read, layout, parts, stock=stock, layers=layers, rules=nest.instance.rules
            ),
        )
        title = f"Sheet {number}{lying(nest.group.face_up)}"
        left_over = offcut_entries(nest.instance, layout, reusable_size(job.machine))
        at_risk = parts_at_risk(nest.instance, layout, limits)
        sheet_map = sheet_map_svg(
            read,
            layers,
            title=title,
            runs=layout.runs,
            units=job.units,
            offcuts=offcut_boxes(left_over),
            at_risk=at_risk,
        )
        yield SheetFile(
            name=name,
            content=content,
            read=read,
            entry=LayoutEntry(
                file=path,
                stock=stock.key,
                length_mm=stock.length_mm,
                width_mm=stock.width_mm,
                trim_mm=TrimEntry(left=left, right=right, bottom=bottom, top=top),
                gap_mm=job.machine.gap_mm,
                runs=layout.runs,
                share_used=layout_yield(nest.instance, layout),
                offcuts=left_over,
            ),
            sheet_map=SheetMap(material=nest.group.material.description, file=path, svg=sheet_map),
            cut_order=placed_boxes(nest.instance, ordered.placements),
            at_risk=at_risk,
        )
        progress.step(f"{folder} {number}, {show_length(stock.length_mm, job.units)}")


def hold_limits(machine: Machine) -> HoldLimits:
    """Return which parts the vacuum may not hold."""
    small = machine.small_parts
    return HoldLimits(
        least_area=round(small.area_cm2 * 100 * gap_ticks(1) ** 2), greatest_aspect=small.aspect
    )


def reusable_size(machine: Machine) -> Reusable:
    """Return the least offcut that is kept."""
    sides = gap_ticks(machine.offcut.length_mm), gap_ticks(machine.offcut.width_mm)
    return Reusable(longer=max(sides), shorter=min(sides))


def offcut_entries(
    instance: Instance, layout: Layout, reusable: Reusable
) -> tuple[OffcutEntry, ...]:
    """Return what is left of a sheet and worth keeping, the largest first."""
    return tuple(
        OffcutEntry(
            x_mm=to_mm(offcut.x),
            y_mm=to_mm(offcut.y),
            length_mm=to_mm(offcut.length),
            width_mm=to_mm(offcut.width),
        )
        for offcut in offcuts(instance, layout, reusable)
    )


def offcut_boxes(offcuts: Iterable[OffcutEntry]) -> tuple[Bounds, ...]:
    """Return offcuts as bounds on their sheet."""
    return tuple(Bounds(o.x_mm, o.y_mm, o.x_mm + o.length_mm, o.y_mm + o.width_mm) for o in offcuts)


def parts_at_risk(instance: Instance, layout: Layout, limits: HoldLimits) -> tuple[Bounds, ...]:
    """Return the parts that a vacuum may not hold, as bounds in millimetres on the sheet."""
    at_risk = (layout.placements[risk.placement] for risk in risks(instance, layout, limits))
    return placed_boxes(instance, at_risk)


def lying(face_up: FaceUp) -> str:
    """Return how the sheet lies on the router, where that matters."""
    return {
        FaceUp.FRONT: ", good face up",
        FaceUp.BACK: ", good face down",
        FaceUp.EITHER: "",
    }[face_up]
