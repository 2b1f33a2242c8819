"""Negative controls: each kind of broken answer is found, and only what is broken."""

import dataclasses
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.answer.solution import Layout, Placement, Solution
from nesting.answer.verify import violations
from nesting.question.instance import Defect, Instance, Piece, Stock, StockKind, Turn
from nesting.question.sheet_rules import EdgeToEdge, Rim, SheetRules, Trim
from nesting.question.violation import ViolationKind
from tests.nesting.random_nests import answer_of, one_sheet

INSTANCE = Instance(
    pieces=(
        Piece(id="side", length=300, width=100, quantity=2, turn=Turn.FIXED),
        Piece(id="back", length=200, width=50, quantity=2, turn=Turn.QUARTER),
    ),
    stocks=(Stock(id="board", length=1000, width=400, price=1.0, on_hand=2),),
    rules=SheetRules(trim=Trim.even(10), gap=8),
)
SIDE = Placement(piece="side", x=10, y=10, turned=False)
UPPER_SIDE = Placement(piece="side", x=10, y=118, turned=False)
BACK = Placement(piece="back", x=318, y=10, turned=False)
TURNED_BACK = Placement(piece="back", x=526, y=10, turned=True)
GOOD = (SIDE, UPPER_SIDE, BACK, TURNED_BACK)


def answer(*layouts: Layout, lower_bound: int = 1) -> Solution:
    known = [layout for layout in layouts if layout.stock == "board"]
    price = float(sum(layout.runs for layout in known))
    return answer_of(INSTANCE, *layouts, lower_bound=lower_bound, price=price)


def kinds_of(solution: Solution, instance: Instance = INSTANCE) -> list[ViolationKind]:
    found = violations(instance, solution)
    assert all(str(violation.kind) in str(violation) for violation in found)
    return [violation.kind for violation in found]


def with_moved(old: Placement, **changes) -> Solution:
    moved = dataclasses.replace(old, **changes)
    return answer(one_sheet("board", *(moved if place is old else place for place in GOOD)))


def test_a_right_answer_has_no_violation():
    assert kinds_of(answer(one_sheet("board", *GOOD))) == []
    halves = one_sheet("board", SIDE, BACK, runs=2)
    assert kinds_of(answer(halves)) == []


def test_parts_may_touch_the_trim_and_keep_exactly_the_gap():
    right = 1000 - 10 - 50
    top = 400 - 10 - 200
    assert kinds_of(with_moved(TURNED_BACK, x=right, y=top)) == []
    assert kinds_of(with_moved(TURNED_BACK, x=right + 1, y=top)) == [ViolationKind.OUTSIDE]
    assert kinds_of(with_moved(TURNED_BACK, x=right, y=top + 1)) == [ViolationKind.OUTSIDE]
    assert kinds_of(with_moved(UPPER_SIDE, y=117)) == [ViolationKind.GAP]


@pytest.mark.parametrize("changes", [{"x": 9}, {"y": 9}])
def test_a_part_in_the_trim_is_found(changes):
    assert kinds_of(with_moved(SIDE, **changes)) in (
        [ViolationKind.OUTSIDE],
        [ViolationKind.OUTSIDE, ViolationKind.GAP],
    )


def test_an_overlap_is_found():
    assert kinds_of(with_moved(UPPER_SIDE, y=109)) == [ViolationKind.OVERLAP]
    assert kinds_of(with_moved(UPPER_SIDE, y=10)) == [ViolationKind.OVERLAP]


def test_without_a_gap_parts_may_touch_but_not_overlap():
    touching = dataclasses.replace(INSTANCE, rules=SheetRules(trim=Trim.even(10), gap=0))
    assert kinds_of(with_moved(UPPER_SIDE, y=110), touching) == []
    assert kinds_of(with_moved(UPPER_SIDE, y=109), touching) == [ViolationKind.OVERLAP]


def test_the_gap_holds_at_corners_as_along_sides():
    # The upper side ends at (310, 218). 7 ticks away in both directions is almost 10 in a straight
    # line, but the rule asks for 8 along x or along y.
    corner = {"x": 317, "y": 225, "turned": False}
    assert kinds_of(with_moved(TURNED_BACK, **corner)) == [ViolationKind.GAP]
    assert kinds_of(with_moved(TURNED_BACK, **corner | {"x": 318})) == []
    assert kinds_of(with_moved(TURNED_BACK, **corner | {"y": 226})) == []


