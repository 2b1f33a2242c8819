"""Questions that no answer can meet are refused before any search, with the reason."""

import dataclasses
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.answer.solution import Placement
from nesting.answer.verify import violations
from nesting.question.errors import InvalidInstance, Obstacle, PieceTooBig
from nesting.question.fit_check import refuse_impossible, refuse_oversized
from nesting.question.instance import Defect, Instance, Piece, Stock, StockKind, Turn
from nesting.question.sheet_rules import Rim, SheetRules, Trim
from nesting.question.violation import ViolationKind
from tests.nesting.random_nests import answer_of, instances, one_sheet

BOARD = Stock(id="board", length=1_000, width=500, price=1.0, on_hand=None)
RULES = SheetRules(trim=Trim(left=10, right=20, bottom=30, top=40), gap=8)
FLAW = Defect(x=480, y=240, length=40, width=20)


def piece(length: int, width: int, turn: Turn = Turn.FIXED) -> Piece:
    return Piece(id="p", length=length, width=width, quantity=1, turn=turn)


def ask(item: Piece, *stocks: Stock, rules: SheetRules = RULES) -> Instance:
    return Instance(pieces=(item,), stocks=stocks or (BOARD,), rules=rules)


def obstacles(instance: Instance) -> list[Obstacle]:
    with pytest.raises(PieceTooBig) as caught:
        refuse_impossible(instance)
    (oversized,) = caught.value.pieces
    assert all(str(tried.obstacle) in str(caught.value) for tried in oversized.stocks)
    return [tried.obstacle for tried in oversized.stocks]


def test_the_trim_of_each_edge_counts():
    refuse_impossible(ask(piece(970, 430)))
    assert obstacles(ask(piece(971, 430))) == [Obstacle.SIZE]
    assert obstacles(ask(piece(970, 431))) == [Obstacle.SIZE]
    assert obstacles(ask(piece(431, 970))) == [Obstacle.SIZE]
    refuse_impossible(ask(piece(430, 970, Turn.QUARTER)))


def test_a_defect_in_the_way_is_told_apart_from_size():
    flawed = dataclasses.replace(BOARD, defects=(FLAW,))
    # Left of the defect: 480 less 10 of trim and 8 of gap; right of it: to 980 from 528.
    refuse_impossible(ask(piece(462, 430), flawed))
    assert obstacles(ask(piece(463, 430), flawed)) == [Obstacle.DEFECTS]
    refuse_impossible(ask(piece(970, 202), flawed))
    assert obstacles(ask(piece(970, 203), flawed)) == [Obstacle.DEFECTS]
    refuse_impossible(ask(piece(463, 430), flawed, dataclasses.replace(BOARD, id="other")))


def test_the_rim_rule_alone_is_told_apart():
    rules = dataclasses.replace(RULES, rim=Rim(longest_side=600, distance=100))
    refuse_impossible(ask(piece(600, 230), rules=rules))
    assert obstacles(ask(piece(600, 231), rules=rules)) == [Obstacle.RIM]
    refuse_impossible(ask(piece(601, 430), rules=rules))


def test_defects_and_rim_together_are_told_apart():
    rules = dataclasses.replace(RULES, rim=Rim(longest_side=500, distance=100))
    flawed = dataclasses.replace(BOARD, defects=(FLAW,))
    strip = dataclasses.replace(BOARD, id="strip", width=200)
    # Free of the defect it fits at the rim, free of the rim it fits beside the defect.
    assert obstacles(ask(piece(400, 200), flawed, strip, rules=rules)) == [
        Obstacle.DEFECTS_AND_RIM,
        Obstacle.SIZE,
    ]
    cross = dataclasses.replace(BOARD, defects=(Defect(x=0, y=240, length=1000, width=20),))
    assert obstacles(ask(piece(400, 230), cross, rules=rules)) == [Obstacle.DEFECTS]
    assert obstacles(ask(piece(400, 231), cross, rules=rules)) == [Obstacle.DEFECTS_AND_RIM]


def test_all_contradictions_are_named_at_once():
    kept = dataclasses.replace(BOARD, id="kept", kind=StockKind.REMNANT, width=200)
    spoiled = dataclasses.replace(
        BOARD, id="spoiled", defects=(Defect(x=15, y=35, length=960, width=420),)
    )
    rules = dataclasses.replace(RULES, rim=Rim(longest_side=100, distance=215))
    instance = ask(piece(50, 50), kept, spoiled, rules=rules)
    with pytest.raises(InvalidInstance) as caught:
        refuse_impossible(instance)
    assert [fault.where for fault in caught.value.faults] == [
        "stock kept: on hand",
        "stock spoiled: defects",
        "rules: rim: distance",
    ]
    # With no small part the rim rule harms nobody.
    refuse_impossible(ask(piece(101, 50), rules=rules))


def test_a_rim_that_just_leaves_room_is_no_contradiction():
    rules = dataclasses.replace(RULES, rim=Rim(longest_side=100, distance=214))
    refuse_impossible(ask(piece(2, 2), rules=rules))
    assert obstacles(ask(piece(3, 3), rules=rules)) == [Obstacle.RIM]


@given(instances(most_copies=1))
@settings(deadline=None, max_examples=60)
def test_random_questions_are_possible(instance):
    refuse_impossible(instance)


@given(st.data())
@settings(deadline=None, max_examples=60)
def test_a_piece_is_refused_exactly_if_no_place_on_a_small_sheet_is_right(data):
    draw = data.draw
    corners = st.tuples(*[st.integers(0, 5), st.integers(0, 4)], st.integers(1, 3))
    flaws = [
        Defect(x=x, y=y, length=min(side, 9 - x), width=min(side, 7 - y))
        for x, y, side in draw(st.lists(corners, max_size=2))
    ]
    stock = Stock(id="s", length=9, width=7, price=0.0, on_hand=1, defects=tuple(flaws))
    rim = draw(st.none() | st.builds(Rim, longest_side=st.integers(1, 5), distance=st.just(1)))
    trim = Trim(left=draw(st.integers(0, 2)), right=1, bottom=0, top=draw(st.integers(0, 2)))
    rules = SheetRules(trim=trim, gap=draw(st.integers(0, 2)), rim=rim)
    item = piece(draw(st.integers(1, 7)), draw(st.integers(1, 6)), draw(st.sampled_from(Turn)))
    instance = ask(item, stock, rules=rules)
    possible = any(
        not violations(instance, answer_of(instance, one_sheet("s", place)))
        for x, y, turned in product(range(9), range(7), (False, True))
        for place in [Placement(piece="p", x=x, y=y, turned=turned)]
    )
    if possible:
        refuse_oversized(instance)
    else:
        with pytest.raises(PieceTooBig):
            refuse_oversized(instance)
    assert ViolationKind.COUNT in {v.kind for v in violations(instance, answer_of(instance))}
