"""The order of layouts: all stay, and no fewer rooms could be open where all orders are tried."""

from collections import Counter
from itertools import permutations

from hypothesis import given
from hypothesis import strategies as st

from nesting.after.run_order import in_order_of_rooms, rooms_open, runs_in_order_of_rooms
from nesting.answer.solution import Layout, Placement

PIECES = "abcd"


def layout(stock: str, runs: int, pieces: str) -> Layout:
    placed = (Placement(piece=p, x=n, y=0, turned=False) for n, p in enumerate(pieces))
    return Layout(stock=stock, runs=runs, placements=tuple(placed))


layouts = st.lists(
    st.builds(
        layout,
        st.sampled_from("ST"),
        st.integers(1, 3),
        st.text(PIECES, min_size=1, max_size=4),
    ),
    min_size=1,
    max_size=5,
).map(lambda listed: sorted(listed, key=lambda each: each.stock))
rooms = st.lists(st.text(PIECES, max_size=4).map(Counter), max_size=5)


def counted_by_hand(listed: list[Layout], wanted: list[Counter[str]]) -> tuple[int, int]:
    """Deal piece by piece and look after each sheet: shares nothing with what is tested."""
    queue = [(room, piece) for room, needs in enumerate(wanted) for piece in needs.elements()]
    missing = [sum(needs.values()) for needs in wanted]
    wants, got = list(missing), [0] * len(wanted)
    most = total = 0
    for each in listed:
        for _ in range(each.runs):
            for placed in each.placements:
                at = next((n for n, (_, piece) in enumerate(queue) if piece == placed.piece), None)
                if at is not None:
                    got[queue.pop(at)[0]] += 1
            begun = sum(1 for has, all_ in zip(got, wants, strict=True) if 0 < has < all_)
            most, total = max(most, begun), total + begun
    return most, total


@given(layouts, rooms)
def test_open_rooms_are_those_counted_by_hand(
    listed: list[Layout], wanted: list[Counter[str]]
) -> None:
    made = sum(
        (Counter(p.piece for p in e.placements for _ in range(e.runs)) for e in listed), Counter()
    )
    asked = sum(wanted, Counter())
    if len(listed) > 1 and all(made[piece] >= many for piece, many in asked.items()):
        assert rooms_open(listed, wanted) == counted_by_hand(listed, wanted)


@given(layouts, rooms)
def test_layouts_stay_and_no_more_rooms_are_open(
    listed: list[Layout], wanted: list[Counter[str]]
) -> None:
    ordered = in_order_of_rooms(listed, wanted)
    assert Counter(ordered) == Counter(listed)
    assert [each.stock for each in ordered] == [each.stock for each in listed]
    assert rooms_open(ordered, wanted) <= rooms_open(listed, wanted)


def test_the_order_of_rooms_is_found() -> None:
    listed = [layout("S", 2, "ab"), layout("S", 1, "cc"), layout("S", 1, "dd")]
    wanted = [Counter("ac"), Counter("bd"), Counter("ac"), Counter("bd")]
    best = min(rooms_open(order, wanted) for order in permutations(listed))
    assert rooms_open(in_order_of_rooms(listed, wanted), wanted) == best
    assert best < max(rooms_open(order, wanted) for order in permutations(listed))


@given(layouts, rooms)
def test_runs_in_the_order_of_rooms_are_all_runs(
    listed: list[Layout], wanted: list[Counter[str]]
) -> None:
    runs = runs_in_order_of_rooms(listed, wanted)
    assert sorted(runs) == [
        (at, run) for at, each in enumerate(listed) for run in range(1, each.runs + 1)
    ]
    for at in range(len(listed)):
        own = [run for place, run in runs if place == at]
        assert own == sorted(own)


def test_rooms_get_whole_one_after_the_other() -> None:
    listed = [layout("S", 3, "a"), layout("S", 3, "b")]
    wanted = [Counter("ab")] * 3
    assert [at for at, _ in runs_in_order_of_rooms(listed, wanted)] == [0, 1, 0, 1, 0, 1]


def test_without_rooms_nothing_changes() -> None:
    listed = [layout("S", 2, "ab"), layout("S", 1, "cc")]
    assert in_order_of_rooms(listed, []) == tuple(listed)
