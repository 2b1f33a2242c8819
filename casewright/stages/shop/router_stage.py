"""What the job's cut files ask of the router, reckoned from what was read back of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import fsum

from casewright.job import Job, Machine
from casewright.stages.nest.nest_stage import Nest
from casewright.stages.nested.nested_stage import Nested
from casewright.stages.shop.sheet_stage import PartFile, SheetFile, ShopFiles
from export.layer_table import LayerRole, LayerTable
from export.manifest import RouterEntry
from export.routing.machine_rates import Bit, assumed_bits
from export.routing.routed_file import RoutedFile
from export.routing.router_work import router_work
from parametric.lists.cut_list import Part
from parametric.lists.face_up import FaceUp, face_up
from parametric.lists.operations import Operation


@dataclass(frozen=True, slots=True, kw_only=True)
class RoutedSheet:
    """A layout of a nest, `number` of it, with its file and what that asks for."""

    number: int
    sheet: SheetFile
    routed: RoutedFile


@dataclass(frozen=True, slots=True, kw_only=True)
class RoutedPart:
    """A part in its second operation, with its file and what that asks for."""

    part: Part
    file: PartFile
    routed: RoutedFile


@dataclass(frozen=True, slots=True, kw_only=True)
class RoutedNest:
    """The sheets of a nest in its order, and the second operations of its parts."""

    nest: Nest
    sheets: tuple[RoutedSheet, ...]
    second: tuple[RoutedPart, ...]

    @property
    def files(self) -> tuple[RoutedFile, ...]:
        """All that the router does for the nest."""
        sheets = (each.routed for each in self.sheets)
        return (*sheets, *(each.routed for each in self.second))

    @property
    def seconds(self) -> float:
        """The time of it, all runs counted."""
        return fsum(each.seconds for each in self.files)


@dataclass(frozen=True, slots=True, kw_only=True)
class RouterStage:
    """All nests in their order; `bits` are the machine's, or else `assumed`. It is not the `whole`
    job where a material was left out.
    """

    bits: tuple[Bit, ...]
    assumed: bool
    whole: bool
    nests: tuple[RoutedNest, ...]

    @property
    def files(self) -> tuple[RoutedFile, ...]:
        """All that the router does for the job."""
        return tuple(file for nest in self.nests for file in nest.files)


def router_stage(job: Job, shop: ShopFiles, nested: Nested) -> RouterStage:
    """Return what the cut files of the job ask for."""
    bits = bits_for(job.machine, job.routing.bit_diameter_mm, shop.layers)
    sheets = iter(shop.sheets)
    return RouterStage(
        bits=bits,
        assumed=not job.machine.bits,
        whole=not nested.left_out,
        nests=tuple(
            RoutedNest(
                nest=nest,
                sheets=tuple(
                    _sheet(nest, number, next(sheets), shop.layers, bits, job.machine)
                    for number in range(1, nest.solution.distinct + 1)
                ),
                second=tuple(_second(nest, shop, bits, job.machine)),
            )
            for nest in nested.nests
        ),
    )


def bits_for(machine: Machine, bit_diameter_mm: float, layers: LayerTable) -> tuple[Bit, ...]:
    """Return the bits of the machine file, or those that are assumed where it lists none."""
    drills = tuple(
        layer.diameter_mm
        for layer in layers.layers
        if layer.role is LayerRole.BORE and layer.diameter_mm is not None
    )
    return machine.bits or assumed_bits(bit_diameter_mm, drills)


def router_entries(files: Iterable[RoutedFile]) -> tuple[RouterEntry, ...]:
    """Return what files ask of the router as the manifest lists it."""
    return tuple(
        RouterEntry(
            file=each.file,
            runs=each.runs,
            path_mm=round(each.work.path_mm, 3),
            plunges=each.work.plunges,
            tool_changes=each.work.tool_changes,
            seconds=round(each.work.seconds, 3),
            not_counted=tuple(name for run in each.work.missing for name in run.layers),
        )
        for each in files
    )


def _sheet(
    nest: Nest,
    number: int,
    sheet: SheetFile,
    layers: LayerTable,
    bits: tuple[Bit, ...],
    machine: Machine,
) -> RoutedSheet:
    material = nest.group.material
    work = router_work(
        sheet.read.drawing,
        layers,
        material.thickness_mm,
        bits,
        machine.times,
        machine.times.sheet_s(len(sheet.cut_order)),
    )
    routed = RoutedFile(
        file=sheet.path,
        material=material.key,
        face_up=nest.group.face_up,
        operation=Operation.FIRST,
        runs=sheet.entry.runs,
        work=work,
    )
    return RoutedSheet(number=number, sheet=sheet, routed=routed)


def _second(
    nest: Nest, shop: ShopFiles, bits: tuple[Bit, ...], machine: Machine
) -> Iterator[RoutedPart]:
    parts = {part.number: part for part in nest.group.parts}
    for file in shop.parts:
        part = parts.get(file.part)
        if part is None or file.operation is not Operation.SECOND:
            continue
        work = router_work(
            file.read.drawing,
            shop.layers,
            part.material.thickness_mm,
            bits,
            machine.times,
            machine.times.second_s,
        )
        routed = RoutedFile(
            file=file.path,
            material=part.material.key,
            face_up=turned_over(face_up(part)),
            operation=Operation.SECOND,
            runs=part.quantity,
            work=work,
        )
        yield RoutedPart(part=part, file=file, routed=routed)


def turned_over(face: FaceUp) -> FaceUp:
    """Return which face of a part looks up once it is turned over."""
    return {FaceUp.FRONT: FaceUp.BACK, FaceUp.BACK: FaceUp.FRONT}.get(face, face)
