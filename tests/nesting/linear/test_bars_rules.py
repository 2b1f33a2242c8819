"""Kerf, trim, limits, remnants and the errors of linear stock, on questions done by hand."""

from dataclasses import replace

import pytest

from nesting.linear.answer import BarBoundKind, Remnant, cost, gap, reusable_remnants
from nesting.linear.errors import (
    BarShortageProof,
    MoreBars,
    NotEnoughBars,
    PieceTooLong,
)
from nesting.linear.instance import Bar, BarInstance, BarKind, BarPiece, RemnantUse, SawRules
from nesting.linear.solve import solve_bars
from nesting.linear.verify import violations
from nesting.linear.violation import BarViolationKind
from nesting.question.errors import InvalidInstance, ShortPiece
from tests.nesting.linear.bar_questions import plain_question


def test_two_pieces_and_the_kerf_between_them_fill_a_bar() -> None:
    fits = plain_question([(100, 2)], ((203, 1.0, None),), kerf=3)
    assert [pattern.cuts for pattern in solve_bars(fits).patterns] == [("p0", "p0")]
    too_short = plain_question([(100, 2)], ((202, 1.0, None),), kerf=3)
    assert solve_bars(too_short).bars == 2


def test_trim_is_lost_at_both_ends() -> None:
    fits = plain_question([(100, 2)], ((213, 1.0, None),), kerf=3, end_trim=5)
    assert solve_bars(fits).bars == 1
    too_short = plain_question([(100, 2)], ((212, 1.0, None),), kerf=3, end_trim=5)
    assert solve_bars(too_short).bars == 2


@pytest.mark.parametrize(
    ("length", "remnant"), [(200, 0), (202, 0), (203, 0), (204, 1), (600, 397)]
)
def test_the_last_cut_takes_a_kerf_unless_the_bar_ends_there(length: int, remnant: int) -> None:
    question = plain_question([(200, 1)], ((length, 1.0, None),), kerf=3)
    (pattern,) = solve_bars(question).patterns
    assert pattern.remnant == remnant


def test_the_remnant_keeps_the_untrimmed_end() -> None:
    question = plain_question([(200, 1)], ((600, 1.0, None),), kerf=3, end_trim=10)
    (pattern,) = solve_bars(question).patterns
    assert pattern.remnant == 600 - 10 - 200 - 3


def test_long_pieces_are_cut_first() -> None:
    question = plain_question([(100, 1), (300, 1), (50, 2)])
    (pattern,) = solve_bars(question).patterns
    assert pattern.cuts == ("p1", "p0", "p2", "p2")


def test_rests_of_the_reusable_length_are_reported() -> None:
    question = plain_question([(500, 3), (350, 1)], reusable=100)
    found = reusable_remnants(question, solve_bars(question))
    assert found == (
        Remnant(bar="b0", length=250, quantity=1),
        Remnant(bar="b0", length=100, quantity=3),
    )


def remnant_question(remnants: RemnantUse, price: float) -> BarInstance:
    return BarInstance(
        pieces=(BarPiece(id="cleat", length=250, quantity=5),),
        bars=(
            Bar(id="new", length=600, price=6.0, on_hand=None),
            Bar(id="left", length=300, price=price, on_hand=2, kind=BarKind.REMNANT),
        ),
        rules=SawRules(kerf=0, end_trim=0, reusable=100, remnants=remnants),
    )


def test_remnants_come_first_when_the_question_says_so() -> None:
    question = remnant_question(RemnantUse.FIRST, price=9.0)
    answer = solve_bars(question)
    # Five pieces are three bars, or two with one remnant; the second remnant saves nothing.
    assert (answer.bars_of("new"), answer.bars_of("left")) == (2, 1)
    assert cost(question, answer) == 12.0


def test_remnants_at_their_price_must_be_worth_it() -> None:
    answer = solve_bars(remnant_question(RemnantUse.BY_PRICE, price=9.0))
    assert (answer.bars_of("new"), answer.bars_of("left")) == (3, 0)


def test_limits_on_hand_are_kept() -> None:
    question = plain_question([(100, 10)], ((600, 1.0, 1), (200, 1.0, None)))
    answer = solve_bars(question)
    assert (answer.bars_of("b0"), answer.bars_of("b1")) == (1, 2)


def test_greedy_dead_ends_are_found_a_way_out_of() -> None:
    # Longest first would put 60 and 40 on the bar of 110 and leave 50s without a place.
    question = plain_question([(60, 1), (50, 3), (40, 1)], ((110, 1.0, 2), (40, 1.0, 1)))
    answer = solve_bars(question)
    assert violations(question, answer) == ()
    assert answer.bars == 3


def test_a_piece_longer_than_every_bar_is_named_with_the_bars() -> None:
    question = plain_question([(1600, 1), (9520, 2)], ((9600, 1.0, None),), end_trim=80)
    with pytest.raises(PieceTooLong) as caught:
        solve_bars(question)
    (long,) = caught.value.pieces
    assert (long.piece, long.length) == ("p1", 9520)
    assert [(tried.bar, tried.room) for tried in long.bars] == [("b0", 9440)]
    assert "p1 of 5.95 mm fits no bar: b0 has room for 5.90 mm" in str(caught.value)


