"""From sets, steps, kits and room fits to what the papers for the site are made from."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from casewright.job import Job, Room
from casewright.progress import Progress
from casewright.stages.sets.set_findings import set_place
from casewright.stages.sets.set_stage import SetsOfJob
from casewright.stages.site.alike_words import alike_words
from casewright.stages.site.room_lines import RoomDrawn, room_drawn
from casewright.stages.site.room_work import before_lines, bits_to_bring, closing_step
from casewright.stages.site.site_content import set_sheets
from casewright.stages.site.site_pictures import article_letters, step_pictures
from export.file_paths import safe_names
from export.labels.stock import LabelStock
from export.papers.typesetting import Source
from export.site.content import SetSheets
from export.site.installation import installation_source
from parametric.findings.screw_loads import screw_loads
from parametric.geometry.hand import Hand
from parametric.kit.kit import Kit
from parametric.kit.set_kit import SetKit
from parametric.lists.piece_catalogue import PieceCatalogue
from parametric.pictures.scene import scenes_of
from parametric.rooms.fitting import Fitting
from parametric.rooms.room_fit import RoomFit
from parametric.solids.set_model import SetModel
from parametric.steps.order import NoOrder, steps_of
from parametric.steps.site_rates import SiteRates
from parametric.steps.site_time import site_time
from parametric.steps.step import Step
from parametric.stock.amounts import Words
from parametric.stock.lengths import Units, show_length, show_on_tape
from parametric.stock.paper import Paper, paper_for
from parametric.strength.loads import Loads

SetKey = tuple[str, Hand]
USUAL_FITTING = Fitting()


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteSet:
    """One set in one hand with all that its papers need; `numbers` are what delivered pieces are
    marked with, by the part that each goes by; `alike` says of loose bars, by their numbers, what
    is easily taken for them; `screw_loads` what a wall screw of a part bears,
    `set_minutes` how long adhesive takes to set.
    """

    model: SetModel
    numbers: Mapping[str, str]
    alike: Mapping[str, str] = field(default_factory=dict)
    steps: tuple[Step, ...]
    kit: Kit
    screw_loads: Mapping[str, Words] = field(default_factory=dict)
    rates: SiteRates = field(default_factory=SiteRates)
    set_minutes: float | None = None

    @property
    def effort(self) -> str:
        """Screws and hours in words."""
        return site_time(self.model.room_set.assembly, self.steps, self.rates).words

    @property
    def key(self) -> SetKey:
        """Name and hand."""
        return self.model.room_set.name, self.model.room_set.hand


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteWork:
    """What all papers for the site are made from, and the paper that they are set for.

    By set and hand: `names` for files, and the installation `sheets`, whose revision the room pages
    tell. `rooms` are those whose set can be put up. Rooms that nobody measured have no fit.
    `box_labels` is the stock of labels for boxes, None the usual one.
    """

    job: str
    sets: tuple[SiteSet, ...]
    names: Mapping[SetKey, str]
    sheets: Mapping[SetKey, Source]
    rooms: tuple[Room, ...]
    fits: Mapping[str, RoomFit]
    units: Units
    paper: Paper
    loads: Loads = field(default_factory=Loads)
    fitting: Fitting = field(default_factory=Fitting)
    box_labels: LabelStock | None = None


def site_work(
    job: Job,
    sets: SetsOfJob,
    pieces: PieceCatalogue,
    kits: Iterable[SetKit],
    progress: Progress,
) -> SiteWork:
    """Return what the papers of a job are made from; a set that cannot be put up in any order has
    none. `pieces` are those of the sets, `kits` too, in their order.
    """

    def show(length_mm: float) -> str:
        return show_on_tape(length_mm, job.units)

    def closely(length_mm: float) -> str:
        return show_length(length_mm, job.units)

    site_sets = []
    for each, kit in zip(sets.sets, kits, strict=True):
        assembly = each.model.room_set.assembly
        try:
            steps = steps_of(assembly, show, each.model.room_set.outwards, closely)
        except NoOrder:
            continue  # its finding says so
        numbers = pieces.marks((each.used.sizes.name, each.used.hand))
        where = set_place(each.used.sizes.name, each.used.hand)
        loose = [bar for bar in sets.cut_list.bars if bar.number in numbers.values()]
        site_sets.append(
            SiteSet(
                model=each.model,
                numbers=numbers,
                alike=alike_words(loose, job.units),
                steps=steps,
                kit=kit.kit,
                screw_loads=screw_loads(where, assembly, each.findings),
                rates=job.site_rates,
                set_minutes=job.supplies.adhesive_set_minutes,
            )
        )
    able = {each.key for each in site_sets}
    rooms = [room for room in job.rooms if (room.set_name, room.hand) in able]
    work = work_for(
        job.name,
        site_sets,
        rooms,
        [fit for _, fit in sets.fits],
        job.units,
        paper_for(job.units, job.paper),
        progress,
        job.fitting,
    )
    return replace(work, loads=job.loads, box_labels=job.labels.boxes)


def work_for(
    job: str,
    sets: Sequence[SiteSet],
    rooms: Iterable[Room],
    fits: Iterable[RoomFit],
    units: Units,
    paper: Paper,
    progress: Progress | None = None,
    fitting: Fitting = USUAL_FITTING,
) -> SiteWork:
    """Return what the papers of these sets and rooms are made from, the steps' pictures drawn."""
    names = safe_names(f"{name}-{hand}" for name, hand in (each.key for each in sets))
    listed, by_room = tuple(rooms), {fit.room: fit for fit in fits}
    sheets: dict[SetKey, Source] = {}
    for each in sets:
        own = [
            by_room[room.number]
            for room in listed
            if (room.set_name, room.hand) == each.key and room.number in by_room
        ]
        measured = [room.measured for room in listed if (room.set_name, room.hand) == each.key]
        around_it = room_drawn(measured, own, fitting)
        made = _sheets(job, each, own, fitting, units, around_it)
        sheets[each.key] = installation_source(made, paper)
        if progress is not None:
            progress.step(f"steps of {names['-'.join(each.key)]}")
    return SiteWork(
        job=job,
        sets=tuple(sets),
        names={each.key: names["-".join(each.key)] for each in sets},
        sheets=sheets,
        rooms=listed,
        fits=by_room,
        units=units,
        paper=paper,
        fitting=fitting,
    )


def _sheets(
    job: str,
    each: SiteSet,
    fits: Sequence[RoomFit],
    fitting: Fitting,
    units: Units,
    around_it: RoomDrawn,
) -> SetSheets:
    """Return the installation sheets of a set; `fits` are those of its rooms, `around_it` is what
    most of them have.
    """
    room_set, worked = each.model.room_set, each.model.machining
    closing = closing_step(len(each.steps) + 1, room_set, each.kit, fits, fitting, units)
    steps = (*each.steps, closing)
    scenes = tuple(scenes_of(room_set.assembly, worked, steps, room_set.outwards))
    letters = article_letters(room_set.assembly, steps)
    taken = [room_set.assembly.joints[at] for step in steps for at in step.joints]
    return set_sheets(
        job,
        room_set,
        list(zip(steps, scenes, strict=True)),
        step_pictures(room_set, worked, steps, scenes, each.numbers, letters, around_it),
        tuple(before_lines(fits, units)),
        each.kit,
        each.numbers,
        each.alike,
        letters,
        "; ".join(filter(None, (each.effort, bits_to_bring(taken)))),
        units,
        each.set_minutes,
    )
