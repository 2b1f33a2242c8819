"""The findings about a job as a whole and its rooms; no solids are needed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from casewright.job import Job
from casewright.stages.sets.used_sets import PlacedSets
from parametric.findings.finding import Finding, Sense, Severity
from parametric.findings.measure import at_least
from parametric.rooms.lining import lining_findings
from parametric.rooms.room_findings import room_findings, turning_finding, unmeasured_finding
from parametric.rooms.room_fit import HandedFit
from parametric.rooms.run_findings import run_findings
from parametric.sets.room_set import RoomSet
from parametric.stock.amounts import Amount


def job_findings(job: Job, sets: PlacedSets, fits: Iterable[HandedFit]) -> tuple[Finding, ...]:
    """Return the findings about the job and its rooms, into which the sets go as `fits` say."""
    listed = tuple(fits)
    runs = (finding for each in sets.values() for finding in run_of(job, each, listed))
    boards = board_class_findings(job, sets)
    return (*use_findings(job), *boards, *fit_findings(job, listed), *of_linings(job, sets), *runs)


def fit_findings(job: Job, fits: Iterable[HandedFit]) -> Iterator[Finding]:
    """Yield the findings about how sets go into their rooms."""
    listed = [fit for _, fit in fits]
    for fit in listed:
        yield from room_findings(fit, job.fitting)
    if listed:
        yield unmeasured_finding(listed)
        if (turning := turning_finding(listed)) is not None:
            yield turning


def of_linings(job: Job, sets: PlacedSets) -> Iterator[Finding]:
    """Yield what wall screws bear in rooms whose lining was measured to be thick."""
    for room in job.rooms:
        room_set = sets[room.set_name, room.hand]
        lining_mm = room.measured.wall_lining_mm
        yield from lining_findings(room.number, room_set, lining_mm, job.loads)


def run_of(job: Job, room_set: RoomSet, fits: Iterable[HandedFit]) -> Iterator[Finding]:
    """Yield how tolerances bear on the room beyond one set, in the rooms that have it."""
    its = room_set.name, room_set.hand
    its_fits = [fit for hand, fit in fits if (fit.set_name, hand) == its]
    yield from run_findings(room_set, its_fits, job.fitting, job.routing)


def board_class_findings(job: Job, sets: PlacedSets) -> Iterator[Finding]:
    """Yield whether boards are of the formaldehyde class that the job asks for; nothing where it
    asks for none.
    """
    if job.formaldehyde is None:
        return
    boards = (board for each in sets.values() for board in each.assembly.boards)
    classes = {board.material.key: board.material.formaldehyde for board in boards}
    others = [
        f"{key}: {stated or 'not stated'}"
        for key, stated in sorted(classes.items())
        if stated != job.formaldehyde
    ]
    yield Finding(
        code="board-class",
        severity=Severity.WARN if others else Severity.OK,
        where="materials",
        message=f"formaldehyde class is not {job.formaldehyde}: {', '.join(others)}"
        if others
        else f"all boards are stated to be {job.formaldehyde}",
        measured=float(len(others)),
        sense=Sense.AT_MOST,
        limit=0.0,
        unit="materials",
        source="the job's formaldehyde class, and what the libraries state",
        advice="take a board of that class, or state what its maker says" if others else "",
    )


def use_findings(job: Job) -> Iterator[Finding]:
    """Yield for each set of the job how many rooms have it; one that none has is not built."""
    rooms = Counter(room.set_name for room in job.rooms)
    for sizes in job.sets:
        yield at_least(
            code="set-in-use",
            where=f"sets.{sizes.name}",
            what="",
            says=("used in ", Amount(rooms[sizes.name], "rooms")),
            measured=float(rooms[sizes.name]),
            warn_below=1.0,
            fail_below=0.0,
            unit="rooms",
            source="the room schedule",
            advice="give it to a room, or take it out: it is neither checked nor built",
        )
