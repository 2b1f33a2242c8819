"""All findings about one set that need no solids."""

from __future__ import annotations

from collections.abc import Iterable

from casewright.job import Job
from parametric.findings.check_set import check_set
from parametric.findings.check_strength import check_strength
from parametric.findings.deck_plate import Fineness
from parametric.findings.finding import Finding
from parametric.findings.machine_bed import machine_findings
from parametric.findings.way_in import way_in_findings
from parametric.joints.machining import Machining
from parametric.sets.room_set import RoomSet
from parametric.steps.step_findings import step_findings


def set_findings(
    job: Job,
    room_set: RoomSet,
    worked: Machining,
    overlaps: Iterable[Finding] = (),
    fineness: Fineness = Fineness.EXACT,
) -> tuple[Finding, ...]:
    """Return the findings of a set, `overlaps` of its solids among them; `fineness` is that of
    decks as plates.
    """
    where = f"{room_set.name}, {room_set.hand} hand"
    assembly, bed = room_set.assembly, job.machine.bed_mm
    trim_mm, setting_out = job.machine.even_trim_mm, job.fitting.setting_out
    return (
        *check_set(room_set, worked, job.routing, trim_mm, setting_out),
        *(machine_findings(where, assembly, job.routing, bed) if bed else ()),
        *way_in_findings(where, assembly, job.access),
        *overlaps,
        *step_findings(where, assembly, worked, room_set.outwards),
        *check_strength(where, assembly, job.loads, fineness),
    )