def test_too_few_bars_name_the_short_pieces_and_what_to_buy() -> None:
    question = plain_question([(4800, 7)], ((9600, 5.0, 2), (14400, 7.0, 0)))
    with pytest.raises(NotEnoughBars) as caught:
        solve_bars(question)
    error = caught.value
    assert error.short == (ShortPiece(piece="p0", quantity=3),)
    # Three pieces: one bar of 9 mm at 7, against two of 6 mm at 10.
    assert error.to_buy == (MoreBars(bar="b1", length=14400, quantity=1),)
    assert error.proof is BarShortageProof.BOUND
    assert "3 x p0" in str(error)
    assert "1 x b1 (9.00 mm)" in str(error)


def test_pieces_that_only_remnants_hold_cannot_be_bought_for() -> None:
    question = BarInstance(
        pieces=(BarPiece(id="rail", length=800, quantity=2),),
        bars=(
            Bar(id="new", length=600, price=6.0, on_hand=None),
            Bar(id="left", length=900, price=0.0, on_hand=1, kind=BarKind.REMNANT),
        ),
        rules=SawRules(kerf=0, end_trim=0, reusable=100),
    )
    with pytest.raises(NotEnoughBars) as caught:
        solve_bars(question)
    assert caught.value.short == (ShortPiece(piece="rail", quantity=1),)
    assert caught.value.to_buy == ()
    assert caught.value.longer_than_sold == ("rail",)


def test_nothing_to_cut_costs_nothing() -> None:
    question = plain_question([])
    answer = solve_bars(question)
    assert (answer.patterns, answer.lower_bound) == ((), 0.0)
    assert answer.bound_kind is BarBoundKind.NOTHING
    assert gap(question, answer) == 0.0


def test_few_patterns_among_equal_costs() -> None:
    # Six bars either way; cut alike, one pattern of 300 + 200 + 100 does for all.
    question = plain_question([(300, 6), (200, 6), (100, 6)])
    answer = solve_bars(question)
    assert (answer.bars, answer.distinct) == (6, 1)


def test_prices_with_cents_round_the_bound_up_to_what_can_be_paid() -> None:
    question = plain_question([(400, 3)], ((600, 12.35, None),))
    answer = solve_bars(question)
    assert answer.lower_bound == cost(question, answer) == pytest.approx(37.05)


def work_of(rooms: int) -> int:
    """How often the solver asked whether to go on: its work, without a clock."""
    asked = 0

    def count() -> bool:
        nonlocal asked
        asked += 1
        return False

    question = plain_question(
        [(length, 2 * rooms) for length in (41_250, 61_800, 133_350, 90_170, 22_000)],
        ((609_600, 1.0, None),),
        kerf=320,
        end_trim=500,
    )
    answer = solve_bars(question, cancel=count)
    assert answer.bars == answer.lower_bound
    return asked


def test_4000_rooms_cost_no_more_work_than_40() -> None:
    # Fewer patterns are looked for a little longer where many runs leave more to gain; that ends.
    small, large, larger = (work_of(rooms) for rooms in (40, 4_000, 40_000))
    assert large <= 2.5 * small
    assert larger <= 1.2 * large


def test_cancelled_at_once_still_answers() -> None:
    question = plain_question([(250, 7), (170, 9)])
    answer = solve_bars(question, cancel=lambda: True)
    assert violations(question, answer) == ()


def test_malformed_questions_name_all_faults() -> None:
    with pytest.raises(InvalidInstance) as caught:
        BarInstance(
            pieces=(
                BarPiece(id="a", length=1, quantity=1),
                BarPiece(id="a", length=2, quantity=1),
            ),
            bars=(Bar(id="b", length=10, price=1.0, on_hand=None),),
            rules=SawRules(kerf=0, end_trim=5, reusable=1),
        )
    assert [fault.where for fault in caught.value.faults] == ["piece a", "bar b: trim"]
    with pytest.raises(InvalidInstance):
        Bar(id="left", length=10, price=1.0, on_hand=None, kind=BarKind.REMNANT)
    with pytest.raises(InvalidInstance):
        SawRules(kerf=-1, end_trim=0, reusable=1)


def test_the_check_sees_each_kind_of_broken_answer() -> None:
    question = plain_question([(250, 4)], ((600, 1.0, 2),), kerf=3)
    right = solve_bars(question)
    (pattern,) = right.patterns

    def found(**changes: object) -> set[BarViolationKind]:
        broken = replace(right, patterns=(replace(pattern, **changes),))  # type: ignore[arg-type]
        return {violation.kind for violation in violations(question, broken)}

    assert violations(question, right) == ()
    assert BarViolationKind.RUNS in found(runs=0)
    assert BarViolationKind.EMPTY in found(cuts=())
    assert BarViolationKind.UNKNOWN_PIECE in found(cuts=("nothing",))
    assert BarViolationKind.UNKNOWN_BAR in found(bar="nothing")
    assert found(runs=1) == {BarViolationKind.COUNT, BarViolationKind.BOUND}
    assert BarViolationKind.TOO_LONG in found(cuts=("p0",) * 3)
    assert found(remnant=1) == {BarViolationKind.REMNANT}
    assert BarViolationKind.ON_HAND in found(runs=3)
    dear = replace(right, lower_bound=2.5)
    assert [v.kind for v in violations(question, dear)] == [BarViolationKind.BOUND]
