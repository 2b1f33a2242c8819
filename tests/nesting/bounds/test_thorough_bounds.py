"""What a thorough look adds, and that it can be repeated."""

from itertools import islice

import pytest

from nesting.answer.solution import BoundKind
from nesting.bounds import relaxed_sheet
from nesting.bounds.lower_bounds import quick_bounds, thorough_bounds
from nesting.bounds.sides import turns_of, usable_rooms
from nesting.bounds.thorough import thorough_certificates
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.problem import problem_of
from nesting.question.settings import Effort
from nesting.question.sheet_rules import SheetRules, Trim
from tests.bench.mixed_pieces import question, with_remnants
from tests.nesting.room_job import room_job

RULES = SheetRules(trim=Trim.even(0), gap=0)


def ask(pieces, length: int, width: int):
    stock = Stock(id="s", length=length, width=width, price=2.0, on_hand=None)
    return problem_of(Instance(pieces=tuple(pieces), stocks=(stock,), rules=RULES))


def piece(length: int, width: int, quantity: int) -> Piece:
    return Piece(
        id=f"{length} x {width}", length=length, width=width, quantity=quantity, turn=Turn.FIXED
    )


def test_widths_that_never_fill_a_sheet_are_seen_by_bars():
    # Across 100 go 37 + 37, 37 + 29 + 29 or 29 + 29 + 29: worth at most 1 when a 37 is worth a half
    # and a 29 a quarter. So 60 of each need 45 sheets, and by their area only 40.
    problem = ask([piece(500, 37, 60), piece(500, 29, 60)], 500, 100)
    bounds = thorough_bounds(problem, (), 10_000)
    assert bounds.sheets == 45
    assert bounds.price * problem.unit == 2 * bounds.sheets


def test_a_room_job_is_bounded_above_its_area_and_the_same_each_time():
    problem = problem_of(room_job(40))
    area = quick_bounds(problem)
    once, again = (thorough_bounds(problem, (), 300_000) for _ in range(2))
    assert once == again
    assert once.sheets >= area.sheets


def test_a_search_that_pauses_proves_the_same_as_one_that_does_not(monkeypatch):
    problem = problem_of(room_job(40))
    in_one_go = thorough_bounds(problem, (), 200_000)
    monkeypatch.setattr(relaxed_sheet, "AT_ONCE", 97)
    assert thorough_bounds(problem, (), 200_000) == in_one_go


@pytest.mark.parametrize("last", [1, 2, 5, 20, 60])
def test_once_asked_to_stop_it_asks_no_more_and_keeps_what_is_proven(last, monkeypatch):
    monkeypatch.setattr(relaxed_sheet, "AT_ONCE", 5_000)
    problem = problem_of(room_job(10))
    asked = 0

    def stop() -> bool:
        nonlocal asked
        asked += 1
        return asked >= last

    quick = quick_bounds(problem)
    bounds = thorough_bounds(problem, (), 1_000_000, stop)
    assert asked == last
    assert quick is not None
    assert bounds.sheets >= quick.sheets


def test_without_nodes_only_functions_are_tried():
    problem = problem_of(room_job(3))
    bounds = thorough_bounds(problem, (), 0)
    assert bounds.sheets_kind in {BoundKind.AREA, BoundKind.DUAL_FEASIBLE}


def test_few_nodes_are_not_spent_on_bars_in_many_rooms():
    """Bars of many sizes in many rooms take longer than quick effort has, and nothing counts it."""
    problem = problem_of(with_remnants(question(60, Turn.QUARTER, seed=1), 5))
    pieces, rooms = turns_of(problem), usable_rooms(problem)

    def item_types(nodes):
        return {
            item_type
            for item_type, _ in islice(thorough_certificates(pieces, rooms, (), nodes), 80)
        }

    assert BoundKind.BARS not in item_types(Effort.QUICK.value.bound_nodes)
    assert BoundKind.BARS in item_types(Effort.NORMAL.value.bound_nodes)
