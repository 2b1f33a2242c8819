"""The same run along any wall is the same furniture: what is found, marked and done is the same.

A judge from inside: what holds along the head wall has tests of its own.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from parametric.findings.check_set import check_set
from parametric.findings.check_strength import check_strength
from parametric.findings.deck_plate import Fineness
from parametric.findings.finding import Finding
from parametric.geometry.hand import Hand
from parametric.geometry.walls import Wall
from parametric.joints.joints import Seated
from parametric.joints.machining import machining
from parametric.sets.composition import HungPanel, Run, SetSizes, Tie, Unit
from parametric.sets.room_set import RoomSet, build_set
from parametric.sets.soundness import unsound
from parametric.steps.order import steps_of
from parametric.steps.step_findings import step_findings
from parametric.strength.loads import Loads
from parametric.units.desk import DeskSizes, End
from parametric.units.family import Unfit
from parametric.units.steel_tie import TieSizes
from tests.compositions import BUILT_FROM, DESK_LEG, DESK_MM
from tests.example_set import ROUTING, TRIM_MM, set_sizes

AWAY_MM = 9000.0
OTHERS = [(wall, hand) for wall in Wall for hand in Hand if (wall, hand) != (Wall.HEAD, Hand.LEFT)]


def run(wall: Wall, bearing_mm: float = 120.0) -> SetSizes:
    """Two beds with a table between, a panel over the second, a bench and a desk beyond."""
    row = set_sizes(bed_width=39.0, shelf=None)
    assert row.bed is not None and row.table is not None and row.bench is not None
    assert row.wall_panel is not None
    bed = replace(row.bed, side_overhang_mm=130.0, leg_inset_mm=130.0)
    desk = DeskSizes(
        width_mm=900.0,
        depth_mm=500.0,
        height_mm=DESK_MM,
        near_end=End.LEG,
        far_end=End.GABLE,
        inset_mm=60.0,
        setback_mm=60.0,
        wall_clearance_mm=15.0,
        corner_radius_mm=20.0,
    )
    units = (
        Unit(name="first bed", family="platform-bed", sizes=bed, gap_mm=40.0),
        Unit(name="table", family="bedside-table", sizes=row.table),
        Unit(name="second bed", family="platform-bed", sizes=bed),
        Unit(name="bench", family="bench", sizes=row.bench, gap_mm=200.0),
        Unit(name="desk", family="desk", sizes=desk, gap_mm=300.0, built_from=(("leg", DESK_LEG),)),
    )
    return SetSizes(
        name="run",
        base_height_mm=340.0,
        butt_gap_mm=2.0,
        runs=(Run(wall=wall, units=units, away_mm=AWAY_MM if wall.is_opposite else 0.0),),
        ties=(
            Tie(
                name="tie",
                through=("first bed", "second bed"),
                sizes=TieSizes(from_wall_mm=150.0, bearing_mm=bearing_mm),
            ),
        ),
        hung=(HungPanel(name="panel", over=("second bed",), sizes=row.wall_panel),),
    )


def built(wall: Wall, hand: Hand, bearing_mm: float = 120.0) -> RoomSet:
    return build_set(run(wall, bearing_mm), hand, BUILT_FROM, ROUTING, TRIM_MM)


def found_in(room_set: RoomSet) -> list[Finding]:
    assembly = room_set.assembly
    worked = machining(assembly, ROUTING)
    return [
        *check_set(room_set, worked, ROUTING, TRIM_MM),
        *step_findings("set", assembly, worked, room_set.outwards),
        *check_strength("set", assembly, Loads(), Fineness.FAST),
    ]


def told(found: list[Finding], wall: Wall) -> list[tuple[str, str, str]]:
    """What findings say, the wall's name apart."""
    return [
        (
            each.code,
            each.where.split(": ", maxsplit=1)[-1].replace(str(wall), "its wall"),
            each.severity.value,
        )
        for each in found
    ]


