"""What stops a nest is located: which piece, which stock, how many."""

import dataclasses
import pickle

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.question.errors import (
    BrokenSolution,
    Fault,
    InvalidInstance,
    LimitedStock,
    NestingError,
    NotEnoughStock,
    PieceTooBig,
    ShortageProof,
    ShortPiece,
    StoppedTooEarly,
)
from nesting.question.instance import Instance, Piece, Stock, StockKind, Turn
from nesting.question.sheet_rules import EdgeToEdge, SheetRules, Trim
from nesting.question.ticks import piece_ticks
from nesting.question.violation import Violation, ViolationKind
from nesting.solve import solve
from tests.nesting.random_nests import SAWS, assert_exact, instances
from tests.nesting.small_efforts import AS_FOUND, SmallEffort

HUNDREDTH = piece_ticks(0.01)
BOARD = Stock(
    id="board", length=piece_ticks(2440), width=piece_ticks(1220), price=50.0, on_hand=None
)
RULES = SheetRules(trim=Trim.even(piece_ticks(10)), gap=piece_ticks(9.5))


def piece(
    name: str,
    length: int,
    width: int,
    turn: Turn = Turn.FIXED,
    quantity: int = 1,
    priority: int = 0,
) -> Piece:
    """Return pieces whose sides are hundredths of a millimetre."""
    return Piece(
        id=name,
        length=length * HUNDREDTH,
        width=width * HUNDREDTH,
        quantity=quantity,
        turn=turn,
        priority=priority,
    )


def ask(*pieces: Piece, stocks: tuple[Stock, ...] = (BOARD,)) -> Instance:
    return Instance(pieces=pieces, stocks=stocks, rules=RULES)


def limited(name: str, on_hand: int, length: int = 244_000) -> Stock:
    return Stock(
        id=name,
        length=length * HUNDREDTH,
        width=122_000 * HUNDREDTH,
        price=50.0,
        on_hand=on_hand,
    )


def test_every_oversized_piece_is_located_with_what_was_tried():
    too_long = piece("deck", 242_001, 60_000)
    too_wide_for_its_grain = piece("door", 121_000, 240_000)
    fits = piece("rail", 242_000, 120_000)
    with pytest.raises(PieceTooBig) as caught:
        solve(ask(too_long, fits, too_wide_for_its_grain))
    deck, door = caught.value.pieces
    assert (deck.piece, deck.length, deck.width) == ("deck", 242_001 * 16, 60_000 * 16)
    assert [(tried.stock, tried.room_length, tried.room_width) for tried in deck.stocks] == [
        ("board", 242_000 * 16, 120_000 * 16)
    ]
    assert door.turns == (Turn.FIXED,)
    assert "piece deck of 2420.01 x 600.00 mm" in str(caught.value)
    assert "board has room for 2420.00 x 1200.00 mm" in str(caught.value)


def test_a_piece_too_big_one_way_fits_when_it_may_turn():
    door = piece("door", 120_000, 242_000, Turn.QUARTER)
    (layout,) = solve(ask(door)).layouts
    assert layout.placements[0].turned
    with pytest.raises(PieceTooBig) as caught:
        solve(ask(piece("door", 120_001, 242_000, Turn.QUARTER)))
    assert caught.value.pieces[0].turns == (Turn.FIXED, Turn.QUARTER)


def test_a_piece_needs_one_stock_that_holds_it_not_all():
    small = Stock(
        id="offcut", length=piece_ticks(600), width=piece_ticks(600), price=0.0, on_hand=3
    )
    answer = solve(ask(piece("deck", 200_000, 60_000), stocks=(small, BOARD)))
    assert answer.sheets_of("board") == 1


def test_short_pieces_and_the_sheets_that_would_do_are_told():
    # One top fills a board; seven tops and two boards leave five short.
    instance = ask(piece("top", 240_000, 70_000, quantity=7), stocks=(limited("board", 2),))
    with pytest.raises(NotEnoughStock) as caught:
        solve(instance)
    assert caught.value.short == (ShortPiece(piece="top", quantity=5),)
    assert caught.value.stocks == (LimitedStock(stock="board", on_hand=2, more_needed=5),)
    assert caught.value.proof is ShortageProof.AREA
    assert "5 x top" in str(caught.value)
    assert "5 more would do" in str(caught.value)


def test_a_shortage_of_shape_is_not_told_as_one_of_area():
    # Three tops have less area than two boards, but two never share one.
    instance = ask(piece("top", 240_000, 70_000, quantity=3), stocks=(limited("board", 2),))
    with pytest.raises(NotEnoughStock) as caught:
        solve(instance)
    assert caught.value.short == (ShortPiece(piece="top", quantity=1),)
    assert caught.value.proof is not ShortageProof.AREA


def test_stock_that_cannot_hold_the_short_piece_is_told_apart():
    stocks = (limited("short", 9, length=100_000), limited("long", 1))
    with pytest.raises(NotEnoughStock) as caught:
        solve(ask(piece("deck", 240_000, 70_000, quantity=2), stocks=stocks))
    assert [stock.more_needed for stock in caught.value.stocks] == [None, 1]
    assert "does not hold the short pieces" in str(caught.value)


