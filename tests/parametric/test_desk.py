"""A desk on a wall cleat, by hand: where its parts stand, what it bears, how it goes in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest

from parametric.findings.check_set import check_set
from parametric.findings.check_strength import check_strength
from parametric.findings.finding import Finding, Severity
from parametric.findings.no_rule import missing_rule, no_rule_findings
from parametric.findings.seats import seat_findings
from parametric.geometry.hand import Hand
from parametric.geometry.space import Axis, Direction
from parametric.geometry.walls import Wall
from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall, Housed, Screwed, Seated, made_in
from parametric.joints.machining import machining
from parametric.sets.composition import Run, SetSizes, Unit
from parametric.sets.room_set import RoomSet, build_set
from parametric.sets.soundness import unsound
from parametric.shapes.members import Cleat
from parametric.steps.order import steps_of
from parametric.steps.step_findings import step_findings
from parametric.stock.made_in import MadeIn
from parametric.strength.loads import Loads
from parametric.strength.wood_screws import SingleShear, wood_bearing_n_mm2
from parametric.units.desk import DeskSizes, End
from parametric.units.family import Limit, Unfit
from tests.compositions import BASE_MM, BUILT_FROM, DESK_LEG, DESK_MM
from tests.example_set import ROUTING, TRIM_MM
from tests.told import said

BOARD, BAR, WIDE = 19.05, 19.05, 38.1  # boards 3/4 in, cleats 3/4 by 1 1/2 in
UNDER = DESK_MM - BOARD


def desk(wall: Wall = Wall.SIDE, gap_mm: float = 300.0, **changes: float | End) -> SetSizes:
    plain = DeskSizes(
        width_mm=1000.0,
        depth_mm=500.0,
        height_mm=DESK_MM,
        near_end=End.LEG,
        far_end=End.GABLE,
        inset_mm=60.0,
        setback_mm=50.0,
        wall_clearance_mm=15.0,
        corner_radius_mm=0.0,
    )
    unit = Unit(
        name="desk",
        family="desk",
        sizes=replace(plain, **changes),
        gap_mm=gap_mm,
        built_from=(("leg", DESK_LEG),),
    )
    run = Run(wall=wall, units=(unit,), away_mm=4000.0 if wall.is_opposite else 0.0)
    return SetSizes(name="desk", base_height_mm=BASE_MM, butt_gap_mm=2.0, runs=(run,))


def built(sizes: SetSizes, hand: Hand = Hand.LEFT) -> RoomSet:
    return build_set(sizes, hand, BUILT_FROM, ROUTING, TRIM_MM)


def by_code(found: tuple[Finding, ...]) -> Mapping[str, list[Finding]]:
    codes: dict[str, list[Finding]] = {}
    for each in found:
        codes.setdefault(each.code, []).append(each)
    return codes


def test_where_its_parts_stand() -> None:
    """Along the side wall (x = 0, left hand): from 300 to 1300 out from the head wall."""
    assembly = built(desk()).assembly
    boxes = {
        part.name.removeprefix("desk/"): tuple(
            (round(part.box.low[axis], 6), round(part.box.high[axis], 6)) for axis in Axis
        )
        for part in (*assembly.boards, *assembly.members)
    }
    gable = (-1300 + 60, -1300 + 60 + BOARD)
    assert boxes == {
        "top": ((0, 500), (-1300, -300), (UNDER, DESK_MM)),
        # 15 clear of the wall, 50 behind the front.
        "far gable": ((15, 450), gable, (0, UNDER)),
        # From the open end, 20 in, to the gable; its wide side on the wall.
        "wall cleat 1": ((0, BAR), (gable[1], -320), (UNDER - WIDE, UNDER)),
        # Behind the gable, up to 60 from its front.
        "far gable cleat": ((BAR, 390), (gable[1], gable[1] + BAR), (UNDER - WIDE, UNDER)),
        # Its centre 60 from the end, 50 from the front; a plate of 3 1/2 in.
        "leg 1": ((450 - 44.45, 450 + 44.45), (-360 - 44.45, -360 + 44.45), (0, UNDER)),
    }
    assert assembly.board("desk/far gable").facing is Direction.Y_MINUS


def test_in_the_corner_a_second_cleat_carries_the_end_at_the_wall() -> None:
    sizes = desk(Wall.HEAD, gap_mm=0.0, near_end=End.NONE)
    assembly = built(sizes).assembly
    walls = {
        joint.through.removeprefix("desk/"): joint.direction
        for joint in assembly.joints
        if isinstance(joint, FixedToWall)
    }
    assert walls == {"wall cleat 1": Direction.Y_PLUS, "wall cleat 2": Direction.X_MINUS}
    assert not list(unsound(sizes, BUILT_FROM))


@pytest.mark.parametrize(
    ("changes", "key"),
    [
        ({"near_end": End.NONE, "far_end": End.NONE}, "far_end"),
        ({"height_mm": 700.0}, "height"),  # its leg is 740 less the top
        ({"setback_mm": 20.0}, "setback"),  # half a plate is 44.45
        ({"width_mm": 300.0}, "inset"),
    ],
)
def test_what_does_not_go_together_is_told(changes: dict[str, float | End], key: str) -> None:
    (told,) = unsound(desk(**changes), BUILT_FROM)
    assert told.keys == ("side_wall", "desk", key)
    assert isinstance(told, Unfit if key == "far_end" else Limit)


def test_the_order_of_work() -> None:
    """The cleat goes on the wall, the top comes upside down with gable and leg, and is laid on."""
    assembly = built(desk()).assembly
    titles = [step.title for step in steps_of(assembly, str)]
    assert titles == [
        "Fix the wall cleats of the desk",
        "Put the desk together upside down",
        "Turn the desk over, set it in place",
        "Drive the screws of the desk from below",
    ]
    found = step_findings("set", assembly, machining(assembly, ROUTING))
    assert {each.severity for each in found} == {Severity.OK}


def test_each_screw_is_once_in_a_step() -> None:
    assembly = built(desk()).assembly
    first, second, turned, third = (set(step.joints) for step in steps_of(assembly, str))
    into_wall = {n for n, each in enumerate(assembly.joints) if isinstance(each, FixedToWall)}
    up = {
        n
        for n, each in enumerate(assembly.joints)
        if isinstance(each, Screwed) and each.through == "desk/wall cleat 1"
    }
    assert (first, third) == (into_wall, up)
    on_site = [each for each in assembly.joints if made_in(each) is not MadeIn.SHOP]
    assert len(first | second | turned | third) == len(on_site)


@pytest.mark.parametrize("hand", list(Hand))
def test_what_its_cleat_bears(hand: Hand) -> None:
    """By hand: a load in the middle of the wall's edge lies on the cleat alone, shared by all its
    screws; the worst place asks no less of one of them, and no more than four times that, as of a
    stiff bar loaded at its end. Of the even load half lies on the cleat.
    """
    room_set = built(desk(), hand)
    found = by_code(check_strength("set", room_set.assembly, Loads()))
    (cleat,) = found["wall-cleat"]
    screws = sum(isinstance(joint, FixedToWall) for joint in room_set.assembly.joints)
    even_n = 2394 * 1.0 * 0.5 / 2 / screws
    assert 0.9 * 1000 / screws < cleat.measured - even_n < 4 * 1000 / screws
    # NDS 12.3: a No. 10 of 3 in through 3/4 in of cleat and 15.9 mm of lining reaches 41.25 mm into
    # blocking that is 38.1 thick.
    design = SingleShear(
        diameter_mm=0.190 * 25.4,
        root_mm=0.152 * 25.4,
        side_mm=BAR,
        side_n_mm2=wood_bearing_n_mm2(450 / 1000 / 1.12),
        main_mm=38.1 - 0.190 * 25.4,  # the tip bears nothing
        main_n_mm2=wood_bearing_n_mm2(0.42),
        gap_mm=15.9,
    )
    assert cleat.limit == pytest.approx(design.design_n(38.1), rel=1e-9)


def test_longer_and_more_screws_bear_more_and_both_hands_alike() -> None:
    told = {
        hand: {
            (each.code, each.where): (round(each.measured, 6), round(each.limit, 6))
            for each in check_strength("set", built(desk(), hand).assembly, Loads())
        }
        for hand in Hand
    }
    assert told[Hand.LEFT] == told[Hand.RIGHT]


def test_a_top_is_leaned_on_not_sat_on() -> None:
    found = by_code(check_strength("set", built(desk()).assembly, Loads()))
    assert "deck-test" not in found
    assert "under 1000 N" in said(found["deck-bending"][0])
    assert all("1110" not in said(each) for each in found["deck-bending"])


def test_a_top_that_hardly_hangs_over_is_well_without_solids() -> None:
    room_set = built(desk())
    found = check_set(room_set, machining(room_set.assembly, ROUTING), ROUTING, TRIM_MM)
    assert [each for each in found if each.severity is Severity.FAIL] == []
    assert any(each.where.endswith("desk/wall cleat 1") for each in found)


def test_a_joint_that_nobody_looks_at_is_a_warning_that_names_it() -> None:
    """A leg screwed into a cleat, two boards screwed to each other: no rule is for either."""
    assembly = built(desk()).assembly
    assert list(no_rule_findings("set", assembly)) == []
    up = next(joint for joint in assembly.joints if isinstance(joint, Screwed))
    strange = replace(up, through="desk/top", into="desk/far gable")
    odd = replace(up, through="desk/leg 1", into="desk/wall cleat 1")
    more = replace(assembly, joints=(*assembly.joints, strange, strange, odd))
    told = [said(each) for each in no_rule_findings("set", more)]
    assert told == [
        "no strength rule covers a board screwed to a board and 1 more like it",
        "no strength rule covers a leg screwed to a cleat",
    ]
    assert {each.severity for each in no_rule_findings("set", more)} == {Severity.WARN}


def test_what_rests_on_a_cleat_that_no_wall_holds_is_a_warning() -> None:
    assembly = built(desk()).assembly
    on_gable = next(c for c in assembly.cleats if "gable" in c.name)
    assert isinstance(on_gable, Cleat)
    seat = Seated(top="desk/top", on=(on_gable.name,))
    assert "a cleat that is not fixed to a wall" in missing_rule(assembly, seat)
    assert missing_rule(assembly, Seated(top="desk/top", on=("desk/wall cleat 1",))) == ""


def test_a_board_that_is_housed_and_seated_is_measured_outside_its_groove() -> None:
    """A gable let 9 mm into the top that it also rests on: its groove carries it, not the face."""
    assembly = built(desk()).assembly
    top, gable = assembly.board("desk/top"), assembly.board("desk/far gable")
    into = Housed(member=top.name, into=gable.name, clearance_mm=0.2, bottom_mm=0.2)
    sunk = replace(top, box=top.box.grown(Direction.Z_MINUS, 9.0))
    seat = Seated(top=top.name, on=(gable.name,))
    housed = Assembly(boards=(sunk, gable), joints=(seat, into))
    plain = Assembly(boards=(sunk, gable), joints=(seat,))
    assert [each.severity for each in seat_findings("set", housed)] == [Severity.OK]
    assert [each.severity for each in seat_findings("set", plain)] == [Severity.FAIL]
