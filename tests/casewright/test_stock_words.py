"""What is said of stock that does not suffice, word by word."""

from dataclasses import replace

import pytest

from casewright.stages.nest.stock_words import named, what_to_buy, what_was_not_placed
from nesting.bounds.stock_need import Shortfall, StockNeed
from nesting.question.errors import LimitedStock, NotEnoughStock, ShortageProof, ShortPiece
from parametric.stock.lengths import Units
from parametric.stock.materials import StockSheet
from tests.export.sample_parts import LAMINATED

SMALL = StockSheet(key="small", length_mm=1000.0, width_mm=500.0, price=10.0, on_hand=1)
LONG = StockSheet(key="long", length_mm=2000.0, width_mm=500.0, price=20.0, on_hand=1)
OAK = replace(LAMINATED, stock=(SMALL, LONG))


def need(stock: str, alone: int | None, anyway: int = 0) -> StockNeed:
    return StockNeed(stock=stock, on_hand=1, alone=alone, anyway=anyway)


def bought(more: int | None, *needs: StockNeed) -> str:
    return what_to_buy(OAK, Shortfall(more=more, stocks=needs, proof=ShortageProof.BOUND), Units.MM)


@pytest.mark.parametrize("count", [1, 7, 8, 9, 12])
def test_eight_parts_are_named_and_more_are_counted(count: int) -> None:
    """Limit, common practice, no source."""
    names = [f"P{number:03d}" for number in range(1, count + 1)]
    told = named(iter(names)).split("; ")
    assert told[:8] == names[:8]
    assert told[8:] == ([f"and {count - 8} more"] if count > 8 else [])


def test_each_stock_that_would_do_alone_is_told() -> None:
    assert bought(3, need("small", 3)) == "buy at least 3 more of small (1000 mm x 500 mm)"
    assert bought(2, need("small", 3), need("long", 2)) == (
        "buy at least 3 more of small (1000 mm x 500 mm), or at least 2 more of long "
        "(2000 mm x 500 mm); of several together at least 2"
    )
    assert bought(2, need("small", None), need("long", 2)) == (
        "buy at least 2 more of long (2000 mm x 500 mm)"
    )


def test_what_is_needed_of_each_stock_is_told_where_none_does_alone() -> None:
    both = need("small", None, 1), need("long", None, 2)
    assert bought(4, *both) == (
        "buy at least 1 more of small (1000 mm x 500 mm) and at least 2 more of long "
        "(2000 mm x 500 mm), at least 4 in all"
    )
    one = need("small", None, 0), need("long", None, 2)
    assert bought(3, *one) == ("buy at least 2 more of long (2000 mm x 500 mm), at least 3 in all")
    nothing_does = "list stock that can be bought, or lift the limit of what is on hand"
    assert bought(None, *both) == nothing_does
    assert bought(3, need("small", None)) == nothing_does


def test_what_was_left_over_is_told_with_what_surely_does() -> None:
    def told(used: int, *stocks: LimitedStock) -> tuple[str, str]:
        error = NotEnoughStock(
            short=(ShortPiece(piece="P001", quantity=2), ShortPiece(piece="P007", quantity=1)),
            stocks=stocks,
            proof=ShortageProof.SEARCH,
        )
        return what_was_not_placed(OAK, error, used, Units.MM)

    left = "no nest was found that places all parts; left over: 2 x P001; 1 x P007"
    small = LimitedStock(stock="small", on_hand=1, more_needed=3)
    long = LimitedStock(stock="long", on_hand=1, more_needed=2)
    unknown = LimitedStock(stock="long", on_hand=1, more_needed=None)
    assert told(0, small, long) == (
        left,
        "3 more of small (1000 mm x 500 mm), or 2 more of long (2000 mm x 500 mm) would surely do",
    )
    assert told(0, small, unknown) == (left, "3 more of small (1000 mm x 500 mm) would surely do")
    assert told(0, unknown) == (left, "add stock that holds them")
    taken = "taken by parts that lie the other way up"
    assert told(1, small)[0] == f"{left}, 1 sheet {taken}"
    assert told(2, small)[0] == f"{left}, 2 sheets {taken}"