def test_a_part_turned_against_its_grain_is_found():
    assert kinds_of(with_moved(UPPER_SIDE, x=700, turned=True, y=20)) == [ViolationKind.GRAIN]


def test_missing_and_surplus_parts_are_found():
    assert kinds_of(answer(one_sheet("board", SIDE, UPPER_SIDE, BACK))) == [ViolationKind.COUNT]
    assert kinds_of(answer(one_sheet("board", *GOOD, runs=2))) == [ViolationKind.COUNT] * 2
    assert kinds_of(answer(lower_bound=0)) == [ViolationKind.COUNT] * 2


def test_too_many_sheets_are_found():
    sheets = (one_sheet("board", SIDE, runs=2), one_sheet("board", BACK, runs=2))
    assert kinds_of(answer(*sheets)) == [ViolationKind.ON_HAND]


def test_runs_must_be_positive():
    empty = one_sheet("board", SIDE, runs=0)
    assert kinds_of(answer(empty, one_sheet("board", *GOOD))) == [ViolationKind.RUNS]


def test_unknown_names_are_found():
    stranger = Placement(piece="lid", x=800, y=300, turned=False)
    assert kinds_of(answer(one_sheet("board", *GOOD, stranger))) == [ViolationKind.UNKNOWN_PIECE]
    assert kinds_of(answer(one_sheet("plank", *GOOD))) == [ViolationKind.UNKNOWN_STOCK]


def test_a_bound_above_the_answer_is_found():
    solution = answer(one_sheet("board", *GOOD), lower_bound=2)
    assert kinds_of(solution) == [ViolationKind.BOUND]


def test_each_edge_has_a_trim_of_its_own():
    trim = Trim(left=10, right=300, bottom=10, top=130)
    uneven = dataclasses.replace(INSTANCE, rules=SheetRules(trim=trim, gap=8))
    assert kinds_of(answer(one_sheet("board", *GOOD)), uneven) == []
    assert kinds_of(with_moved(TURNED_BACK, x=651), uneven) == [ViolationKind.OUTSIDE]
    assert kinds_of(with_moved(TURNED_BACK, y=71), uneven) == [ViolationKind.OUTSIDE]


def with_defect(**sides: int) -> Instance:
    board = dataclasses.replace(INSTANCE.stocks[0], defects=(Defect(**sides),))
    return dataclasses.replace(INSTANCE, stocks=(board,))


def test_parts_keep_the_gap_from_defects_along_x_or_y():
    good = answer(one_sheet("board", *GOOD))
    corner = {"x": 584, "y": 218, "length": 20, "width": 20}
    assert kinds_of(good, with_defect(**corner)) == []
    assert kinds_of(good, with_defect(**corner | {"x": 583, "y": 217})) == [ViolationKind.DEFECT]
    assert kinds_of(good, with_defect(**corner | {"x": 583})) == []
    assert kinds_of(good, with_defect(x=0, y=0, length=400, width=2)) == []
    assert kinds_of(good, with_defect(x=0, y=0, length=310, width=3)) == [ViolationKind.DEFECT]


def test_small_parts_keep_their_distance_from_the_trimmed_edges():
    # Backs have no side longer than 200; sides are larger and may lie at the rim.
    def rules(longest_side: int, distance: int) -> Instance:
        rim = Rim(longest_side=longest_side, distance=distance)
        return dataclasses.replace(INSTANCE, rules=dataclasses.replace(INSTANCE.rules, rim=rim))

    good = answer(one_sheet("board", *GOOD))
    assert kinds_of(good, rules(199, 50)) == []
    assert kinds_of(good, rules(200, 0)) == []
    assert kinds_of(good, rules(200, 1)) == [ViolationKind.RIM] * 2
    off = answer(one_sheet("board", SIDE, UPPER_SIDE, *moved_off_the_rim(20)))
    assert kinds_of(off, rules(200, 20)) == []
    assert kinds_of(off, rules(200, 21)) == [ViolationKind.RIM] * 2


@given(st.integers(0, 300_000), st.integers(0, 10), st.integers(1, 60))
def test_the_distance_from_the_rim_is_exact_at_any_size(length, trim, distance):
    stock = Stock(id="s", length=length + 500, width=997, price=1.0, on_hand=None)
    dot = Piece(id="dot", length=1, width=1, quantity=1, turn=Turn.FIXED)
    rim = Rim(longest_side=1, distance=distance)
    rules = SheetRules(trim=Trim.even(trim), gap=0, rim=rim)
    instance = Instance(pieces=(dot,), stocks=(stock,), rules=rules)
    edge = trim + distance
    right = Placement(piece="dot", x=edge, y=997 - edge - 1, turned=False)
    wrong = dataclasses.replace(right, x=edge - 1)
    assert kinds_of(answer_of(instance, one_sheet("s", right)), instance) == []
    assert kinds_of(answer_of(instance, one_sheet("s", wrong)), instance) == [ViolationKind.RIM]


