"""The command from what is asked for to its output folder, and to what is kept of it."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from casewright.commands.recut_command.asked_parts import (
    Scanned,
    asked_parts,
    read_codes,
    refuse_changed,
)
from casewright.commands.recut_command.files import PAPER, CutAgain, recut_files
from casewright.commands.recut_command.kept_reasons import Kept, file_of, keep, kept_in
from casewright.commands.recut_command.read_offcuts import read_offcuts
from casewright.errors import CannotBeMade, OptionErrors, OptionFault
from casewright.intake.document import shown
from casewright.intake.entry import LengthIn
from casewright.job import Job
from casewright.output.folder import OutputFolder
from casewright.progress import Progress
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.nested.offcut_stage import (
    FullSheets,
    Offcut,
    RecutRules,
    StockNest,
    nest_on_offcuts,
)
from casewright.stages.sets.set_stage import SetsOfJob, model_sets
from casewright.stages.sets.stock_check import CODES
from casewright.stages.shop.sheet_stage import (
    SheetFile,
    ShopFiles,
    nest_files,
    nest_folder,
    part_files,
)
from casewright.terminal.show import Detail, show_findings, shown_progress
from casewright.terminal.terminal_text import TextTable, tell, tell_words
from casewright.wording import counted
from casewright.written import Written
from export.errors import LayerNameFault, UnfitDrawing
from export.file_paths import safe_names
from export.layer_table import layer_table
from export.tables.recut_table import KIND_WORDS
from nesting.question.instance import StockKind
from parametric.findings.finding import Severity
from parametric.findings.telling import told_findings
from parametric.lists.cut_list import CutList, Part
from parametric.stock.lengths import LengthError, Units

TRIM = LengthIn(0, 1000, "Lost along each edge of an offcut.")
LONGEST_REASON = 200
AS_USUAL = NestSettings()
_ENDING = {StockKind.REMNANT: "/offcuts", StockKind.SHEET: ""}


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What the command was asked for, as it was typed."""

    job_file: Path
    parts: tuple[str, ...]
    codes: tuple[str, ...]
    offcuts: tuple[Path, ...]
    full_sheets: FullSheets
    offcut_trim: str | None
    reason: str
    date: str
    build: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """The same, read as far as no part need be known for it."""

    asked: Asked
    trim_mm: float | None
    scanned: Scanned
    kept: Path | None


def read_asked(asked: Asked, job: Job) -> Read:
    """Return what the options say, and see that the reason can be kept.

    Raises:
        OptionErrors: one of them cannot be used.
        InputErrors: what stands where reasons are kept is no such table.
        OutputFolderError: the reason cannot be kept beside the job file.
    """
    faults = tuple(_faults(asked))
    if faults:
        raise OptionErrors(faults)
    trim_mm = _trim(asked.offcut_trim, job.units)
    kept = file_of(asked.job_file) if asked.reason else None
    if kept is not None:
        kept_in(kept)
    return Read(
        asked=asked,
        trim_mm=trim_mm,
        scanned=read_codes(asked.codes, asked.build, job.name),
        kept=kept,
    )


def recut_job(
    read: Read, job: Job, output: OutputFolder, written: Written, *, despite_failures: bool
) -> bool:
    """Cut the parts again, write the output folder, keep the reason and print what is cut from
    what; return whether that was done: failed findings keep it back.

    Raises:
        CasewrightError: something that the user can put right.
        KeyboardInterrupt, Cancelled: Ctrl-C.
    """
    with shown_progress() as progress:
        sets = model_sets(job, progress)
    if not despite_failures and _show_failed(sets, job.units):
        return False
    with shown_progress() as progress:
        made = cut_again(read, job, sets, progress)
        contents = recut_files(made)
    folder = output.request.folder
    with written.writing(folder):
        output.write(contents)
    if read.kept is not None:
        keep(read.kept, _kept(made, read.asked.date))
    _show(read, made, folder)
    return True


def _show_failed(sets: SetsOfJob, units: Units) -> bool:
    """Print findings that keep cut files back, if there are any, and return whether there are."""
    failed = tuple(
        finding
        for finding in sets.findings
        if finding.severity is Severity.FAIL and finding.code not in CODES
    )
    if failed:
        show_findings(told_findings(failed, units), Detail.KINDS)
        tell_words("Nothing is cut: findings failed; --despite-failures cuts all the same.")
    return bool(failed)


