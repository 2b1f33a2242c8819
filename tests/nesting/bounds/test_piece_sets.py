"""Sets of pieces that a sheet may hold, against trying every place of every piece."""

from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.bounds import piece_sets
from nesting.bounds.piece_sets import PieceSets
from nesting.bounds.sides import Turns
from nesting.question.instance import Stock
from nesting.question.sheet_rules import SheetRules, Trim
from tests.nesting.bounds.bare_room import room
from tests.nesting.exhaustive_nest import fit_one_sheet

MANY = 10_000_000
UNIT = 1_000_000
RULES = SheetRules(trim=Trim.even(0), gap=0)


def held(length: int, width: int, pieces, counts) -> bool:
    stock = Stock(id="s", length=length, width=width, price=1.0, on_hand=None)
    parts = [
        (*piece.sides[0], len(piece.sides) == 2)
        for piece, count in zip(pieces, counts, strict=True)
        for _ in range(count)
    ]
    return fit_one_sheet(parts, stock, RULES)


def value_of(dual_values, counts) -> int:
    return sum(value * count for value, count in zip(dual_values, counts, strict=True))


@st.composite
def questions(draw):
    length, width = draw(st.integers(3, 7)), draw(st.integers(3, 6))
    pieces = []
    for item_type in range(draw(st.integers(1, 3))):
        sides = [(draw(st.integers(2, length)), draw(st.integers(1, width)))]
        if draw(st.booleans()) and sides[0][1] <= length and sides[0][0] <= width:
            sides = sorted({sides[0], sides[0][::-1]})
        pieces.append(
            Turns(sides=tuple(sides), item_types=(item_type,), demand=draw(st.integers(1, 3)))
        )
    dual_values = [draw(st.integers(0, 12)) * UNIT for _ in pieces]
    return length, width, tuple(pieces), dual_values, draw(st.integers(1, 30)) * UNIT


@given(questions())
@settings(deadline=None, max_examples=150)
def test_sets_are_found_exactly_where_some_packing_is_worth_more(question):
    length, width, pieces, dual_values, goal = question
    found = PieceSets(pieces, room(length, width), MANY).above(dual_values, goal, MANY)
    choices = product(*(range(piece.demand + 1) for piece in pieces))
    most = max(
        value_of(dual_values, counts) for counts in choices if held(length, width, pieces, counts)
    )
    assert (found.most == goal) == (most <= goal)
    assert bool(found.found) == (most > goal)
    for counts in found.found:
        assert value_of(dual_values, counts) > goal
        assert held(length, width, pieces, counts)


@given(questions(), st.sampled_from([0, 3, 40]))
@settings(deadline=None, max_examples=80)
def test_a_short_look_finds_too_many_sets_and_never_too_few(question, look):
    length, width, pieces, dual_values, goal = question
    found = PieceSets(pieces, room(length, width), look).above(dual_values, goal, MANY)
    if found.most is not None:
        choices = product(*(range(piece.demand + 1) for piece in pieces))
        assert not any(
            value_of(dual_values, counts) > goal and held(length, width, pieces, counts)
            for counts in choices
        )


def test_squares_that_fill_by_area_but_do_not_fit_are_told_apart():
    # Five squares of 3 x 3 have 45 of the 49 square units of a sheet of 7 x 7, which holds four.
    square = Turns(sides=((3, 3),), item_types=(0,), demand=9)
    sets = PieceSets((square,), room(7, 7), MANY)
    assert sets.above([UNIT], 4 * UNIT, MANY).found == ()
    assert sets.above([UNIT], 3 * UNIT, MANY).found == ((4,),)


def test_a_pinwheel_that_no_through_cut_opens_is_found():
    # Four of 4 x 3 around a hole of 1 x 1 fill 7 x 7 but for the hole: two of each turn.
    blade = Turns(sides=((3, 4), (4, 3)), item_types=(0,), demand=4)
    hole = Turns(sides=((1, 1),), item_types=(1,), demand=1)
    found = PieceSets((blade, hole), room(7, 7), MANY).above([3 * UNIT, UNIT], 12 * UNIT, MANY)
    assert found.found == ((4, 1),)
    assert held(7, 7, (blade, hole), (4, 1))


def test_without_nodes_nothing_is_claimed():
    square = Turns(sides=((3, 3),), item_types=(0,), demand=9)
    found = PieceSets((square,), room(7, 7), MANY).above([UNIT], 4 * UNIT, 0)
    assert found.most is None


def test_a_search_that_pauses_finds_the_same(monkeypatch):
    pieces = tuple(
        Turns(sides=((x, y),), item_types=(n,), demand=3)
        for n, (x, y) in enumerate([(5, 3), (3, 2)])
    )
    sets = PieceSets(pieces, room(11, 9), MANY)
    in_one_go = sets.above([5 * UNIT, 2 * UNIT], 18 * UNIT, MANY)
    monkeypatch.setattr(piece_sets, "AT_ONCE", 7)
    assert sets.above([5 * UNIT, 2 * UNIT], 18 * UNIT, MANY) == in_one_go