def test_no_sheet_on_hand_at_all():
    with pytest.raises(NotEnoughStock) as caught:
        solve(ask(piece("rail", 50_000, 7_000, quantity=4), stocks=(limited("board", 0),)))
    assert caught.value.short == (ShortPiece(piece="rail", quantity=4),)


@pytest.mark.parametrize("saw", [None, EdgeToEdge(stages=2)])
@pytest.mark.parametrize("urgent", ["bed", "desk", "wall"])
def test_what_matters_most_is_not_what_is_short(urgent, saw):
    """Each kind fills a board of its own; with two boards the one that stays short is told."""
    names = {"bed": (240_000, 90_000), "desk": (239_000, 95_000), "wall": (238_000, 100_000)}
    pieces = [
        piece(name, *size, priority=2 if name == urgent else 1 if name == "desk" else 0)
        for name, size in names.items()
    ]
    instance = ask(*pieces, stocks=(limited("board", 2),))
    instance = dataclasses.replace(instance, rules=dataclasses.replace(RULES, saw=saw))
    with pytest.raises(NotEnoughStock) as caught:
        solve(instance, effort=SmallEffort.TINY)
    (short,) = caught.value.short
    # The desk ranks second, or first.
    assert short.quantity == 1
    assert short.piece not in {urgent, "desk"}
    assert caught.value.stocks == (LimitedStock(stock="board", on_hand=2, more_needed=1),)
    more = dataclasses.replace(instance, stocks=(limited("board", 3),))
    assert solve(more, effort=SmallEffort.TINY).sheets == 3


def test_remnants_are_not_told_among_what_can_be_bought():
    kept = dataclasses.replace(limited("kept", 1), kind=StockKind.REMNANT)
    with pytest.raises(NotEnoughStock) as caught:
        solve(ask(piece("top", 240_000, 70_000, quantity=4), stocks=(limited("board", 1), kept)))
    assert caught.value.short == (ShortPiece(piece="top", quantity=2),)
    assert [stock.stock for stock in caught.value.stocks] == ["board"]


@given(instances(most_item_types=5, most_copies=6, saws=st.none() | SAWS), st.integers(1, 3))
@settings(max_examples=20, phases=AS_FOUND)
def test_buying_what_is_told_is_enough(instance, on_hand):
    """With the sheets that were told to be missing, the short pieces alone are nested."""
    (stock, *_), rules = instance.stocks, instance.rules
    few = dataclasses.replace(stock, on_hand=on_hand)
    try:
        solve(dataclasses.replace(instance, stocks=(few,)), effort=SmallEffort.TINY)
    except NotEnoughStock as found:
        short = {piece.piece: piece.quantity for piece in found.short}
        asked = {piece.id: piece.quantity for piece in instance.pieces}
        assert all(0 < count <= asked[name] for name, count in short.items())
        assert short
        (told,) = found.stocks
        bought = dataclasses.replace(stock, on_hand=told.more_needed)
        pieces = tuple(
            dataclasses.replace(piece, quantity=short[piece.id])
            for piece in instance.pieces
            if piece.id in short
        )
        again = Instance(pieces=pieces, stocks=(bought,), rules=rules)
        assert_exact(again, solve(again, effort=SmallEffort.SMALL))


def test_small_pieces_leave_the_scarce_large_sheet_to_those_that_need_it():
    stocks = (limited("short", 40, length=100_000), limited("long", 2))
    decks = piece("deck", 200_000, 110_000, quantity=2)
    rails = piece("rail", 45_000, 25_000, quantity=150)
    instance = ask(rails, decks, stocks=stocks)
    assert_exact(instance, solve(instance, effort=SmallEffort.SMALL))


VIOLATION = Violation(kind=ViolationKind.GAP, where="layout 1", found="3", required="8")
ERRORS = [
    InvalidInstance(faults=(Fault(where="piece a", found="0", allowed="1 or more"),)),
    PieceTooBig(pieces=()),
    NotEnoughStock(
        short=(ShortPiece(piece="a", quantity=2),), stocks=(), proof=ShortageProof.SEARCH
    ),
    StoppedTooEarly(),
    BrokenSolution(violations=(VIOLATION,), seed=7),
]


@pytest.mark.parametrize("error", ERRORS, ids=lambda error: type(error).__name__)
def test_errors_come_back_whole_from_another_process(error):
    error.add_note("material: birch 18")
    copy = pickle.loads(pickle.dumps(error))
    assert isinstance(copy, NestingError)
    assert type(copy) is type(error)
    assert (str(copy), vars(copy)) == (str(error), vars(error))


def test_a_broken_answer_tells_how_to_bring_it_back():
    assert "seed 7" in str(ERRORS[-1])
    assert "layout 1: found 3, required 8" in str(ERRORS[-1])
