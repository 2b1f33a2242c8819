"""The choices around the fewest sizes. What is exact about them is in test_size_groups."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parametric.rooms.filler_widths import LeftOut, SizedRoom
from parametric.rooms.opening_choices import ChoiceKind, SizeChoice, set_openings, size_choices
from parametric.rooms.size_groups import SizeRange


def room(name: str, flush_mm: float) -> SizedRoom:
    """A room with 3 to 50 mm beside the set, its widths whole already."""
    widths = SizeRange(least_mm=flush_mm - 50, most_mm=flush_mm - 3, flush_mm=flush_mm)
    return SizedRoom(room=name, exact=widths, stepped=widths)


def choices(deck_mm: float, *flush_mm: float) -> dict[ChoiceKind, SizeChoice]:
    rooms = [room(str(place), each) for place, each in enumerate(flush_mm)]
    return {each.kind: each for each in size_choices(set_openings("any", deck_mm, rooms))}


def test_by_hand():
    """463 is 3 from 466 and 33 from 496; 533 is 3 from 536. Alone, 463 leaves 73 of 536."""
    found = choices(450.0, 466.0, 496.0, 536.0)
    assert list(found) == list(ChoiceKind)
    as_it_is = found[ChoiceKind.AS_IT_IS]
    assert as_it_is.decks_mm == (450.0, 450.0, 450.0)
    assert as_it_is.grouping.unserved == (2,)
    assert as_it_is.grouping.total_gap_mm == 16.0 + 46.0
    assert found[ChoiceKind.ONE_FEWER].decks_mm == (463.0, 463.0, 463.0)
    assert found[ChoiceKind.ONE_FEWER].grouping.unserved == (2,)
    assert found[ChoiceKind.FEWEST].decks_mm == (463.0, 463.0, 533.0)
    assert found[ChoiceKind.FEWEST].grouping.unserved == ()
    assert found[ChoiceKind.ONE_MORE].decks_mm == (463.0, 493.0, 533.0)
    assert found[ChoiceKind.ONE_MORE].grouping.total_gap_mm == 9.0


def test_one_size_for_all_has_no_fewer():
    assert ChoiceKind.ONE_FEWER not in choices(450.0, 466.0, 496.0)


def test_one_size_more_that_saves_no_filler_is_no_choice():
    assert list(choices(450.0, 466.0, 466.0)) == [ChoiceKind.AS_IT_IS, ChoiceKind.FEWEST]


def test_rooms_without_widths_are_kept_apart():
    out = LeftOut(room="9", why="nobody measured it")
    openings = set_openings("any", 450.0, [room("1", 466.0), out, room("2", 470.0)])
    assert [each.room for each in openings.rooms] == ["1", "2"]
    assert openings.left_out == (out,)
    assert list(size_choices(set_openings("any", 450.0, [out]))) == []


@pytest.mark.parametrize(("flush_mm", "nearest_mm"), [(600.0, 503.0), (655.0, 700.0)])
def test_a_room_that_is_not_served_has_the_nearest_width(flush_mm, nearest_mm):
    """600 asks for 550 to 597: 47 over 503, 103 under 700. 655 asks for 605 to 652: 102 and 48."""
    found = choices(450.0, 506.0, 506.0, flush_mm, 703.0, 703.0)[ChoiceKind.ONE_FEWER]
    assert found.grouping.unserved == (2,)
    assert found.decks_mm == (503.0, 503.0, nearest_mm, 700.0, 700.0)


@given(st.lists(st.integers(400, 900).map(float), min_size=1, max_size=30), st.integers(300, 900))
def test_every_choice_serves_as_it_says(flush_mm, deck_mm):
    found = choices(float(deck_mm), *flush_mm)
    for kind, choice in found.items():
        for place, deck in enumerate(choice.decks_mm):
            left_mm = flush_mm[place] - deck
            assert (3.0 <= left_mm <= 50.0) == (place not in choice.grouping.unserved), kind
        assert len(choice.decks_mm) == len(flush_mm)
    fewest = found[ChoiceKind.FEWEST].grouping
    assert not fewest.unserved
    if ChoiceKind.ONE_FEWER in found:
        fewer = found[ChoiceKind.ONE_FEWER].grouping
        assert fewer.unserved
        assert len(fewer.groups) < len(fewest.groups)
    if ChoiceKind.ONE_MORE in found:
        more = found[ChoiceKind.ONE_MORE].grouping
        assert len(more.groups) == len(fewest.groups) + 1
        assert more.total_gap_mm < fewest.total_gap_mm
    else:
        assert fewest.total_gap_mm == pytest.approx(3.0 * len(flush_mm))
