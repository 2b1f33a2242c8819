"""Parts dealt out to rooms, by hand and held against what rooms need."""

from collections import Counter
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parametric.geometry.hand import Hand
from parametric.lists.allotment import RoomOrder, SetPart, allotted, places

TWIN, FULL = ("twin", Hand.LEFT), ("full", Hand.RIGHT)


def part(name: str, number: str, piece: str = "") -> SetPart:
    return SetPart(name=name, number=number, unit="bed", called=name, piece=piece)


SETS = {
    TWIN: (
        part("bearer a", "P001", "A001"),
        part("bearer b", "P001", "A002"),
        part("deck", "P002"),
    ),
    FULL: (part("bearer a", "P001", "A001"), part("deck", "P003")),
}
ROOMS = (RoomOrder("203", TWIN), RoomOrder("101", FULL), RoomOrder("102", TWIN))


def test_the_first_that_is_cut_goes_to_the_first_room_of_the_schedule() -> None:
    """By hand: 203 comes first, whatever its number; its two bearers go to two pieces."""
    cut = ("P001", "P002", "P001", "P001", "P003", "P001", "P002", "P001")
    found = [
        (place.room, place.part.name, place.part.piece)
        for place in allotted(cut, places(ROOMS, SETS))
        if place is not None
    ]
    assert found == [
        ("203", "bearer a", "A001"),
        ("203", "deck", ""),
        ("203", "bearer b", "A002"),
        ("101", "bearer a", "A001"),
        ("101", "deck", ""),
        ("102", "bearer a", "A001"),
        ("102", "deck", ""),
        ("102", "bearer b", "A002"),
    ]


def test_what_no_room_needs_goes_to_lists_and_then_to_spare() -> None:
    shelf = SetPart(name="shelf", number="P002", unit="rack", called="shelf")
    cut = ("P002",) * 5 + ("P009",)
    dealt = allotted(cut, places(ROOMS, SETS, [(shelf, 2)]))
    assert [None if each is None else each.room for each in dealt] == [
        "203",
        "102",
        "",
        "",
        None,
        None,
    ]
    assert dealt[2] is not None and dealt[2].part.unit == "rack" and dealt[2].key is None


def test_a_room_of_an_unknown_set_is_told() -> None:
    with pytest.raises(KeyError):
        list(places((RoomOrder("1", ("none", Hand.LEFT)),), SETS))


SET_PARTS = st.lists(st.sampled_from(["P001", "P002", "P003"]), max_size=6)


@given(
    st.lists(SET_PARTS, min_size=1, max_size=3),
    st.lists(st.integers(0, 2), max_size=8),
    st.randoms(use_true_random=False),
)
def test_every_room_gets_exactly_what_its_set_needs(
    sets: list[list[str]], rooms: list[int], shuffle: Random
) -> None:
    """In whatever order parts are cut, and no room waits for what a later one has got."""
    made = {
        (f"set {at}", Hand.LEFT): tuple(part(f"p{n}", number) for n, number in enumerate(numbers))
        for at, numbers in enumerate(sets)
    }
    order = [
        RoomOrder(str(at), (f"set {of % len(sets)}", Hand.LEFT)) for at, of in enumerate(rooms)
    ]
    cut = [each.number for room in order for each in made[room.key]]
    shuffle.shuffle(cut)
    dealt = allotted(cut, places(order, made))
    got = Counter((place.room, place.part.name) for place in dealt if place is not None)
    assert got == Counter((room.room, each.name) for room in order for each in made[room.key])
    for number in set(cut):
        served = [int(p.room) for p in dealt if p is not None and p.part.number == number]
        assert served == sorted(served)
