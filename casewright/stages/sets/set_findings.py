"""All findings about one set that need no solids: asked once, told of either hand.

What is checked here knows no hand, since a set in the other hand is its exact mirror image; solids,
cut lists and files are made and checked for each hand on its own.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from casewright.job import Job
from parametric.findings.check_set import check_set
from parametric.findings.check_strength import check_strength
from parametric.findings.deck_plate import Fineness
from parametric.findings.finding import Finding
from parametric.findings.machine_bed import machine_findings
from parametric.findings.way_in import way_in_findings
from parametric.geometry.hand import Hand
from parametric.joints.machining import Machining
from parametric.sets.room_set import RoomSet
from parametric.steps.step_findings import step_findings

FOUND_IN = Hand.RIGHT
"""The hand in which sets are checked."""


def set_place(name: str, hand: Hand) -> str:
    """Return how findings name a set in one hand."""
    return f"{name}, {hand} hand"


def told_of(findings: Iterable[Finding], name: str, hand: Hand) -> tuple[Finding, ...]:
    """Return what was found of a set in the hand in which sets are checked, told of this one."""
    if hand is FOUND_IN:
        return tuple(findings)
    here, there = set_place(name, FOUND_IN), set_place(name, hand)
    # Each is its own inverse: from the room of the one by the corner to the room of the other.
    placing = hand.corner_to_room.of(FOUND_IN.corner_to_room)
    return tuple(
        replace(
            each,
            where=there + each.where.removeprefix(here),
            at=None if each.at is None else each.at.placed(placing),
        )
        for each in findings
    )


def set_findings(
    job: Job,
    room_set: RoomSet,
    worked: Machining,
    fineness: Fineness = Fineness.EXACT,
) -> tuple[Finding, ...]:
    """Return the findings of a set; `fineness` is that of decks as plates."""
    where = set_place(room_set.name, room_set.hand)
    assembly, bed = room_set.assembly, job.machine.bed_mm
    trim_mm, setting_out = job.machine.even_trim_mm, job.fitting.setting_out
    return (
        *check_set(room_set, worked, job.routing, trim_mm, setting_out),
        *(machine_findings(where, assembly, job.routing, bed) if bed else ()),
        *way_in_findings(where, assembly, job.access),
        *step_findings(where, assembly, worked, room_set.outwards),
        *check_strength(where, assembly, job.loads, fineness),
    )
