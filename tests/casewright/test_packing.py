"""What the store packs and delivers, counted again from the sets and the schedule."""

import csv
import io
from collections import Counter
from dataclasses import replace
from functools import cache
from math import ceil, fsum

import pypdfium2
import pytest
from ruamel.yaml import YAML

from casewright import Session
from casewright.progress import Progress
from casewright.stages.models.piece_stage import part_places, pieces_of
from casewright.stages.sets.set_stage import SetsOfJob
from casewright.stages.site.kit_stage import kits_of
from casewright.stages.store.packing_stage import packing_of
from export.papers.pdf import pdf_bytes
from export.store.content import PackedKind, PackedLine, Packing, SetPacking, Truck
from export.store.packing import packing_source, volume_words
from export.tables.kit_table import kits_csv
from export.tables.packing_table import packing_csv
from parametric.geometry.hand import Hand
from parametric.joints.delivered import delivered
from parametric.kit.glue import glue_ml
from parametric.kit.kit import KitLine
from parametric.shapes.members import Leg, WallPlate
from parametric.steps.carrying import who_lifts
from parametric.steps.words import plain_name
from parametric.stock.lengths import Units
from parametric.stock.paper import Paper
from tests.casewright.build_fixtures import CONFIGS

JOBS = ("keepers-room", "survey-ship")


@cache
def packed(name: str) -> tuple[Session, SetsOfJob, Packing]:
    session = Session.from_file(CONFIGS / f"{name}.yaml")
    sets = session._sets(Progress())
    return session, sets, packing_of(session.job, sets, pieces_of(sets))


@pytest.mark.parametrize("name", JOBS)
def test_every_part_of_every_room_is_packed_once(name: str) -> None:
    session, sets, packing = packed(name)
    pieces = pieces_of(sets)
    held = {p.number: Counter({n: c for n, _, c in p.parts}) for p in pieces.pieces()}
    for each in packing.sets:
        counted: Counter[str] = Counter()
        for line in each.lines:
            counted.update(parts_of(line.number, line.count, held))
        wanted = Counter(
            place.number
            for place in part_places(sets, pieces)
            if (place.set_name, place.hand) == (each.set_name, each.hand)
        )
        counted.pop("", None)
        in_box = {line.description: round(line.packed) for line in steel_in_box(session, each)}
        keys = {l.number: l.name for l in each.lines if l.bought}
        named = Counter({keys.get(number, number): count for number, count in counted.items()})
        assert named + Counter(in_box) == wanted
    listed = [room for delivery in packing.deliveries for room in delivery.rooms]
    assert sorted(listed) == sorted(room.number for room in session.job.rooms)


def steel_in_box(session: Session, of: SetPacking) -> list[KitLine]:
    """The lines of a kit that are legs or wall plates in its box."""
    (kit,) = (k for k in kits_of(session.job) if (k.set_name, k.hand) == (of.set_name, of.hand))
    members = (*kit.assembly.legs, *kit.assembly.wall_plates)
    bought = {member.hardware.key for member in members}
    return [line for line in kit.kit.lines if line.in_box and line.key in bought]


@pytest.mark.parametrize("name", JOBS)
def test_a_line_names_all_that_it_counts(name: str) -> None:
    """What is alike has one number and stands in several places: each is named, on trips too."""
    _, sets, packing = packed(name)
    pieces = pieces_of(sets)
    several = 0
    for each, of in zip(sets.sets, packing.sets, strict=True):
        marks = pieces.marks((of.set_name, of.hand))
        listed = {line.number: line for line in of.lines}
        for piece in delivered(each.model.room_set.assembly):
            if len(piece.parts) > 1:
                line = listed[marks[piece.main.name]]
                assert plain_name(piece.called) in line.name and line.count >= len(line.names)
                several += len(line.names) > 1
        for delivery in packing.deliveries:
            if set(delivery.rooms) & set(of.rooms):
                on_trip = {line.number: line.name for line in delivery.lines}
                assert all(
                    all(name in on_trip[n] for name in line.names)
                    for n, line in listed.items()
                    if line.kind is not PackedKind.BOX
                )
    assert several or name == "keepers-room"
    if name == "survey-ship":
        assert "bed bearer 1 with 4 cleats, bed bearer 2 with 4 cleats" in paper_text(
            packing, Units.MM
        )


