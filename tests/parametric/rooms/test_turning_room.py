"""Floor to turn things over on, held to trying every place of a grid and to cases by hand."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parametric.findings.finding import Severity
from parametric.geometry.hand import Hand
from parametric.geometry.outline import Bounds
from parametric.primitives.decked_box import DeckHold
from parametric.rooms.measured import Measured
from parametric.rooms.room_findings import turning_finding
from parametric.rooms.room_fit import RoomFit
from parametric.rooms.turning_room import Turn, TurnedHere, has_room, turned_here, turns_of
from parametric.sets.room_set import RoomSet, build_set
from parametric.stock.amounts import in_words
from parametric.stock.lengths import Units
from tests.example_set import CONSTRUCTION, INCH, ROUTING, TRIM_MM, set_sizes
from tests.parametric.rooms.test_room_fit import RIGHT, fit

SIDE = st.integers(1, 7)


@st.composite
def standing(draw: st.DrawFn) -> Bounds:
    x, y = draw(st.integers(0, 7)), draw(st.integers(0, 7))
    return Bounds(x, y, x + draw(st.integers(1, 4)), y + draw(st.integers(1, 4)))


def cells(place: Bounds) -> set[tuple[int, int]]:
    x0, y0, x1, y1 = (int(each) for each in place)
    return {(x, y) for x in range(x0, x1) for y in range(y0, y1)}


@given(SIDE, SIDE, SIDE, SIDE, st.lists(standing(), max_size=5))
def test_a_floor_is_found_wherever_there_is_one(
    long: int, wide: int, width: int, depth: int, there: list[Bounds]
) -> None:
    """All lengths are whole, so that all places of a grid are all places that matter."""
    taken = set().union(*(cells(each) for each in there))
    expected = any(
        cells(Bounds(x, y, x + along, y + out)).isdisjoint(taken)
        for along, out in ((long, wide), (wide, long))
        for x in range(width - along + 1)
        for y in range(depth - out + 1)
    )
    turn = Turn(about="deck", long_mm=long, wide_mm=wide, standing=tuple(there))
    assert has_room(turn, width, depth) is expected


def held(how: DeckHold | None, hand: Hand = Hand.RIGHT) -> RoomSet:
    sizes = set_sizes(bed_width=39.0, deck_held=how)  # of one piece
    return build_set(sizes, hand, CONSTRUCTION, ROUTING, TRIM_MM)


@pytest.mark.parametrize("hand", list(Hand))
def test_what_stands_by_then_counts_and_what_comes_later_does_not(hand: Hand) -> None:
    """The bed's deck is turned over when boxes and table stand, and the
    bench's deck of 24 x 44 in lies there dry, before the wall panel hangs.
    """
    (turn,) = (each for each in turns_of(held(None, hand).assembly) if each.about == "bed deck")
    assert {round(turn.long_mm / INCH, 3), round(turn.wide_mm / INCH, 3)} == {80.0, 78.0}
    assert max(each.x1 for each in turn.standing if each.x0 == 0) == pytest.approx(24 * INCH)
    assert max(each.y1 for each in turn.standing if each.x0 == 0) == pytest.approx(44 * INCH)


def test_a_box_that_is_turned_over_with_its_deck_has_nothing_of_itself_in_the_way() -> None:
    box, glued = (turns_of(held(how).assembly) for how in (DeckHold.SCREWED, None))
    (turned,) = (each for each in box if each.about == "bed")
    (deck,) = (each for each in glued if each.about == "bed deck")
    assert len(turned.standing) < len(deck.standing)


def test_nothing_is_said_of_a_floor_that_nobody_measured() -> None:
    word = "clear floor, to turn things over on"
    for measured in (Measured(), Measured(floor_width_mm=9000.0), Measured(floor_depth_mm=9000.0)):
        assert turned_here(RIGHT.assembly, measured) == ()
        assert word in fit(measured).unknown
        assert turning_finding([fit(measured)]) is None
    whole = Measured(floor_width_mm=9000.0, floor_depth_mm=9000.0)
    assert word not in fit(whole).unknown
    found = turning_finding([fit(whole), fit(Measured())])
    assert found is not None and found.severity is Severity.OK


def room(number: str, *abouts: str, clear: bool = False) -> RoomFit:
    turned = tuple(
        TurnedHere(about=about, long_mm=2020.0, wide_mm=1840.0, clear=clear) for about in abouts
    )
    return replace(fit(Measured()), room=number, turned=turned)


def test_rooms_without_such_floor_are_named_once() -> None:
    rooms = [room("1", "near deck", "far deck"), room("2", "near deck", "far deck")]
    found = turning_finding([*rooms, room("3", "near deck"), room("4", "near deck", clear=True)])
    assert found is not None
    assert (found.severity, found.measured, found.limit) == (Severity.WARN, 3.0, 0.0)
    floor = "no clear floor of 2020 mm x 1840 mm to turn over the"
    assert in_words(found.message, Units.MM) == (
        f"{floor} near deck in rooms 1, 2, 3; {floor} far deck in rooms 1, 2"
    )
    together = turning_finding(rooms)
    assert together is not None
    assert in_words(together.message, Units.MM) == (
        f"{floor} near deck and the far deck in rooms 1, 2"
    )
