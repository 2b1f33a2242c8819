"""What is short and what to buy: the number told surely holds the pieces."""

import dataclasses
from math import ceil

import pytest
from hypothesis import given, settings

from nesting.answer.shortage import sheets_that_hold, shortage
from nesting.question.errors import LimitedStock, ShortageProof, ShortPiece
from nesting.question.instance import Defect, Instance, Piece, Stock, StockKind, Turn
from nesting.question.problem import problem_of
from nesting.question.sheet_rules import EdgeToEdge, Rim, SheetRules, Trim
from tests.nesting.random_nests import SAWS, instances

BOARD = Stock(id="board", length=1_000, width=500, price=5.0, on_hand=2)
RULES = SheetRules(trim=Trim.even(10), gap=10)


def piece(name: str, length: int, width: int, quantity: int = 1) -> Piece:
    return Piece(id=name, length=length, width=width, quantity=quantity, turn=Turn.FIXED)


def ask(*pieces: Piece, stocks: tuple[Stock, ...] = (BOARD,), rules: SheetRules = RULES):
    return Instance(pieces=pieces, stocks=stocks, rules=rules)


def holding(instance: Instance) -> int | None:
    problem = problem_of(instance)
    return sheets_that_hold(problem, problem.rooms[0], dict(enumerate(problem.demand)))


def test_short_pieces_and_the_sheets_to_buy_are_told():
    unlimited = dataclasses.replace(BOARD, id="other", on_hand=None, length=300)
    narrow = dataclasses.replace(BOARD, id="narrow", width=100)
    kept = dataclasses.replace(BOARD, id="kept", kind=StockKind.REMNANT)
    instance = ask(
        piece("rail", 50, 20), piece("top", 980, 300), stocks=(BOARD, unlimited, narrow, kept)
    )
    found = shortage(instance, problem_of(instance), {1: 5, 0: 0}, ShortageProof.SEARCH)
    assert found.short == (ShortPiece(piece="top", quantity=5),)
    assert found.stocks == (
        LimitedStock(stock="board", on_hand=2, more_needed=5),
        LimitedStock(stock="narrow", on_hand=2, more_needed=None),
    )
    assert "5 more would do" in str(found)


@pytest.mark.parametrize("saw", [None, EdgeToEdge(stages=2)])
def test_the_number_is_exact_where_pieces_tile_the_sheet(saw):
    # 4 x 3 pieces of 235 x 150 with gaps of 10 fill the trimmed 970 x 470 and no more fit.
    rules = dataclasses.replace(RULES, saw=saw)
    for quantity, sheets in ((1, 1), (12, 1), (13, 2), (120_000, 10_000)):
        assert holding(ask(piece("p", 235, 150, quantity), rules=rules)) == sheets


def test_small_pieces_kept_off_the_rim_share_a_sheet_with_others():
    rules = dataclasses.replace(RULES, rim=Rim(longest_side=100, distance=30))
    assert holding(ask(piece("big", 500, 200), piece("dot", 100, 100, 3), rules=rules)) == 1
    # The big one only fits at the rim here, so the small ones get a sheet of their own.
    assert holding(ask(piece("big", 980, 200), piece("dot", 100, 100, 3), rules=rules)) == 2


def test_pieces_between_defects_are_counted_where_they_fit():
    flawed = dataclasses.replace(BOARD, defects=(Defect(x=480, y=0, length=40, width=500),))
    assert holding(ask(piece("p", 460, 480, 4), stocks=(flawed,))) == 4
    assert holding(ask(piece("p", 461, 480, 4), stocks=(flawed,))) is None


@given(instances(saws=SAWS))
@settings(deadline=None, max_examples=60)
def test_the_number_is_no_less_than_area_and_no_more_than_one_piece_a_sheet(instance):
    problem = problem_of(instance)
    for unsawn in (problem, dataclasses.replace(problem, saw=None)):
        found = sheets_that_hold(unsawn, unsawn.rooms[0], dict(enumerate(unsawn.demand)))
        assert found is not None
        area = sum(k.area * n for k, n in zip(unsawn.item_types, unsawn.demand, strict=True))
        assert ceil(area / unsawn.rooms[0].area) <= found <= sum(unsawn.demand)
