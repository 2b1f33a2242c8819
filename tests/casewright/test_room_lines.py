"""The wall base, the scribe and the fillers of step pictures, held to sizes by hand.

The example set: a bench on a box of 16 x 36 in in the corner, its deck 24 x 44 in; a bed of 60 in
whose box stands 48 1/8 in from the corner, clear of the wall by the wall base.
"""

from dataclasses import replace

import pytest

from casewright.stages.site.room_lines import (
    FILLER,
    NOTHING,
    SCRIBE,
    WALL_BASE,
    RoomDrawn,
    room_drawn,
    room_lines,
)
from parametric.geometry.hand import Hand
from parametric.geometry.space import Axis
from parametric.joints.assembly import Assembly
from parametric.rooms.fitting import Fitting
from parametric.rooms.measured import Measured
from parametric.rooms.room_fit import SideGap
from parametric.sets.room_set import build_set
from tests.casewright.site_example import fit
from tests.example_set import CONSTRUCTION, INCH, ROUTING, TRIM_MM, set_sizes

BASE = (100.0, 15.0)


def example(hand: Hand) -> Assembly:
    return build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM).assembly


def bench(assembly: Assembly) -> list[str]:
    return [b.name for b in assembly.boards if b.unit == "bench" and b.box.low.z < 1.0]


@pytest.mark.parametrize("hand", list(Hand))
def test_the_wall_base_is_let_out_for_the_box_in_the_corner(hand: Hand) -> None:
    """Along the side wall it begins after the box of 36 in, along the head wall after 16."""
    assembly = example(hand)
    drawn = RoomDrawn(wall_base_mm=BASE)
    named = [
        edge
        for name, edge in room_lines(assembly, hand, bench(assembly), False, drawn)
        if name == WALL_BASE
    ]
    assert len(named) == 2
    along_head, along_side = named
    assert {abs(along_head.start.y), abs(along_head.end.y)} == {BASE[1]}
    assert {along_head.start.z, along_side.end.z} == {BASE[0]}
    assert abs(along_head.start.x) == pytest.approx(16 * INCH)
    assert abs(along_side.start.y) == pytest.approx(36 * INCH)
    assert (along_head.end.x < 0) is (hand is Hand.RIGHT)


def test_no_wall_base_where_nobody_measured_one_or_nothing_comes_near_it() -> None:
    assembly = example(Hand.RIGHT)
    assert not list(room_lines(assembly, Hand.RIGHT, bench(assembly), False, NOTHING))
    drawn = RoomDrawn(wall_base_mm=BASE)
    assert not list(room_lines(assembly, Hand.RIGHT, ["wall panel/panel"], False, drawn))
    closing = room_lines(assembly, Hand.RIGHT, (), True, drawn)
    assert WALL_BASE in {name for name, _ in closing}


@pytest.mark.parametrize("hand", list(Hand))
def test_the_deck_in_the_corner_is_scribed_along_the_side_wall(hand: Hand) -> None:
    assembly = example(hand)
    ((name, edge),) = room_lines(assembly, hand, ["bench/deck"], False, NOTHING)
    assert name == SCRIBE
    assert edge.start.x == edge.end.x == 0.0
    assert abs(edge.start.y - edge.end.y) == pytest.approx(44 * INCH)
    bed = [b.name for b in assembly.boards if b.name.startswith("bed/deck")]
    assert not list(room_lines(assembly, hand, bed, False, NOTHING))


@pytest.mark.parametrize("hand", list(Hand))
def test_a_filler_is_as_wide_as_its_gap_and_stands_beyond_the_set(hand: Hand) -> None:
    assembly = example(hand)
    far = max(assembly.boards, key=lambda board: max(abs(board.box.low.x), abs(board.box.high.x)))
    drawn = RoomDrawn(fillers=((far.name, 30.0),))
    assert not list(room_lines(assembly, hand, [far.name], False, drawn))
    edges = [edge for _, edge in room_lines(assembly, hand, (), True, drawn)]
    reached = [abs(point.x) for edge in edges for point in (edge.start, edge.end)]
    end = max(abs(far.box.low.x), abs(far.box.high.x))
    assert (min(reached), max(reached)) == pytest.approx((end, end + 30.0))
    heights = {point.z for edge in edges for point in (edge.start, edge.end)}
    assert heights == {far.box.low[Axis.Z], far.box.high[Axis.Z]}
    assert [name for name, _ in room_lines(assembly, hand, (), True, drawn)].count(FILLER) == 1


def test_most_rooms_say_what_is_drawn() -> None:
    """Of three wall bases the one that two have; of three gaps that fillers close the middle one,
    and none of what stays open.
    """
    high = Measured(wall_base_height_mm=120.0, wall_base_thickness_mm=15.0)
    usual = Measured(wall_base_height_mm=100.0, wall_base_thickness_mm=12.0)
    rooms = [
        replace(fit("1"), gaps=(SideGap(where="at the seat", gap_mm=gap, beyond="bed/deck"),))
        for gap in (10.0, 14.0, 40.0, 300.0, -2.0)
    ]
    drawn = room_drawn([high, usual, Measured(), usual], rooms, Fitting(most_filler_mm=50.0))
    assert drawn == RoomDrawn(wall_base_mm=(100.0, 12.0), fillers=(("bed/deck", 14.0),))
    assert room_drawn([Measured()], [], Fitting()) == NOTHING
