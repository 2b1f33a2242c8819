"""Bars and lines together: as large as a linear program written out in full says."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from nesting.bounds.bars_both_ways import both_ways
from nesting.bounds.relaxed_sheet import Along, RelaxedSheet
from nesting.bounds.sides import Turns, turns_of, usable_rooms
from nesting.question.problem import problem_of
from tests.nesting.bounds.bare_room import room
from tests.nesting.room_job import room_job

MANY = 1_000_000


def fewest_sheets(length: int, width: int, pieces) -> float:
    """The least fraction of sheets whose bars across and whose lines along hold every piece.

    Scheithauer (1999): a piece is in as many bars as it is long, and in as many lines as it is
    wide. All bars and all lines are written out; the program is solved by scipy.
    """
    turns = [(side, number) for number, piece in enumerate(pieces) for side in piece.sides]
    copies = [piece.demand for piece in pieces]

    def all_of(sizes, whole):
        ranges = [
            range(min(copies[number], whole // size) + 1)
            for size, (_, number) in zip(sizes, turns, strict=True)
        ]
        return [
            bar
            for bar in product(*ranges)
            if sum(n * s for n, s in zip(bar, sizes, strict=True)) <= whole
        ]

    bars = all_of([side[1] for side, _ in turns], width)
    lines = all_of([side[0] for side, _ in turns], length)
    count = len(turns)
    # How many of each turn, how long each bar lies, how wide each line, sheets.
    columns = count + len(bars) + len(lines) + 1
    rows, most = [], []
    for turn, (side, _) in enumerate(turns):
        for first, patterns, extent in ((count, bars, 0), (count + len(bars), lines, 1)):
            row = np.zeros(columns)
            row[turn] = side[extent]
            for at, pattern in enumerate(patterns):
                row[first + at] = -pattern[turn]
            rows.append(row)
            most.append(0.0)
    for first, patterns, whole in ((count, bars, length), (count + len(bars), lines, width)):
        row = np.zeros(columns)
        row[first : first + len(patterns)] = 1.0
        row[-1] = -whole
        rows.append(row)
        most.append(0.0)
    for number, need in enumerate(copies):
        row = np.zeros(columns)
        for turn, (_, own) in enumerate(turns):
            row[turn] = -float(own == number)
        rows.append(row)
        most.append(-need)
    costs = np.zeros(columns)
    costs[-1] = 1.0
    return float(linprog(costs, A_ub=np.array(rows), b_ub=most, method="highs").fun)


@st.composite
def questions(draw):
    length, width = draw(st.integers(3, 9)), draw(st.integers(3, 9))
    # No unit above 1 divides all sizes: sizes are then rounded nowhere.
    pieces = [
        Turns(sides=(side,), item_types=(item_type,), demand=1)
        for item_type, side in enumerate(((2, 3), (3, 2)))
    ]
    for item_type in range(2, 2 + draw(st.integers(1, 2))):
        sides = [(draw(st.integers(2, length)), draw(st.integers(2, width)))]
        turned = sides[0][::-1]
        if draw(st.booleans()) and turned != sides[0] and turned[0] <= length:
            sides += [turned] if turned[1] <= width else []
        pieces.append(
            Turns(sides=tuple(sides), item_types=(item_type,), demand=draw(st.integers(1, 6)))
        )
    return length, width, tuple(pieces)


@given(questions(), st.sampled_from(Along))
@settings(deadline=None, max_examples=100)
def test_the_worths_prove_what_the_program_in_full_does(question, along):
    length, width, pieces = question
    sheet = RelaxedSheet(pieces, room(length, width), along)
    demand = np.array([float(piece.demand) for piece in pieces])
    found = both_ways([sheet], [1.0], demand)
    sheet.part(found.parts[0])
    scale = 1 << 50
    held = sheet.most([int(value * scale) for value in found.dual_values], 0, 0)
    proven = float(found.dual_values @ demand) * scale / held.most
    assert proven == pytest.approx(fewest_sheets(length, width, pieces), rel=1e-3)


def test_together_they_prove_more_of_a_room_job_than_bars_or_lines_alone():
    problem = problem_of(room_job(400))
    pieces, (room_of_board,) = turns_of(problem), usable_rooms(problem)
    demand = np.array([float(piece.demand) for piece in pieces])
    sheet = RelaxedSheet(pieces, room_of_board, Along.LENGTH)
    found = both_ways([sheet], [1.0], demand)
    dual_values = [int(value * (1 << 50)) for value in found.dual_values]
    alone = sheet.most(dual_values, 0, 0).most
    sheet.part(found.parts[0])
    assert sheet.most(dual_values, 0, 0).most < 0.999 * alone


@given(questions(), st.sampled_from(Along), st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=100)
def test_whatever_the_parts_a_sheet_never_holds_more_than_proven(question, along, random):
    length, width, pieces = question
    sheet = RelaxedSheet(pieces[:2], room(length, width), along)
    dual_values = [random.randrange(1, 40) * 1_000_000 for _ in pieces[:2]]
    true = sheet.most(dual_values, 0, MANY).most
    sheet.part(np.array([random.random() for _ in sheet.turns]))
    for nodes in (0, 1, 30, MANY):
        assert sheet.least(dual_values, nodes).most >= true
        assert sheet.most(dual_values, 0, nodes).most >= true
