"""Malformed questions are refused, with every fault named at once."""

import dataclasses

import pytest

from nesting.question.errors import InvalidInstance
from nesting.question.instance import Defect, Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import EdgeToEdge, Rim, SheetRules, Trim

PIECE = Piece(id="rail", length=100, width=50, quantity=2, turn=Turn.FIXED)
STOCK = Stock(id="board", length=1000, width=500, price=1.0, on_hand=None)
RULES = SheetRules(trim=Trim.even(10), gap=5)


def faults_of(ask) -> list[str]:
    with pytest.raises(InvalidInstance) as caught:
        ask()
    assert all(fault.where in str(caught.value) for fault in caught.value.faults)
    return [fault.where for fault in caught.value.faults]


def test_all_faults_of_a_piece_are_named_at_once():
    def ask():
        Piece(id=" ", length=0, width=-3, quantity=0, turn=Turn.FIXED)

    assert faults_of(ask) == [
        "piece id",
        "piece  : length",
        "piece  : width",
        "piece  : quantity",
    ]


def test_fractional_ticks_are_refused():
    assert faults_of(lambda: dataclasses.replace(PIECE, length=100.5)) == ["piece rail: length"]


@pytest.mark.parametrize("price", [-1.0, float("nan"), float("inf")])
def test_prices_are_finite_and_not_negative(price):
    assert faults_of(lambda: dataclasses.replace(STOCK, price=price)) == ["stock board: price"]


def test_stock_sizes_and_numbers_are_checked():
    def ask():
        Stock(id="", length=0, width=0, price=1.0, on_hand=-1)

    assert faults_of(ask) == ["stock id", "stock : length", "stock : width", "stock : on hand"]


def test_negative_rules_are_refused():
    assert faults_of(lambda: SheetRules(trim=Trim.even(0), gap=-1)) == ["rules: gap"]
    assert faults_of(lambda: Trim(left=-1, right=0, bottom=-1, top=0)) == [
        "trim: left",
        "trim: bottom",
    ]
    assert faults_of(lambda: Rim(longest_side=0, distance=-1)) == [
        "rim: longest side",
        "rim: distance",
    ]
    assert faults_of(lambda: EdgeToEdge(stages=1)) == ["edge to edge: stages"]


def test_defects_lie_inside_their_sheet():
    inside = Defect(x=900, y=0, length=100, width=500)
    outside = Defect(x=901, y=0, length=100, width=500)
    assert dataclasses.replace(STOCK, defects=(inside,)).defects == (inside,)
    assert faults_of(lambda: dataclasses.replace(STOCK, defects=(inside, outside))) == [
        "stock board: defect"
    ]
    assert faults_of(lambda: Defect(x=-1, y=0, length=0, width=1)) == [
        "defect: x",
        "defect: length",
    ]


def test_repeated_identities_and_lost_sheets_are_named_at_once():
    def ask():
        Instance(
            pieces=(PIECE, PIECE),
            stocks=(STOCK, STOCK, dataclasses.replace(STOCK, id="strip", width=20)),
            rules=RULES,
        )

    assert faults_of(ask) == ["piece rail", "stock board", "stock strip: trim"]


def test_pieces_need_stock():
    assert faults_of(lambda: Instance(pieces=(PIECE,), stocks=(), rules=RULES)) == ["stocks"]


def test_nothing_to_cut_needs_none():
    assert Instance(pieces=(), stocks=(), rules=RULES).pieces == ()


def test_zero_on_hand_free_stock_and_no_trim_are_allowed():
    stock = dataclasses.replace(STOCK, on_hand=0, price=0.0)
    rules = SheetRules(trim=Trim.even(0), gap=0)
    assert Instance(pieces=(PIECE,), stocks=(stock,), rules=rules).stocks
