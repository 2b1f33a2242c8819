"""The tables of rooms, kits and the store's pick list, cell by cell."""

import csv
import io
from dataclasses import replace

from export.tables.csv_cell import read_cell
from export.tables.kit_table import kits_csv, pick_list_csv
from export.tables.rooms_table import packed_alike, room_fixings_csv, rooms_csv
from parametric.geometry.hand import Hand
from parametric.geometry.walls import Wall
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Seated
from parametric.kit.kit import Kit, KitLine, KitUnit
from parametric.kit.set_kit import SetKit
from parametric.rooms.fitting import Fitting
from parametric.rooms.room_fit import MissedFixing, Packing, RoomFit, SideGap
from parametric.rooms.turning_room import TurnedHere
from parametric.stock.lengths import Units

FIT = RoomFit(
    room="7",
    set_name="twin",
    refusal="7 mm too long at the floor",
    nearest="single",
    side_gaps=(),
    gaps=(
        SideGap(where="at the floor", gap_mm=-7.0),
        SideGap(where="at the seat", gap_mm=50.0),
        SideGap(where="at the panel", gap_mm=50.1),
    ),
    wedge=SideGap(where="at the side wall, in front", gap_mm=4.5),
    measured=True,
    shift_mm=0.0,
    width_off_mm=None,
    floor_fall_mm=6.0,
    shims=(
        Packing(where="rail to the side wall", least_mm=1.5, most_mm=1.5),
        Packing(where="rail to the side wall", least_mm=3.0, most_mm=3.0),
        Packing(where="rail to the side wall", least_mm=3.0, most_mm=3.0),
    ),
    levelling=(Packing(where="bed/leg 1", least_mm=0.0, most_mm=6.0),),
    wall_base_cut_mm=1320.8,
    missed=(
        MissedFixing(
            where="rail to the head wall",
            across_mm=400.0,
            height_mm=200.0,
            reason="why",
            corner_with=Wall.FAR,
        ),
    ),
    unknown=("studs", "blocking"),
    turned=(
        TurnedHere(about="bed deck 1", long_mm=1400.0, wide_mm=2000.0, clear=True),
        TurnedHere(about="bed deck 2", long_mm=1500.0, wide_mm=2000.0, clear=False),
    ),
)


def rows(text: str) -> list[dict[str, str]]:
    """The rows as a program reads them, the guard before a leading minus taken off."""
    return [
        {name: read_cell(cell) for name, cell in row.items()}
        for row in csv.DictReader(io.StringIO(text))
    ]


def test_what_a_room_asks_for() -> None:
    """A gap is closed by a filler up to 50 mm (common practice, no source), open beyond."""
    (row,) = rows(rooms_csv([(Hand.LEFT, FIT)], Fitting(most_filler_mm=50.0), Units.MM))
    assert row == {
        "room": "7",
        "set": "twin",
        "hand": "left",
        "fits": "no",
        "why_not": "7 mm too long at the floor",
        "would_fit": "single",
        "beyond_the_set": "-7 mm at the floor (filler); 50 mm at the seat (filler);"
        " 50 mm at the panel (open)",
        "side_wall_wedge": "5 mm at the side wall, in front",
        "further_from_corner": "",
        "shims": "rail to the side wall: 2 mm; 2 x rail to the side wall: 3 mm",
        "levelling": "bed/leg 1: up to 6 mm",
        "wall_base_to_cut": "1321 mm",
        "screws_without_wood": "1",
        "no_floor_to_turn": "bed deck 2",
        "not_measured": "studs; blocking",
    }
    fits = replace(FIT, refusal="", wedge=None, wall_base_cut_mm=None)
    (row,) = rows(rooms_csv([(Hand.RIGHT, fits)], Fitting(), Units.INCH))
    assert (row["fits"], row["hand"], row["side_wall_wedge"]) == ("yes", "right", "")
    assert (row["wall_base_to_cut"], row["levelling"]) == ("", 'bed/leg 1: up to 1/4"')


def test_shims_of_screws_that_are_as_thick_by_the_tape_are_told_together() -> None:
    """By hand: 2.4 and 2.0 are 2 mm; 2.6, 3.0 and 3.4 are 3; 4 follows; 0.4 nobody packs."""
    thick = (0.4, 2.0, 2.4, 2.6, 3.0, 3.4, 4.0)
    shims = [
        Packing(where="desk cleat", least_mm=each, most_mm=each, screw=number)
        for number, each in enumerate(thick, start=1)
    ]
    assert packed_alike(shims, Units.MM) == {
        "2 mm": "desk cleat, screws 2, 3 from the corner",
        "3 mm": "desk cleat, screws 4 to 6 from the corner",
        "4 mm": "desk cleat, screw 7 from the corner",
    }


def test_a_screw_without_wood() -> None:
    (row,) = rows(room_fixings_csv([(Hand.LEFT, FIT)], Units.MM))
    assert row == {
        "room": "7",
        "set": "twin",
        "hand": "left",
        "screw": "rail to the head wall",
        "corner_with": "far wall",
        "from_corner": "400 mm",
        "above_floor": "200 mm",
        "why": "why",
    }


def line(key: str, unit: KitUnit, needed: float, spare: float, *joints: int) -> KitLine:
    return KitLine(
        key=key, description=f"a {key}", unit=unit, needed=needed, spare=spare, joints=joints
    )


def kits() -> list[SetKit]:
    """Two rooms of one set and three of another, whose kits share an article."""
    assembly = Assembly(
        joints=(Seated(top="deck", on=()), Seated(top="top", on=()), Seated(top="deck", on=()))
    )
    screws = line("screw", KitUnit.PIECES, 30.0, 3.0, 0, 1, 2)
    glue = replace(line("glue", KitUnit.MILLILITRES, 41.26, 4.126, 0), supplied=False)
    return [
        SetKit(set_name=name, hand=hand, rooms=rooms, assembly=assembly, kit=Kit(lines=lines))
        for name, hand, rooms, lines in (
            ("twin", Hand.RIGHT, 2, (screws, glue)),
            ("queen", Hand.LEFT, 3, (replace(screws, needed=40.0, spare=4.0),)),
        )
    ]


def test_the_kit_of_one_room() -> None:
    first, second, third = rows(kits_csv(kits()))
    assert first == {
        "set": "twin",
        "hand": "right",
        "rooms": "2",
        "article": "screw",
        "description": "a screw",
        "unit": "pieces",
        "needed": "30",
        "spare": "3",
        "packed": "33",
        "supplied": "yes",
        "travels": "in the box",
        "joints": "3",
        "used_at": "deck (2); top (1)",
    }
    amounts = (second["needed"], second["spare"], second["packed"], second["supplied"])
    assert amounts == ("41.3", "4.1", "45.4", "no") and not second["travels"]
    assert (third["set"], third["hand"], third["rooms"], third["packed"]) == (
        "queen",
        "left",
        "3",
        "44",
    )


def test_the_pick_list_is_for_all_rooms() -> None:
    """By hand: 2 x 30 + 3 x 40 screws, 2 x 3 + 3 x 4 to spare; 2 x 41.26 ml."""
    screws, glue = rows(pick_list_csv(kits()))
    assert [screws[key] for key in ("needed", "spare", "packed")] == ["180", "18", "198"]
    assert [glue[key] for key in ("needed", "spare", "packed")] == ["82.5", "8.3", "90.8"]
