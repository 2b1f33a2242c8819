"""Sheets cut several at once."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.answer.solution import Layout, Placement
from nesting.edge_to_edge.books import LayoutBooks, saw_workload
from nesting.edge_to_edge.cut_sequence import cut_sequence
from nesting.edge_to_edge.cuts import CutSequence
from nesting.question.errors import InvalidInstance
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import EdgeToEdge, SheetRules, Trim


def _halved() -> CutSequence:
    """Return the cuts of a sheet cut into two halves: one cut."""
    instance = Instance(
        pieces=(Piece(id="A", length=48, width=50, quantity=2, turn=Turn.FIXED),),
        stocks=(Stock(id="S", length=100, width=50, price=1.0, on_hand=None),),
        rules=SheetRules(trim=Trim.even(0), gap=4, saw=EdgeToEdge(stages=2)),
    )
    places = tuple(Placement(piece="A", x=x, y=0, turned=False) for x in (0, 52))
    return cut_sequence(instance, Layout(stock="S", placements=places, runs=1))


def test_books_of_two_layouts() -> None:
    """By hand: books of 95.5 mm hold five sheets of 19.1 mm."""
    workload = saw_workload(
        [(_halved(), 12), (_halved(), 1)], thickness_mm=19.1, largest_book_mm=95.5
    )
    first, second = workload.layouts
    assert (first.sheets_at_once, first.loads, first.last_load) == (5, 3, 2)
    assert (first.cuts, first.settings, first.cuts_saved) == (3, 3, 9)
    assert (second.sheets_at_once, second.loads, second.cuts_saved) == (1, 1, 0)
    assert (workload.loads, workload.cuts, workload.settings, workload.cuts_saved) == (4, 4, 4, 9)


@given(st.integers(1, 500), st.integers(1, 12), st.integers(0, 90))
def test_loads_hold_all_sheets_and_no_more(runs: int, at_once: int, cuts: int) -> None:
    books = LayoutBooks(
        runs=runs, sheets_at_once=at_once, cuts_per_load=cuts, settings_per_load=cuts
    )
    loads = [at_once] * (books.loads - 1) + [books.last_load]
    assert sum(loads) == runs and 1 <= books.last_load <= at_once
    assert books.cuts + books.cuts_saved == runs * cuts


@pytest.mark.parametrize(
    ("thickness_mm", "book_mm", "runs", "where"),
    [
        (18.0, 17.9, 1, "largest book"),
        (0.0, 60.0, 1, "sheet thickness"),
        (18.0, float("nan"), 1, "largest book"),
        (18.0, 60.0, 0, "runs"),
    ],
)
def test_impossible_books_are_refused(
    thickness_mm: float, book_mm: float, runs: int, where: str
) -> None:
    with pytest.raises(InvalidInstance) as refused:
        saw_workload([(_halved(), runs)], thickness_mm=thickness_mm, largest_book_mm=book_mm)
    assert [fault.where for fault in refused.value.faults] == [where]
