"""What is missing of limited stock: sums by hand, and never more than what is really missing."""

import dataclasses
import itertools
import math
from random import Random

import pytest

from nesting.bounds.stock_need import StockNeed, least_of_limited, proven_shortfall
from nesting.question.errors import ShortageProof
from nesting.question.instance import Instance, Piece, Stock, StockKind, Turn
from nesting.question.sheet_rules import SheetRules, Trim
from tests.nesting.bounds.test_against_the_optimum import tiny
from tests.nesting.exhaustive_nest import least_cost

NO_LOSS = SheetRules(trim=Trim.even(0), gap=0)


def piece(name: str, length: int, width: int, quantity: int) -> Piece:
    return Piece(id=name, length=length, width=width, quantity=quantity, turn=Turn.FIXED)


def stock(name: str, length: int, width: int, on_hand: int | None) -> Stock:
    return Stock(id=name, length=length, width=width, price=1.0, on_hand=on_hand)


def ask(*pieces: Piece, stocks: tuple[Stock, ...], rules: SheetRules = NO_LOSS) -> Instance:
    return Instance(pieces=pieces, stocks=stocks, rules=rules)


def test_area_beyond_the_sheets_on_hand() -> None:
    # 21 pieces of 500 x 250 on sheets of 1000 x 500, four on each: 5.25 sheets of area, so 6.
    board = stock("board", 1000, 500, 3)
    instance = ask(piece("p", 500, 250, 21), stocks=(board,))
    found = proven_shortfall([instance])
    assert found is not None
    assert (found.more, found.proof) == (3, ShortageProof.AREA)
    assert found.stocks == (StockNeed(stock="board", on_hand=3, alone=3, anyway=3),)
    assert least_of_limited([instance]) == 6
    enough = ask(piece("p", 500, 250, 21), stocks=(dataclasses.replace(board, on_hand=6),))
    assert proven_shortfall([enough]) is None


def test_the_gap_between_pieces_counts_and_the_one_beside_the_last_does_not() -> None:
    # Four of 495 x 245 with gaps of 10 fill 1000 x 500 exactly: 2 x 495 + 10, 2 x 245 + 10.
    rules = dataclasses.replace(NO_LOSS, gap=10)
    board = stock("board", 1000, 500, 2)
    assert proven_shortfall([ask(piece("p", 495, 245, 8), stocks=(board,), rules=rules)]) is None
    found = proven_shortfall([ask(piece("p", 495, 245, 9), stocks=(board,), rules=rules)])
    assert found is not None
    assert found.more == 1


def test_groups_share_the_sheets_on_hand_and_never_one_sheet() -> None:
    # Half a sheet of pieces each: together the area of one sheet, but no sheet serves both.
    board = stock("board", 1000, 500, 1)
    front = ask(piece("f", 500, 500, 1), stocks=(board,))
    back = ask(piece("b", 500, 500, 1), stocks=(board,))
    assert proven_shortfall([front]) is None
    found = proven_shortfall([front, back])
    assert found is not None
    assert (found.more, found.proof) == (1, ShortageProof.BOUND)
    # 3 sheets' worth each, 4 on hand: each group alone is well, together they lack 2.
    four = (dataclasses.replace(board, on_hand=4),)
    both = [ask(piece(name, 1000, 500, 3), stocks=four) for name in ("f", "b")]
    assert all(proven_shortfall([each]) is None for each in both)
    found = proven_shortfall(both)
    assert found is not None
    assert (found.more, found.proof) == (2, ShortageProof.AREA)


def test_pieces_that_fit_only_one_of_two_stocks() -> None:
    # Five long ones need 5 of the long sheet whatever there is of the short one; by area alone
    # 2 + 100 sheets would do.
    stocks = (stock("short", 1000, 500, 100), stock("long", 2000, 500, 2))
    found = proven_shortfall([ask(piece("p", 1500, 500, 5), stocks=stocks)])
    assert found is not None
    assert found.more == 3
    assert found.stocks == (
        StockNeed(stock="short", on_hand=100, alone=None, anyway=0),
        StockNeed(stock="long", on_hand=2, alone=3, anyway=3),
    )


