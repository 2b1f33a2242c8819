"""The command from its table to its output folder."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from casewright.commands.panels_command.files import CutPanels, panel_files
from casewright.errors import CannotBeMade, Fault, InputErrors
from casewright.intake.catalogue import board_materials, read_libraries
from casewright.intake.read_machine import Router, read_machine_file
from casewright.intake.read_panels import read_panels
from casewright.job import DrawnPanel, Machine
from casewright.output.folder import Request, claimed
from casewright.progress import Progress
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.nest.nest_stage import Nest, nest_groups, sheet_rules
from casewright.stages.nested.nest_run import nest_all
from casewright.stages.panels.drawn_panels import add_panels
from casewright.stages.panels.panel_stage import files_of, read_drawn_panels
from casewright.stages.sets.stock_check import refuse_missed, sheet_checks
from casewright.stages.shop.sheet_stage import shop_files
from casewright.terminal.show import nest_table, shown_progress
from casewright.terminal.terminal_text import tell, tell_words
from casewright.wording import counted
from casewright.written import Written
from export.errors import LayerNameFault, UnfitDrawing
from parametric.lists.cut_list import CutList
from parametric.lists.part_catalogue import PartCatalogue
from parametric.stock.lengths import Units
from parametric.stock.materials import SheetMaterial

BYTES_OF_A_ROW = 60_000


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelFiles:
    """The files that ask."""

    table: Path
    materials: tuple[Path, ...]
    machine: Path

    @property
    def all(self) -> tuple[Path, ...]:
        """All of them."""
        return (self.table, *self.materials, self.machine)


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelJob:
    """What the files ask for; `units` are those of the machine's file."""

    rows: tuple[DrawnPanel, ...]
    materials: tuple[SheetMaterial, ...]
    router: Router

    @property
    def machine(self) -> Machine:
        """The router."""
        return self.router.machine

    @property
    def units(self) -> Units:
        """The units that lists and maps show."""
        return self.router.source.units


@dataclass(frozen=True, slots=True)
class _Shown:
    nests: tuple[Nest, ...]


def cut_panels(
    files: PanelFiles, settings: NestSettings, request: Request, written: Written
) -> None:
    """Read the panels, nest them, write the output folder and print the closing table.

    Raises:
        CasewrightError: something that the user can put right; nothing is written then.
        KeyboardInterrupt, Cancelled: Ctrl-C.
    """
    job = read_panel_job(files)
    claim = replace(
        request,
        inputs=(*files.all, *files_of(job.rows)),
        expected_bytes=len(job.rows) * BYTES_OF_A_ROW,
    )
    with claimed(claim) as output:
        with shown_progress() as progress:
            made = cut(files.table.stem, job, settings, progress)
            contents = panel_files(made)
        with written.writing(request.folder):
            output.write(contents)
    parts = made.cut_list.parts
    total = sum(part.quantity for part in parts)
    tell_words(f"{files.table.name}: {counted(len(parts), 'different panel')}, {total} in all")
    tips = sum(source.tips for source in made.sources)
    if tips:
        bores = counted(tips, "bore")
        tell_words(f"{bores} with the tip of a drill: the depth is that of the full diameter.")
    nest_table(_Shown(made.nests)).tell()
    tell(f"Written to {request.folder}; open {request.folder / 'summary.html'}")


def read_panel_job(files: PanelFiles) -> PanelJob:
    """Return what the files ask for; STEP files are not read yet.

    Raises:
        InputErrors: a file cannot be used; all faults.
    """
    faults: list[Fault] = []
    materials = board_materials(read_libraries(files.materials, faults))
    router = read_machine_file(files.machine, faults)
    rows = read_panels(files.table, (each.key for each in materials), faults)
    if not faults:
        faults += _lacks(files, materials, rows)
    if faults or router is None:
        raise InputErrors(tuple(dict.fromkeys(faults)))
    return PanelJob(rows=rows, materials=materials, router=router)


def _lacks(
    files: PanelFiles, materials: Sequence[SheetMaterial], rows: Sequence[DrawnPanel]
) -> list[Fault]:
    """Return what is missing altogether."""
    faults = []
    if not materials:
        faults.append(_nothing(files.materials[0], "no board materials", "materials in a library"))
    if not rows:
        faults.append(_nothing(files.table, "no row with a quantity", "a row for each panel"))
    return faults


def _nothing(file: Path, found: str, allowed: str) -> Fault:
    return Fault(
        file=file.as_posix(), line=1, column=None, key_path="", found=found, allowed=allowed
    )


def cut(title: str, job: PanelJob, settings: NestSettings, progress: Progress) -> CutPanels:
    """Return the panels as parts, nested, with their cut files.

    Raises:
        InputErrors: a solid is no panel of a material.
        DoesNotFit: the stock does not suffice.
        CannotBeMade: the machine's layer names clash for these panels.
    """
    catalogue = PartCatalogue(0.0)  # nothing is banded, so nothing is milled off for it
    panels = read_drawn_panels(job.rows, job.materials, job.units, progress)
    sources = add_panels(panels, catalogue)
    cut_list = CutList(parts=catalogue.parts(), bars=(), uses=())
    groups = nest_groups(cut_list.parts)
    refuse_missed(sheet_checks(groups, sheet_rules(job.machine), job.units))
    nests = nest_all(cut_list, job.machine, settings, progress, job.units)
    try:
        shop = shop_files(job, cut_list, nests, settings, progress)
    except LayerNameFault as error:
        raise CannotBeMade(f"machine {job.machine.name}: layer_names: {error}") from error
    except UnfitDrawing as error:
        raise CannotBeMade(str(error)) from error
    return CutPanels(
        title=title,
        machine=job.machine,
        units=job.units,
        cut_list=cut_list,
        sources=sources,
        nests=nests,
        shop=shop,
    )
