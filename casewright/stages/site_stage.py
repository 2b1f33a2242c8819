"""From sets, steps, kits and room fits to the papers for the site, as PDF."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import PurePosixPath

from casewright.job import Job, Room
from casewright.progress import BuildProgress
from casewright.stages.blocking_content import blocking_plan
from casewright.stages.kit_stage import kits_of
from casewright.stages.set_stage import SetsOfJob
from casewright.stages.site_content import amount, kit_rows, room_page, set_sheets
from casewright.stages.site_pictures import step_pictures
from export.file_paths import safe_names
from export.site.blocking import blocking_source
from export.site.content import Paper, PickList
from export.site.installation import installation_source
from export.site.pdf import pdf_bytes
from export.site.rooms import pick_list_source, rooms_source
from parametric.geometry.hand import Hand
from parametric.kit.kit import Kit
from parametric.rooms.room_fit import RoomFit
from parametric.shapes.members import Leg, WallPlate
from parametric.solids.set_model import SetModel
from parametric.steps.order import NoOrder, steps_of
from parametric.steps.step import Step
from parametric.stock.lengths import Units, show_length

SetKey = tuple[str, Hand]


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteSet:
    """One set in one hand with all that its papers need; `numbers` are part numbers by name."""

    model: SetModel
    numbers: Mapping[str, str]
    steps: tuple[Step, ...]
    kit: Kit

    @property
    def key(self) -> SetKey:
        """Name and hand."""
        return self.model.room_set.name, self.model.room_set.hand


def paper_for(units: Units, named: Paper | None = None) -> Paper:
    """Return the paper that a job names, else letter with inches and A4 with millimetres."""
    if named is not None:
        return named
    return Paper.LETTER if units is Units.INCH else Paper.A4


def part_numbers(sets: SetsOfJob, model: SetModel) -> dict[str, str]:
    """Return the number of each part of a set by its name; bought things go by their article."""
    key = (model.room_set.name, model.room_set.hand)
    found = {u.board: u.number for u in sets.cut_list.uses if (u.set_name, u.hand) == key}
    for member in model.room_set.assembly.members:
        if isinstance(member, Leg | WallPlate):
            found[member.name] = member.hardware.key
        else:
            found[member.name] = sets.bar_numbers[*key, member.name]
    return found


def site_papers(job: Job, sets: SetsOfJob, progress: BuildProgress) -> dict[PurePosixPath, bytes]:
    """Return the papers of a job by path; a set that cannot be put up in any order has none.

    Raises:
        KernelFailure: the kernel cannot make a picture.
    """

    def show(length_mm: float) -> str:
        return show_length(length_mm, job.units)

    site_sets = []
    for each, kit in zip(sets.sets, kits_of(job), strict=True):
        assembly = each.model.room_set.assembly
        try:
            steps = steps_of(assembly, show)
        except NoOrder:
            continue  # its finding says so
        numbers = part_numbers(sets, each.model)
        site_sets.append(SiteSet(model=each.model, numbers=numbers, steps=steps, kit=kit.kit))
    able = {each.key for each in site_sets}
    rooms = [room for room in job.rooms if (room.set_name, room.hand) in able]
    return site_files(
        job.name,
        site_sets,
        rooms,
        [fit for _, fit in sets.fits],
        job.units,
        paper_for(job.units, job.paper),
        progress,
    )


def site_files(
    job: str,
    sets: Sequence[SiteSet],
    rooms: Sequence[Room],
    fits: Iterable[RoomFit],
    units: Units,
    paper: Paper,
    progress: BuildProgress | None = None,
) -> dict[PurePosixPath, bytes]:
    """Return the papers by path. Rooms without a fit are pages of rooms that nobody measured.

    Raises:
        KernelFailure: the kernel cannot make a picture.
    """
    names = safe_names(f"{name}-{hand}" for name, hand in (each.key for each in sets))
    files: dict[PurePosixPath, bytes] = {}
    revisions: dict[SetKey, str] = {}
    for each in sets:
        room_set, name = each.model.room_set, names["-".join(each.key)]
        pictures = step_pictures(each.model, each.steps, each.numbers)
        sheets = set_sheets(job, room_set, each.steps, pictures, each.kit, each.numbers, units)
        source = installation_source(sheets, paper)
        revisions[each.key] = source.revision
        files[PurePosixPath(f"site/install-{name}.pdf")] = pdf_bytes(source)
        plan = blocking_plan(job, room_set, units)
        if plan.walls:
            blocking = pdf_bytes(blocking_source(plan, paper))
            files[PurePosixPath(f"site/blocking-{name}.pdf")] = blocking
        if progress is not None:
            progress.step(f"installation of {name}")
    kits = {each.key: each.kit for each in sets}
    fitted = {fit.room: fit for fit in fits}
    pages = []
    for room in rooms:
        key = (room.set_name, room.hand)
        fit = fitted.get(room.number)
        pages.append(room_page(job, room, fit, kits[key], revisions[key], units))
    files[PurePosixPath("site/rooms.pdf")] = pdf_bytes(rooms_source(job, pages, paper))
    picks = pdf_bytes(pick_list_source(pick_list(job, kits, rooms), paper))
    files[PurePosixPath("site/pick-list.pdf")] = picks
    return files


def pick_list(job: str, kits: Mapping[SetKey, Kit], rooms: Iterable[Room]) -> PickList:
    """Return what the store packs: one box for each room."""
    counts = Counter((room.set_name, room.hand) for room in rooms)
    return PickList(
        job=job,
        sets=tuple(
            (
                f"{key[0]}, {key[1]} hand",
                counts[key],
                tuple(
                    (row[0], amount(line.packed * counts[key], line.unit), row[2])
                    for line, row in zip(kit.lines, kit_rows(kit), strict=True)
                    if line.supplied
                ),
            )
            for key, kit in kits.items()
            if counts[key]
        ),
    )