def parts_of(number: str, count: int, held: dict[str, Counter[str]]) -> Counter[str]:
    """What so many of a number are made of, pieces within pieces taken apart."""
    if number not in held:
        return Counter({number: count})
    found: Counter[str] = Counter()
    for inner, of in held[number].items():
        found.update(parts_of(inner, of * count, held))
    return found


@pytest.mark.parametrize("name", JOBS)
def test_masses_are_those_of_the_pieces(name: str) -> None:
    session, sets, packing = packed(name)
    for each, of in zip(sets.sets, packing.sets, strict=True):
        boxed = {line.description for line in steel_in_box(session, of)}
        whole = fsum(
            p.mass_kg
            for p in delivered(each.model.room_set.assembly)
            if not (isinstance(p.main, Leg | WallPlate) and p.main.hardware.description in boxed)
        )
        pieces = fsum(l.count * l.mass_kg for l in of.lines if l.kind is not PackedKind.BOX)
        assert pieces == pytest.approx(whole)
        (box,) = (line for line in of.lines if line.kind is PackedKind.BOX)
        assert of.mass_kg == pytest.approx(whole + box.mass_kg + of.fitted_kg)
        assert box.mass_kg > 0.1 and of.fitted_kg > 0.1
    total = fsum(each.mass_kg * len(each.rooms) for each in packing.sets)
    assert fsum(d.mass_kg for d in packing.deliveries) == pytest.approx(total)


def grams() -> dict[str, float]:
    """What the files say that one of each article weighs, read by another reader."""
    yaml = YAML(typ="safe")
    found = {}
    library = yaml.load((CONFIGS / "hardware-metric.yaml").read_text(encoding="utf-8"))
    job = yaml.load((CONFIGS / "survey-ship.yaml").read_text(encoding="utf-8"))
    for shelf in (library["screws"], library["caps"], job["kit"]["bought"], job["screws"]):
        found |= {key: entry["mass_g"] for key, entry in shelf.items() if "mass_g" in entry}
    return found


def test_boxes_and_pieces_weigh_what_is_in_them() -> None:
    """Added up from the kits' table and the shop's screws; a cartridge holds 300 ml, a bottle 750
    ml of glue. Long steel has a line of its own, plates have 7850 kg/m3 (EN 1991-1-1, from memory),
    and touch-up has no mass.
    """
    session, _, packing = packed("survey-ship")
    weighs, kits = grams(), kits_of(session.job)
    rows = list(csv.DictReader(io.StringIO(kits_csv(kits))))
    for each, kit in zip(packing.sets, kits, strict=True):
        for plate in (plate.hardware for plate in kit.assembly.wall_plates):
            folded = plate.length_mm * (plate.height_mm + plate.lip_mm) * plate.thickness_mm
            weighs[plate.key] = folded * 7850e-6
        own = [r for r in rows if (r["set"], r["hand"]) == (each.set_name, each.hand)]
        box_g = fsum(
            weighs.get(r["article"], 0.0)
            * (ceil(float(r["packed"]) / 300) if r["unit"] == "ml" else float(r["packed"]))
            for r in own
        )
        (box,) = (line for line in each.lines if line.kind is PackedKind.BOX)
        assert box.mass_kg == pytest.approx(box_g / 1000, abs=1e-3)
        screws_g = fsum(weighs.get(line.key, 0.0) * line.needed for line in kit.shop.lines)
        glue_g = glue_ml(kit.assembly, session.job.supplies) / 750 * weighs["glue"]
        assert each.fitted_kg == pytest.approx((screws_g + glue_g) / 1000)
        assert each.unweighed == ("Touch-up for edges and faces",)
    text = paper_text(packing, Units.MM)
    assert "since no mass is given for it: Touch-up for edges and faces." in text


def test_what_has_no_mass_is_named_and_weighs_nothing() -> None:
    session, sets, _ = packed("survey-ship")
    bare = tuple(replace(each, mass_g=None) for each in session.job.buying)
    packing = packing_of(replace(session.job, buying=bare), sets, pieces_of(sets))
    for each in packing.sets:
        whole = fsum(line.count * line.mass_kg for line in each.lines)
        assert each.fitted_kg == 0.0 and each.mass_kg == whole
        assert {"Wood glue", "Construction adhesive"} < set(each.unweighed)