@pytest.mark.parametrize(("wall", "hand"), OTHERS)
def test_what_is_found_is_the_same_along_any_wall(wall: Wall, hand: Hand) -> None:
    plain, other = found_in(built(Wall.HEAD, Hand.LEFT)), found_in(built(wall, hand))
    assert {each.code for each in plain} >= {
        "stack-angle-slot",
        "angle-bearing",
        "angle-entry",
        "wall-cleat",
        "step-path",
        "notch-bearing",
    }
    assert told(other, wall) == told(plain, Wall.HEAD)
    for one, its in zip(plain, other, strict=True):
        # The lines of a plate's coarse mesh are laid from one end, and so are the places tried.
        coarse = one.code.startswith(("deck-", "notch-", "wall-cleat"))
        close = pytest.approx(one.measured, rel=0.05 if coarse else 1e-6, abs=1e-6)
        assert its.measured == close, one.code


@pytest.mark.parametrize(("wall", "hand"), OTHERS)
def test_what_is_marked_and_done_is_the_same_along_any_wall(wall: Wall, hand: Hand) -> None:
    def steps(room_set: RoomSet) -> list[tuple[str, list[tuple[str, float]], tuple[str, ...]]]:
        return [
            (
                step.title,
                [
                    (mark.what.replace(f"{wall} rail", "its rail"), round(mark.distance_mm, 3))
                    for mark in step.marks
                ],
                step.checks,
            )
            for step in steps_of(room_set.assembly, lambda mm: f"{mm:.2f}", room_set.outwards)
        ]

    def plainly(found: list[tuple[str, list[tuple[str, float]], tuple[str, ...]]]) -> object:
        return [
            (
                title,
                [(what.replace("head wall rail", "its rail"), mm) for what, mm in marks],
                checks,
            )
            for title, marks, checks in found
        ]

    plain = plainly(steps(built(Wall.HEAD, Hand.LEFT)))
    assert plainly(steps(built(wall, hand))) == plain


def test_a_short_bearing_is_seen_along_the_side_wall() -> None:
    """20 mm inside each box: what is beyond the panel of 19.05 is told, not the length across."""
    bearings = [
        each.measured
        for each in found_in(built(Wall.SIDE, Hand.RIGHT, bearing_mm=20.0))
        if each.code == "angle-bearing"
    ]
    assert bearings == [pytest.approx(39.05), pytest.approx(39.05)]


def test_decks_on_an_angle_without_a_table_press_on_its_notches() -> None:
    sizes = run(Wall.HEAD)
    (along,) = sizes.runs
    alone = replace(sizes, runs=(replace(along, units=(along.units[0], along.units[2])),), hung=())
    assembly = build_set(alone, Hand.LEFT, BUILT_FROM, ROUTING, TRIM_MM).assembly
    assert any(isinstance(j, Seated) and "tie/steel angle" in j.on for j in assembly.joints)
    codes = [each.code for each in check_strength("set", assembly, Loads(), Fineness.FAST)]
    assert codes.count("notch-bearing") == 2
    assert "angle-bending" not in codes


def refusals(sizes: SetSizes) -> list[tuple[tuple[str, ...], str]]:
    return [
        (each.keys, each.allowed) for each in unsound(sizes, BUILT_FROM) if isinstance(each, Unfit)
    ]


def test_ties_and_panels_name_what_stands_between() -> None:
    sizes = run(Wall.HEAD)
    (tie,), (panel,) = sizes.ties, sizes.hung
    skipping = replace(sizes, ties=(replace(tie, through=("first bed", "bench")),))
    assert refusals(skipping)[0] == (
        ("ties", "tie", "through"),
        "second bed too, which stands between them",
    )
    over = replace(sizes, hung=(replace(panel, over=("first bed", "second bed")),))
    assert refusals(over) == [(("hung", "panel", "over"), "table too, which stands between them")]
    second = replace(sizes, ties=(tie, replace(tie, name="other")))
    assert refusals(second) == [(("ties", "other", "through"), "one angle under each unit")]
    twice = replace(sizes, hung=(panel, replace(panel, name="other")))
    assert refusals(twice) == [(("hung", "other", "over"), "one panel over each unit")]


def test_a_room_that_is_told_holds_its_units() -> None:
    sizes = replace(run(Wall.HEAD), room_depth_mm=1500.0)
    assert {keys for keys, _ in refusals(sizes)} == {
        ("head_wall", "first bed"),
        ("head_wall", "second bed"),
    }
