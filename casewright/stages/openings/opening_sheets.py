"""What each choice of widths costs in sheets: the whole job, cut and nested anew with each."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from casewright.errors import CannotBeMade, DoesNotFit
from casewright.job import Job
from casewright.progress import Cancelled, Progress
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.nest.nest_stage import Nest
from casewright.stages.nested.nest_run import nest_all
from casewright.stages.openings.openings_stage import openings_of, with_decks
from casewright.stages.panels.drawn_panels import ReadPanel, add_panels, drawn_panels_of
from casewright.stages.sets.set_stage import read_used_set
from casewright.stages.sets.stock_check import board_checks, part_checks, refuse_missed
from casewright.stages.sets.used_sets import UsedSet, placed_sets, used_sets
from nesting.answer.solution import StopReason
from parametric.geometry.hand import Hand
from parametric.lists.cut_list import CutList
from parametric.lists.part_catalogue import PartCatalogue, ReadBoard
from parametric.rooms.opening_choices import ChoiceKind, SetOpenings, SizeChoice, size_choices
from parametric.rooms.opening_sizes import CountedChoice, JobSheets, MaterialSheets, OpeningSizes
from parametric.sets.composition import SetSizes

Chosen = tuple[SetOpenings, SizeChoice]


def opening_sizes(
    job: Job, set_name: str | None, settings: NestSettings, progress: Progress
) -> OpeningSizes:
    """Return the choices for each set with the sheets of the whole job, other sets as they are.

    Raises:
        OptionErrors: no room has that set, or no opening was measured that a set could fill.
        DoesNotFit: the job as it is does not fit its stock.
        CannotBeMade: a part of the job as it is cannot be built.
    """
    sets = openings_of(job, set_name)
    choices = [(openings, choice) for openings in sets for choice in size_choices(openings)]
    changed = [each for each in choices if each[1].kind is not ChoiceKind.AS_IT_IS]
    fewest = [each for each in choices if each[1].kind is ChoiceKind.FEWEST]
    progress.stage("sheets of each choice", 1 + len(changed) + (len(fewest) > 1))
    count = SheetCount(job, settings, progress.unheard())
    as_it_is = JobSheets(materials=count.of({}))
    progress.step("the job as it is")
    listed = []
    for openings, choice in choices:
        sheets = as_it_is
        if choice.kind is not ChoiceKind.AS_IT_IS:
            sheets = job_sheets(count, ((openings, choice),))
            progress.step(f"{openings.set_name}, {choice.kind}")
        listed.append(CountedChoice(openings=openings, choice=choice, sheets=sheets))
    all_fewest = None
    if len(fewest) > 1:
        all_fewest = job_sheets(count, fewest)
        progress.step("the fewest sizes of every set")
    return OpeningSizes(sets=sets, as_it_is=as_it_is, choices=tuple(listed), all_fewest=all_fewest)


def job_sheets(count: SheetCount, chosen: Iterable[Chosen]) -> JobSheets:
    """Return the sheets of the job with these choices, or why it cannot be cut with them."""
    decks_mm = {
        room.room: deck_mm
        for openings, choice in chosen
        for room, deck_mm in zip(openings.rooms, choice.decks_mm, strict=True)
    }
    try:
        return JobSheets(materials=count.of(decks_mm))
    except (CannotBeMade, DoesNotFit) as error:
        return JobSheets(materials=(), why_not=str(error))


class SheetCount:
    """Counts the sheets of one job with whatever widths are asked for.

    A set that was read from its solids once is kept, since most choices share most sets.
    """

    def __init__(self, job: Job, settings: NestSettings, progress: Progress) -> None:
        """Keep the job, how hard its nests try, and what may cancel them."""
        self._progress = progress
        self._job = job
        self._settings = settings
        self._drawn: tuple[ReadPanel, ...] | None = None
        self._read: dict[tuple[SetSizes, Hand], tuple[ReadBoard, ...]] = {}

    def of(self, decks_mm: Mapping[str, float]) -> tuple[MaterialSheets, ...]:
        """Return the sheets of the job with these widths by room, material by material.

        Raises:
            DoesNotFit: a part fits no stock sheet, or the sheets on hand do not suffice.
            CannotBeMade: a part cannot be built, or its cuts run into each other.
            Cancelled: the work was cancelled, or a search cut short: its sheets compare with
                nothing.
        """
        job = with_decks(self._job, decks_mm)
        refuse_missed(board_checks(job, placed_sets(job)))
        parts = PartCatalogue(job.routing.pre_mill_mm)
        for used in used_sets(job):
            parts.add_set(used.sizes.name, used.hand, self._boards(job, used), used.rooms)
        if self._drawn is None:
            self._drawn = drawn_panels_of(job, self._progress)
        add_panels(self._drawn, parts)
        cut_list = CutList(parts=parts.parts(), bars=(), uses=())
        refuse_missed(part_checks(job, cut_list))
        nests = nest_all(cut_list, job.machine, self._settings, self._progress, job.units)
        if any(nest.solution.stop is StopReason.CANCELLED for nest in nests):
            raise Cancelled
        return by_material(nests)

    def _boards(self, job: Job, used: UsedSet) -> tuple[ReadBoard, ...]:
        key = used.sizes, used.hand
        if key not in self._read:
            self._read[key] = read_used_set(job, used)
        return self._read[key]


def by_material(nests: tuple[Nest, ...]) -> tuple[MaterialSheets, ...]:
    """Return sheets and cost of each material, whichever way its sheets lie, in order."""
    found: dict[str, MaterialSheets] = {}
    for nest in nests:
        key, solution = nest.group.material.key, nest.solution
        before = found.get(key, MaterialSheets(material=key, sheets=0, cost=0.0, cost_bound=0.0))
        found[key] = MaterialSheets(
            material=key,
            sheets=before.sheets + solution.sheets,
            cost=before.cost + solution.price,
            cost_bound=before.cost_bound + solution.price_bound,
        )
    return tuple(found.values())
