"""Negative controls: each kind of broken answer is found, and only what is broken."""

import dataclasses
from pathlib import Path

import pytest

from nesting.instance import Instance, Piece, SheetRules, Stock, Turn
from nesting.solution import BoundKind, Layout, Placement, Solution
from nesting.verify import violations
from nesting.violation import ViolationKind
from tests.nesting.random_nests import one_sheet

INSTANCE = Instance(
    pieces=(
        Piece(id="side", length=300, width=100, quantity=2, turn=Turn.FIXED),
        Piece(id="back", length=200, width=50, quantity=2, turn=Turn.QUARTER),
    ),
    stocks=(Stock(id="board", length=1000, width=400, price=1.0, on_hand=2),),
    rules=SheetRules(trim=10, gap=8),
)
SIDE = Placement(piece="side", x=10, y=10, turned=False)
UPPER_SIDE = Placement(piece="side", x=10, y=118, turned=False)
BACK = Placement(piece="back", x=318, y=10, turned=False)
TURNED_BACK = Placement(piece="back", x=526, y=10, turned=True)
GOOD = (SIDE, UPPER_SIDE, BACK, TURNED_BACK)


def answer(*layouts: Layout, lower_bound: int = 1) -> Solution:
    return Solution(layouts=layouts, lower_bound=lower_bound, bound_kind=BoundKind.AREA)


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
    touching = dataclasses.replace(INSTANCE, rules=SheetRules(trim=10, gap=0))
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


def test_every_kind_of_violation_has_a_control_here():
    source = Path(__file__).read_text(encoding="utf-8")
    assert all(f"ViolationKind.{kind.name}" in source for kind in ViolationKind)