def test_a_long_piece_and_short_ones_fight_for_the_long_sheets() -> None:
    # 2 long sheets for 2 long pieces, then 4 short ones of a whole short sheet each, 3 on hand:
    # one more of either; a long sheet holds two short ones, 500 are left beside a long piece.
    stocks = (stock("short", 1000, 500, 3), stock("long", 2000, 500, 2))
    pieces = (piece("l", 1500, 500, 2), piece("s", 1000, 500, 4))
    found = proven_shortfall([ask(*pieces, stocks=stocks)])
    assert found is not None
    assert (found.more, [need.alone for need in found.stocks]) == (1, [1, 1])


def test_two_stocks_that_both_lack_something() -> None:
    stocks = (stock("wide", 1000, 800, 0), stock("long", 2000, 500, 0))
    pieces = (piece("w", 1000, 800, 3), piece("l", 2000, 500, 2))
    found = proven_shortfall([ask(*pieces, stocks=stocks)])
    assert found is not None
    assert found.more == 5
    assert [(need.alone, need.anyway) for need in found.stocks] == [(None, 3), (None, 2)]


def test_a_stock_without_limit_lacks_nothing() -> None:
    stocks = (stock("few", 1000, 500, 0), stock("any", 1000, 500, None))
    assert proven_shortfall([ask(piece("p", 1000, 500, 7), stocks=stocks)]) is None
    assert least_of_limited([ask(piece("p", 1000, 500, 7), stocks=stocks)]) == 0


def test_remnants_count_and_cannot_be_bought() -> None:
    rest = dataclasses.replace(stock("rest", 1000, 500, 2), kind=StockKind.REMNANT)
    found = proven_shortfall([ask(piece("p", 1000, 500, 5), stocks=(rest,))])
    assert found is not None
    assert (found.more, found.stocks) == (None, ())
    sheets = (rest, stock("sheet", 1000, 500, 1))
    found = proven_shortfall([ask(piece("p", 1000, 500, 5), stocks=sheets)])
    assert found is not None
    assert found.more == 2
    assert [need.stock for need in found.stocks] == ["sheet"]


def test_questions_about_other_stock_are_refused() -> None:
    one = ask(piece("p", 10, 10, 1), stocks=(stock("a", 100, 100, 1),))
    other = ask(piece("p", 10, 10, 1), stocks=(stock("b", 100, 100, 1),))
    with pytest.raises(ValueError, match="same stocks"):
        proven_shortfall([one, other])


def held(groups: tuple[Instance, ...], on_hand: tuple[int, ...]) -> bool:
    """Whether there is an answer for all groups from so many sheets, by trying everything."""
    first, *others = groups
    for own in itertools.product(*(range(count + 1) for count in on_hand)):
        if math.isinf(least_cost(with_sheets(first, own), dict.fromkeys(first.stock_of, 1.0))):
            continue
        left = tuple(count - mine for count, mine in zip(on_hand, own, strict=True))
        if not others or held(tuple(others), left):
            return True
    return False


def changed(on_hand: tuple[int, ...], at: int, count: int) -> tuple[int, ...]:
    return (*on_hand[:at], count, *on_hand[at + 1 :])


def with_sheets(instance: Instance, on_hand: tuple[int, ...]) -> Instance:
    stocks = tuple(
        dataclasses.replace(each, on_hand=count)
        for each, count in zip(instance.stocks, on_hand, strict=True)
    )
    return dataclasses.replace(instance, stocks=stocks)


@pytest.mark.parametrize("seed", range(80))
def test_what_is_told_is_missing_indeed(seed: int) -> None:
    """Against everything there is to try: no answer has one sheet less than what is told."""
    rng = Random(seed)
    instance = tiny(seed)
    on_hand = tuple(rng.randint(0, 1) for _ in instance.stocks)
    instance = with_sheets(instance, on_hand)
    cut = rng.randint(0, len(instance.pieces))
    groups = tuple(
        dataclasses.replace(instance, pieces=pieces)
        for pieces in (instance.pieces[:cut], instance.pieces[cut:])
        if pieces
    )
    found = proven_shortfall(groups)
    if found is None:
        return
    assert not held(groups, on_hand)
    for at, need in enumerate(found.stocks):
        if need.alone:
            assert not held(groups, changed(on_hand, at, need.on_hand + need.alone - 1))
        if need.anyway:
            plenty = tuple(len(instance.pieces) for _ in on_hand)
            assert not held(groups, changed(plenty, at, need.on_hand + need.anyway - 1))
