"""Sheets divided exactly in inches: worked by hand, as each division leaves nothing over.

A sheet of length L with n parts and n - 1 gaps of g between them holds n parts of (L - (n - 1) g)
/ n. The gaps are those of common bits and blades (common practice, no source).
"""

from fractions import Fraction

import pytest

from nesting.answer.solution import Solution, StopReason
from nesting.answer.verify import violations
from nesting.linear.instance import Bar, BarInstance, BarPiece, SawRules
from nesting.linear.solve import solve_bars
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.settings import Effort
from nesting.question.sheet_rules import EdgeToEdge, SheetRules, Trim
from nesting.question.ticks import TICKS_PER_INCH, Grid, gap_ticks, piece_ticks, sheet_ticks
from nesting.solve import solve

MM = Fraction(254, 10)
SIDES = (48, 60, 96, 120)
PARTS = (2, 3, 4, 6)
GAPS = (Fraction(0), Fraction(3, 16), Fraction(3, 8), Fraction(3, 4))


def divided(side: int, parts: int, gap: Fraction) -> Fraction:
    return (side - (parts - 1) * gap) / parts


def asked(
    sheet: tuple[int, int],
    size: tuple[Fraction, Fraction],
    quantity: int,
    gap: Fraction,
    saw: EdgeToEdge | None = None,
) -> Solution:
    """Nest so many pieces of a size in inches, as lengths that were typed as fractions."""
    length, width = (piece_ticks(side * MM) for side in size)
    instance = Instance(
        pieces=(Piece(id="a", length=length, width=width, quantity=quantity, turn=Turn.FIXED),),
        stocks=(
            Stock(
                id="s",
                length=sheet_ticks(sheet[0] * MM),
                width=sheet_ticks(sheet[1] * MM),
                price=49.9,
                on_hand=None,
            ),
        ),
        rules=SheetRules(trim=Trim.even(0), gap=gap_ticks(gap * MM), saw=saw),
    )
    solution = solve(instance, effort=Effort.QUICK)
    assert violations(instance, solution) == ()
    return solution


@pytest.mark.parametrize("gap", GAPS)
@pytest.mark.parametrize("parts", PARTS)
@pytest.mark.parametrize("side", SIDES)
def test_an_exact_division_of_a_sheet_fills_it(side, parts, gap):
    size = divided(side, parts, gap), divided(48, 2, gap)
    assert all((64 * length).denominator == 1 for length in size)
    solution = asked((side, 48), size, 2 * parts, gap)
    assert (solution.sheets, solution.lower_bound) == (1, 1)
    assert solution.stop is StopReason.PROVEN


def test_thirds_of_an_inch_are_on_no_grid_and_never_shrink():
    third = divided(48, 3, Fraction(1, 8))
    grid = Grid()
    assert grid.piece(third * MM) - third * TICKS_PER_INCH == Fraction(2, 3)
    assert grid.rounded_mm == pytest.approx(2 / 3 / 1600)
    assert asked((48, 48), (third, Fraction(48)), 3, Fraction(1, 8)).sheets == 2


def test_forty_quarters_of_a_sheet_take_ten_sheets():
    solution = asked((96, 48), (Fraction("47.875"), Fraction("23.875")), 40, Fraction(1, 4))
    assert (solution.sheets, solution.lower_bound, solution.gap) == (10, 10, 0.0)


@pytest.mark.parametrize("stages", [2, 3, None])
def test_sawn_strips_of_half_a_sheet_but_a_blade(stages):
    size = (Fraction(96), Fraction(48 - Fraction(1, 8)) / 2)
    solution = asked((96, 48), size, 6, Fraction(1, 8), EdgeToEdge(stages=stages))
    assert (solution.sheets, solution.lower_bound) == (3, 3)


@pytest.mark.parametrize("parts", PARTS)
def test_an_exact_division_of_a_bar_fills_it(parts):
    kerf = Fraction(3, 16)
    room = 144 - 2 * Fraction(3, 4)
    size = (room - (parts - 1) * kerf) / parts
    question = BarInstance(
        pieces=(BarPiece(id="a", length=piece_ticks(size * MM), quantity=3 * parts),),
        bars=(Bar(id="b", length=sheet_ticks(144 * MM), price=1.0, on_hand=None),),
        rules=SawRules(
            kerf=gap_ticks(kerf * MM), end_trim=gap_ticks(3 * MM / 4), reusable=gap_ticks(600)
        ),
    )
    assert (64 * size).denominator == 1
    assert solve_bars(question).bars == 3


def test_twenty_metres_on_both_grids_overflow_nothing():
    """On a sheet of 20 m square 400 pieces of nearly 1 m, some in inches: 20,000 sheets of them.

    19 gaps of 0.01 mm leave pieces of 20 m / 20 less 0.0095 mm; those of 39 23/64 in are shorter.
    """
    side = sheet_ticks(20_000)
    metric, inches = piece_ticks(999.99), piece_ticks((39 + Fraction(23, 64)) * MM)
    assert 20 * inches + 19 * 16 <= 20 * metric + 19 * 16 <= side
    sheets = 20_000
    instance = Instance(
        pieces=(
            Piece(id="mm", length=metric, width=metric, quantity=200 * sheets, turn=Turn.QUARTER),
            Piece(id="in", length=inches, width=inches, quantity=200 * sheets, turn=Turn.QUARTER),
        ),
        stocks=(Stock(id="s", length=side, width=side, price=49.9, on_hand=None),),
        rules=SheetRules(trim=Trim.even(0), gap=16),
    )
    solution = solve(instance, effort=Effort.QUICK)
    assert (solution.sheets, solution.lower_bound) == (sheets, sheets)
    assert solution.price == solution.price_bound == 998_000.0