def test_no_trip_carries_more_than_the_truck_may() -> None:
    session, sets, _ = packed("survey-ship")
    heaviest = max(each.mass_kg for each in packed("survey-ship")[2].sets)
    truck = Truck(payload_kg=2.5 * heaviest)
    packing = packing_of(replace(session.job, truck=truck), sets, pieces_of(sets))
    assert len(packing.deliveries) > len({room.floor for room in session.job.rooms})
    for delivery in packing.deliveries:
        assert delivery.mass_kg <= 2.5 * heaviest and not delivery.too_much
        assert f"trip {delivery.trip} of {delivery.trips}" in delivery.name
    small = Truck(volume_m3=0.001)
    packing = packing_of(replace(session.job, truck=small), sets, pieces_of(sets))
    assert all(d.too_much and len(d.rooms) == 1 for d in packing.deliveries)
    text = paper_text(packing, Units.MM)
    assert "more than the truck of the job may carry" in text


def test_floors_come_in_the_order_of_the_schedule() -> None:
    session, _, packing = packed("survey-ship")
    floors = list(dict.fromkeys(room.floor for room in session.job.rooms))
    assert [d.floor for d in packing.deliveries] == floors
    of = {room.number: room.floor for room in session.job.rooms}
    assert all(of[room] == d.floor for d in packing.deliveries for room in d.rooms)


def paper_text(packing: Packing, units: Units, paper: Paper = Paper.A4) -> str:
    pdf = pypdfium2.PdfDocument(pdf_bytes(packing_source(packing, units, paper)))
    return " ".join(" ".join(p.get_textpage().get_text_range() for p in pdf).split())


@pytest.mark.parametrize("paper", Paper)
def test_paper_and_table_agree(paper: Paper) -> None:
    _, _, packing = packed("survey-ship")
    rows = list(csv.DictReader(io.StringIO(packing_csv(packing))))
    text = paper_text(packing, Units.MM, paper)
    for delivery in packing.deliveries:
        counts: Counter[str] = Counter()
        for row in rows:
            if row["delivery"] == delivery.name:
                counts[row["number"]] += int(row["count"])
        assert counts == Counter({line.number: line.count for line in delivery.lines})
        assert delivery.name in text and f"{delivery.volume_m3:.2f} m3" in text
    for row in rows:
        if row["kind"] == PackedKind.BOARDS:
            assert row["number"] in text


@pytest.mark.parametrize("name", JOBS)
def test_a_piece_is_lifted_by_as_many_as_the_lifting_equation_says(name: str) -> None:
    """14.4 kg each, 23 x 25/30 x .895 x .9325 x .9 (NIOSH, from memory), as on the steps; four hold
    on to one thing at most (common practice, no source).
    """
    _, _, packing = packed(name)
    source = packing_source(packing, Units.MM, Paper.A4)
    several = 0
    for line in (line for each in packing.sets for line in each.lines if line.mass_kg):
        people = max(1, ceil(line.mass_kg / (23 * 25 / 30 * 0.895 * 0.9325 * 0.9)))
        words = "lifting aid" if people > 4 else "1 person" if people == 1 else f"{people} people"
        assert who_lifts(line.mass_kg) == words
        assert words in source.main
        several += people > 1
    assert several
    assert "two people" not in source.main


def test_volumes_are_told_in_the_units_of_the_job() -> None:
    """1 m3 = 35.3147 cu ft, NIST SP 811 (from memory)."""
    assert volume_words(10.0, Units.INCH) == "353 cu ft"
    assert volume_words(10.0, Units.MM) == "10.00 m3"


def test_no_page_ends_within_a_short_list_of_steel() -> None:
    """However many boards come before it, up to two pages of them."""
    board = PackedLine(
        kind=PackedKind.BOARDS,
        number="A001",
        names=("board",),
        count=1,
        mass_kg=5.0,
        sides_mm=(500.0, 300.0, 19.0),
    )
    steel = tuple(
        replace(board, kind=PackedKind.STEEL, number=f"L{n}", names=(f"angle {n}",))
        for n in range(6)
    )
    for boards in range(25, 50, 2):
        of = SetPacking(
            set_name="set", hand=Hand.LEFT, rooms=("1",), lines=(*(board,) * boards, *steel)
        )
        packing = Packing(job="job", sets=(of,), deliveries=(), truck=Truck())
        pages = pypdfium2.PdfDocument(pdf_bytes(packing_source(packing, Units.MM, Paper.A4)))
        texts = [page.get_textpage().get_text_range() for page in pages]
        found = [sum(f"angle {n}" in text for n in range(6)) for text in texts]
        assert sorted(found) == [*(0,) * (len(texts) - 1), 6]