def cut_again(
    read: Read, job: Job, sets: SetsOfJob, progress: Progress, settings: NestSettings = AS_USUAL
) -> CutAgain:
    """Return the parts nested again, with their cut files read back and compared.

    Raises:
        OptionErrors: what is asked for is none of the job's parts, or not what it was.
        InputErrors: a list of offcuts cannot be used.
        DoesNotFit: a part finds no place.
        CannotBeMade: the machine's layer names clash for this job.
    """
    asked, cut_list = read.asked, sets.cut_list
    parts = asked_parts(asked.parts, read.scanned.codes, cut_list)
    rules = RecutRules(
        machine=job.machine, offcut_trim_mm=read.trim_mm, full_sheets=asked.full_sheets
    )
    materials = {part.material.key: part.material for part in cut_list.parts}
    offcuts = read_offcuts(asked.offcuts, materials.values(), job.units)
    _tell_others(offcuts, materials, progress)
    nests = nest_on_offcuts(parts, offcuts, rules, settings, progress, job.units)
    try:
        made = _drawn(job, cut_list, parts, nests, asked.reason, progress)
    except LayerNameFault as error:
        raise CannotBeMade(f"machine {job.machine.name}: layer_names: {error}") from error
    except UnfitDrawing as error:
        raise CannotBeMade(str(error)) from error
    files = {file.path: file.content for file in made.shop.parts}
    refuse_changed(read.scanned, parts, files, job.units)
    return made


def _drawn(
    job: Job,
    cut_list: CutList,
    parts: tuple[Part, ...],
    nests: Iterable[StockNest],
    reason: str,
    progress: Progress,
) -> CutAgain:
    """Return the cut files; layers are those of the whole job, as the router knows them."""
    layers = layer_table(cut_list.parts, job.machine.layer_names, job.machine.largest_drill_mm)
    listed = tuple(nests)
    layouts = sum(each.nest.solution.distinct for each in listed)
    progress.stage("cut files", len(parts) + layouts)
    again = CutList(parts=parts, bars=(), uses=())
    of_parts = tuple(part_files(job, again, layers, progress))
    names = safe_names(each.nest.group.material.key for each in listed)
    cut: list[tuple[StockNest, tuple[SheetFile, ...]]] = []
    for each in listed:
        folder = nest_folder(each.nest, names) + _ENDING[each.kind]
        router = replace(job, machine=each.machine)
        cut.append((each, tuple(nest_files(router, each.nest, folder, layers, progress))))
    sheets = tuple(file for _, files in cut for file in files)
    shop = ShopFiles(layers=layers, parts=of_parts, sheets=sheets, nests=())
    return CutAgain(job=job, parts=parts, reason=reason, cut=tuple(cut), shop=shop)


def _tell_others(offcuts: Iterable[Offcut], known: Iterable[str], progress: Progress) -> None:
    """Tell which materials of the lists no part of the job is made of: a name may be mistyped."""
    others = sorted({each.material for each in offcuts} - set(known))
    if others:
        progress.tell(f"Offcuts left alone, as no part of the job is made of {', '.join(others)}.")


def _faults(asked: Asked) -> Iterable[OptionFault]:
    """Yield what is wrong with the texts that are kept."""
    plain = asked.reason.isprintable() and len(asked.reason) <= LONGEST_REASON
    if not plain:
        allowed = f"a text of at most {LONGEST_REASON} characters on one line"
        yield OptionFault(option="--reason", found=shown(asked.reason), allowed=allowed)
    if asked.date:
        try:
            datetime.date.fromisoformat(asked.date)
        except ValueError:
            allowed = "a day such as 2031-05-09"
            yield OptionFault(option="--date", found=shown(asked.date), allowed=allowed)
        if not asked.reason:
            allowed = "a day with --reason, with which it is kept"
            yield OptionFault(option="--date", found=shown(asked.date), allowed=allowed)
    if asked.full_sheets is FullSheets.LEFT and not asked.offcuts:
        allowed = "it with --offcuts, the offcuts at hand"
        yield OptionFault(option="--offcuts-only", found="it alone", allowed=allowed)


def _trim(text: str | None, units: Units) -> float | None:
    """Return the trim of offcuts, None where it is that of sheets.

    Raises:
        OptionErrors: it is no length.
    """
    if text is None:
        return None
    try:
        return TRIM.read(text, units)
    except LengthError as problem:
        fault = OptionFault(option="--offcut-trim", found=problem.found, allowed=problem.allowed)
        raise OptionErrors((fault,)) from None


def _kept(made: CutAgain, date: str) -> Iterable[Kept]:
    """Yield a row for each part that was cut again."""
    for part in made.parts:
        own = [row for row in made.rows if row.part == part.number]
        stock = "; ".join(dict.fromkeys(f"{KIND_WORDS[row.kind]} {row.stock}" for row in own))
        yield Kept(part.number, str(part.quantity), made.reason, stock, date)


def _show(read: Read, made: CutAgain, folder: Path) -> None:
    total = sum(part.quantity for part in made.parts)
    tell_words(f"{made.job.name}: {counted(total, 'part')} cut again")
    table = TextTable()
    table.add_texts("part", "name")
    table.add_numbers("count")
    table.add_texts("from", "layout")
    for row in made.rows:
        table.add_row(
            row.part,
            row.name,
            str(row.quantity),
            f"{KIND_WORDS[row.kind]} {row.stock}",
            row.layout,
        )
    table.tell()
    for words in made.told:
        tell_words(f"{words}.")
    if read.kept is None:
        tell_words("Nothing is kept of it: no --reason was given.")
    else:
        tell(f"The reason is kept in {read.asked.job_file.parent / read.kept.name}")
    tell(f"Written to {folder}; open {folder / PAPER}")