def moved_off_the_rim(distance: int) -> tuple[Placement, Placement]:
    return (
        dataclasses.replace(BACK, y=10 + distance),
        dataclasses.replace(TURNED_BACK, x=1000 - 10 - 50 - distance, y=60),
    )


def sawn(stages: int | None) -> Instance:
    rules = dataclasses.replace(INSTANCE.rules, saw=EdgeToEdge(stages=stages))
    return dataclasses.replace(INSTANCE, rules=rules)


def test_edge_to_edge_cuts_and_their_stages_are_checked():
    good = answer(one_sheet("board", *GOOD))
    assert kinds_of(good, sawn(2)) == []
    # Two columns that no rip across both of them could part.
    piled = dataclasses.replace(TURNED_BACK, turned=False, x=350, y=68)
    beside = (SIDE, dataclasses.replace(UPPER_SIDE, y=290), BACK, piled)
    assert kinds_of(answer(one_sheet("board", *beside)), sawn(2)) == []
    instance = dataclasses.replace(sawn(2), pieces=PINWHEEL)
    assert kinds_of(priced(instance, pinwheel(0)), instance) == [ViolationKind.CUTS]
    free = dataclasses.replace(instance, rules=SheetRules(trim=Trim.even(10), gap=8))
    assert kinds_of(priced(free, pinwheel(0)), free) == []


def test_a_third_stage_is_told_apart():
    sizes = {"tall": (100, 208), "a": (100, 100), "b": (100, 100), "long": (208, 50)}
    pieces = tuple(
        Piece(id=name, length=length, width=width, quantity=1, turn=Turn.FIXED)
        for name, (length, width) in sizes.items()
    )
    places = {"tall": (10, 10), "a": (118, 10), "b": (118, 118), "long": (10, 226)}
    layout = one_sheet(
        "board", *(Placement(piece=n, x=x, y=y, turned=False) for n, (x, y) in places.items())
    )
    for stages, expected in ((2, [ViolationKind.STAGES]), (3, []), (None, [])):
        instance = dataclasses.replace(sawn(stages), pieces=pieces)
        assert kinds_of(priced(instance, layout), instance) == expected


PINWHEEL = tuple(
    Piece(id=name, length=length, width=width, quantity=1, turn=Turn.FIXED)
    for name, length, width in (("s", 92, 42), ("e", 42, 92), ("n", 92, 42), ("w", 42, 92))
)


def pinwheel(at: int) -> Layout:
    places = ((10, 10), (110, 10), (60, 110), (10, 60))
    return one_sheet(
        "board",
        *(
            Placement(piece=piece.id, x=x + at, y=y + at, turned=False)
            for piece, (x, y) in zip(PINWHEEL, places, strict=True)
        ),
    )


def priced(instance: Instance, *layouts: Layout) -> Solution:
    return answer_of(instance, *layouts)


def test_a_price_that_is_not_that_of_the_sheets_is_found():
    sheets = one_sheet("board", *GOOD)
    right = answer_of(INSTANCE, sheets, price_bound=1.0)
    assert right.price == 1.0
    assert kinds_of(right) == []
    assert kinds_of(dataclasses.replace(right, price=1.01)) == [ViolationKind.PRICE]
    assert kinds_of(dataclasses.replace(right, price_bound=1.01)) == [ViolationKind.PRICE_BOUND]
    assert kinds_of(dataclasses.replace(right, price_bound=float("nan"))) == [
        ViolationKind.PRICE_BOUND
    ]
    kept = dataclasses.replace(INSTANCE.stocks[0], kind=StockKind.REMNANT)
    free = dataclasses.replace(INSTANCE, stocks=(kept,))
    assert kinds_of(right, free) == [ViolationKind.PRICE, ViolationKind.PRICE_BOUND]
    assert kinds_of(answer_of(free, sheets), free) == []


def test_every_kind_of_violation_has_a_control_here():
    source = Path(__file__).read_text(encoding="utf-8")
    assert all(f"ViolationKind.{kind.name}" in source for kind in ViolationKind)
