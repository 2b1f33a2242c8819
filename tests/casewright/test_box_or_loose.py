"""Each piece of steel is in the box of its room or lies loose beside it, and goes by one name."""

import csv
import io
from collections import Counter
from dataclasses import replace
from functools import cache

import pytest

from casewright import Session
from casewright.entries.site_papers import pick_list
from casewright.job import Job
from casewright.progress import Progress
from casewright.stages.labels.label_content import box_labels
from casewright.stages.models.piece_stage import pieces_of
from casewright.stages.sets.set_stage import SetsOfJob
from casewright.stages.site.kit_stage import kits_of
from casewright.stages.site.site_content import kit_rows
from casewright.stages.site.site_stage import SiteSet, SiteWork
from casewright.stages.store.packing_stage import packing_of
from export.papers.page_format import page_format
from export.papers.typesetting import document
from export.store.content import PackedKind, SetPacking
from export.tables.kit_table import kits_csv
from parametric.joints.assembly import Assembly
from parametric.joints.delivered import delivered
from parametric.shapes.members import Cleat, SteelAngle
from parametric.stock.paper import Paper
from tests.casewright.build_fixtures import CONFIGS

DEMOS = ("keepers-room", "survey-ship", "field-station", "avalanche-centre")
Counts = Counter[str]


@cache
def demo(name: str) -> tuple[Job, SetsOfJob]:
    session = Session.from_file(CONFIGS / f"{name}.yaml")
    return session.job, session._sets(Progress())


def by_itself(assembly: Assembly) -> Counts:
    """Steel that the shop puts on nothing, by the keys of its articles."""
    alone = (piece.main for piece in delivered(assembly) if len(piece.parts) == 1)
    members = {member.name: member for member in assembly.members}
    steel = (members[part.name] for part in alone if part.name in members)
    return Counter(
        part.section.key if isinstance(part, SteelAngle) else part.hardware.key
        for part in steel
        if not isinstance(part, Cleat)
    )


def loose(packing: SetPacking) -> tuple[Counts, Counts]:
    """Count what lies loose by number and by name, as the packing list tells it."""
    numbers, names = Counts(), Counts()
    for line in packing.lines:
        if line.kind is PackedKind.STEEL:
            numbers[line.number] += line.count
            names[line.name] += line.count
    return numbers, names


@pytest.mark.parametrize("name", DEMOS)
def test_each_piece_of_steel_is_in_the_box_or_beside_it(name: str) -> None:
    job, sets = demo(name)
    kits, packing = kits_of(job), packing_of(job, sets, pieces_of(sets))
    rows = list(csv.DictReader(io.StringIO(kits_csv(kits))))
    lying = 0
    for kit, packed in zip(kits, packing.sets, strict=True):
        own = [r for r in rows if (r["set"], r["hand"]) == (kit.set_name, kit.hand)]
        steel = by_itself(kit.assembly)
        boxed, beside = Counts(), Counts()
        for row in own:
            if row["article"] in steel and row["travels"] == "in the box":
                boxed[row["article"]] += int(row["packed"])
            if row["travels"] == "loose":
                beside[row["description"]] += int(row["packed"])
        _, names = loose(packed)
        assert names == beside
        assert boxed.total() + names.total() == steel.total()
        lying += names.total()
    assert lying, "nothing lies loose in this demo, so that nothing was tried"


@pytest.mark.parametrize("name", DEMOS)
def test_what_lies_loose_is_not_picked_into_the_box(name: str) -> None:
    """Pick list, box label and installer's kit say the same of it."""
    job, sets = demo(name)
    kits, packing = kits_of(job), packing_of(job, sets, pieces_of(sets))
    site = site_of(job, sets)
    picked = {title: {row[2] for row in rows} for title, _, rows in pick_list(site).sets}
    labels = {label.room: label.notes for label in box_labels(site)}
    for kit, packed in zip(kits, packing.sets, strict=True):
        _, names = loose(packed)
        own = picked[f"{kit.set_name}, {kit.hand} hand"]
        assert own.isdisjoint(names)
        told = [row[2] for row in kit_rows(kit.kit)]
        assert sorted(names) == sorted(
            each.removesuffix(", beside the box")
            for each in told
            if each.endswith(", beside the box")
        )
        assert len(own) + len(names) + told.count("by installer") == len(told)
        for room in packed.rooms:
            assert labels[room] == f"box with {len(own)} articles of the pick list"


def site_of(job: Job, sets: SetsOfJob) -> SiteWork:
    """The work on site without steps and pictures."""
    listed = tuple(
        SiteSet(model=each.model, numbers={}, steps=(), kit=kit.kit)
        for each, kit in zip(sets.sets, kits_of(job), strict=True)
    )
    return SiteWork(
        job=job.name,
        sets=listed,
        names={},
        sheets={each.key: document(page_format(Paper.A4), job.name, ()) for each in listed},
        rooms=job.rooms,
        fits={},
        units=job.units,
        paper=Paper.A4,
    )


def test_small_steel_goes_in_the_box_and_weighs_there() -> None:
    """A plate of the centre: 6 in long; its mass from its sizes, 7850 kg/m3 (EN 1991-1-1 table A.4
    has 77 to 78.5 kN/m3; from memory).
    """
    job, sets = demo("avalanche-centre")
    kits, packing = kits_of(job), packing_of(job, sets, pieces_of(sets))
    kit, packed = kits[0], packing.sets[0]
    plates = kit.assembly.wall_plates
    hardware = plates[0].hardware
    assert hardware.description not in loose(packed)[1]
    (line,) = (line for line in kit.kit.lines if line.key == hardware.key)
    assert line.in_box and line.packed == len(plates)
    none = replace(job, supplies=replace(job.supplies, not_supplied=(hardware.key,)))
    less = packing_of(none, sets, pieces_of(sets)).sets[0]
    folded = hardware.length_mm * (hardware.height_mm + hardware.lip_mm) * hardware.thickness_mm
    kg = len(plates) * folded * 1e-9 * 7850
    assert box_kg(packed) - box_kg(less) == pytest.approx(kg)


def box_kg(packing: SetPacking) -> float:
    (box,) = (line for line in packing.lines if line.kind is PackedKind.BOX)
    return box.mass_kg


def test_what_others_bring_lies_nowhere() -> None:
    job, sets = demo("keepers-room")

    key = "tube-leg"
    none = replace(job, supplies=replace(job.supplies, not_supplied=(key,)))
    (packed,) = packing_of(none, sets, pieces_of(sets)).sets
    numbers, _ = loose(packed)
    assert key not in numbers and loose(packing_of(job, sets, pieces_of(sets)).sets[0])[0][key] == 3
