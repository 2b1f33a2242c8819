"""The most that a relaxed sheet holds, against a search that tries every start."""

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.bounds.relaxed_sheet import Along, RelaxedSheet
from nesting.bounds.sides import Turns
from tests.nesting.bounds.bare_room import room
from tests.nesting.bounds.relaxed_brute_force import most_worth

MANY = 10_000_000


@st.composite
def questions(draw):
    length, width = draw(st.integers(2, 6)), draw(st.integers(2, 5))
    pieces = []
    for item_type in range(draw(st.integers(1, 4))):
        sides = [(draw(st.integers(2, length)), draw(st.integers(1, width)))]
        if draw(st.booleans()) and sides[0][1] <= length and sides[0][0] <= width:
            sides.append(sides[0][::-1])
        pieces.append(
            Turns(sides=tuple(sides), item_types=(item_type,), demand=draw(st.integers(1, 3)))
        )
    dual_values = [draw(st.integers(0, 40)) * 1_000_000 for _ in pieces]
    return length, width, tuple(pieces), dual_values, draw(st.sampled_from(Along))


@given(questions())
@settings(deadline=None, max_examples=150)
def test_the_most_is_what_trying_every_start_finds(question):
    length, width, pieces, dual_values, along = question
    sheet = RelaxedSheet(pieces, room(length, width), along)
    columns = [
        (*(side if along is Along.LENGTH else side[::-1]), dual_values[number], number)
        for number, piece in enumerate(pieces)
        for side in piece.sides
    ]
    sides = (length, width) if along is Along.LENGTH else (width, length)
    true = most_worth(*sides, columns, [piece.demand for piece in pieces])
    held = sheet.most(dual_values, 0, MANY)
    # A tick's value is rounded up: by less than the length of each piece.
    assert true <= held.most <= true + length * width * 6
    for nodes in (0, 1, 30):
        assert sheet.most(dual_values, 0, nodes).most >= true
        assert sheet.least(dual_values, nodes).most >= true
    if held.counts is not None:
        assert sum(w * n for w, n in zip(dual_values, held.counts, strict=True)) == true


def test_bars_alone_do_not_see_that_a_piece_is_whole():
    # One 3 x 3 square fits a sheet of 5 x 5. A bar across holds one, worth a third of it a tick,
    # on 5 ticks. The worthless square is there so that no unit above 1 divides all sizes.
    squares = [Turns(sides=((side, side),), item_types=(side,), demand=9) for side in (3, 4)]
    sheet = RelaxedSheet(squares, room(5, 5), Along.LENGTH)
    assert sheet.most([3_000_000, 0], 0, 0).most == 5_000_000
    assert sheet.most([3_000_000, 0], 0, 1000).most == 3_000_000


def test_a_target_that_holds_is_proven_and_not_searched_below():
    square = Turns(sides=((3, 3),), item_types=(0,), demand=9)
    sheet = RelaxedSheet((square,), room(5, 5), Along.LENGTH)
    held = sheet.most([3_000_000], 4_000_000, 1000)
    assert (held.most, held.counts) == (4_000_000, None)
