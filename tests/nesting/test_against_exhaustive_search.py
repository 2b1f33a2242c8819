"""Tiny questions, against an exhaustive search that shares nothing with the nest."""

from collections.abc import Sequence
from math import inf
from random import Random

import pytest

from nesting.answer.verify import violations
from nesting.question.errors import NotEnoughStock
from nesting.question.fit_check import refuse_impossible
from nesting.question.instance import Defect, Instance, Piece, Stock, Turn
from nesting.question.settings import Effort
from nesting.question.sheet_rules import EdgeToEdge, Rim, SheetRules, Trim
from nesting.solve import solve
from tests.nesting.exhaustive_nest import fit_one_sheet, least_cost, least_sheets
from tests.nesting.random_nests import assert_exact
from tests.nesting.small_efforts import SmallEffort

WAYS_TO_CUT = {
    "freely": None,
    "two stages": EdgeToEdge(stages=2),
    "three stages": EdgeToEdge(stages=3),
    "any stages": EdgeToEdge(stages=None),
}


def tiny(seed: int, saw: EdgeToEdge | None) -> Instance:
    """At most six pieces on one or two stocks, some with a defect, some with a rim rule."""
    rng = Random(seed)
    trim = Trim(left=rng.randint(0, 1), right=0, bottom=0, top=rng.randint(0, 1))
    rim = Rim(longest_side=rng.randint(1, 2), distance=1) if rng.random() < 0.3 else None
    rules = SheetRules(trim=trim, gap=rng.choice((0, 0, 1)), rim=rim, saw=saw)
    stocks = tuple(_stock(rng, number, trim) for number in range(rng.randint(1, 2)))
    room = stocks[0].length - trim.along, stocks[0].width - trim.across
    pieces: list[Piece] = []
    for number in range(rng.randint(1, 6)):
        piece = Piece(
            id=str(number),
            length=rng.randint(1, room[0] - 1),
            width=rng.randint(1, room[1] - 1),
            quantity=1,
            turn=rng.choice(tuple(Turn)),
        )
        if fit_one_sheet([(piece.length, piece.width, False)], stocks[0], rules):
            pieces.append(piece)
    return Instance(pieces=tuple(pieces), stocks=stocks, rules=rules)


def _stock(rng: Random, number: int, trim: Trim) -> Stock:
    """The first is unlimited and dear by the square, so that the second often is worth it."""
    length, width = rng.randint(4, 6), rng.randint(3, 5)
    flaw = Defect(x=rng.randint(0, length - 1), y=rng.randint(0, width - 1), length=1, width=1)
    return Stock(
        id=str(number),
        length=length + trim.along,
        width=width + trim.across,
        price=rng.choice((1.0, 1.5, 2.25)),
        on_hand=None if number == 0 else rng.choice((None, 0, 1)),
        defects=(flaw,) if rng.random() < 0.4 else (),
    )


def whole_sheet(*sizes: Sequence[int], saw: EdgeToEdge | None = None, gap: int = 0) -> Instance:
    """Fixed pieces on sheets of 5 x 5."""
    pieces = tuple(
        Piece(id=str(n), length=length, width=width, quantity=1, turn=Turn.FIXED)
        for n, (length, width) in enumerate(sizes)
    )
    sheet = Stock(id="s", length=5, width=5, price=1.0, on_hand=None)
    rules = SheetRules(trim=Trim.even(0), gap=gap, saw=saw)
    return Instance(pieces=pieces, stocks=(sheet,), rules=rules)


def test_the_exhaustive_search_itself_on_cases_worked_by_hand():
    assert least_sheets(whole_sheet(*[(2, 2)] * 4)) == 1
    assert least_sheets(whole_sheet(*[(2, 2)] * 4, gap=1)) == 1
    assert least_sheets(whole_sheet(*[(2, 2)] * 4, gap=2)) == 4
    # Four around a hole lock each other: no cut goes from edge to edge.
    pinwheel = [(3, 2), (2, 3), (3, 2), (2, 3)]
    assert least_sheets(whole_sheet(*pinwheel)) == 1
    assert least_sheets(whole_sheet(*pinwheel, saw=WAYS_TO_CUT["any stages"])) == 2
    # A rip, a crosscut, and a recut of what lies beside the tall one.
    three_deep = [(5, 1), (2, 4), (3, 2), (3, 2)]
    assert least_sheets(whole_sheet(*three_deep, saw=WAYS_TO_CUT["three stages"])) == 1
    assert least_sheets(whole_sheet(*three_deep, saw=WAYS_TO_CUT["two stages"])) == 2


@pytest.mark.parametrize("way", WAYS_TO_CUT)
@pytest.mark.parametrize("seed", range(45))
def test_the_optimum_is_found_and_the_bounds_are_below_it(seed, way):
    instance = tiny(seed, WAYS_TO_CUT[way])
    refuse_impossible(instance)
    optimum = least_cost(instance, {stock.id: stock.price for stock in instance.stocks})
    solution = solve(instance, effort=SmallEffort.SMALL)
    assert_exact(instance, solution)
    assert violations(instance, solution) == ()
    assert solution.price_bound <= optimum + 1e-9
    assert solution.price == pytest.approx(optimum)
    assert solution.lower_bound <= least_sheets(instance)
    if len(instance.stocks) == 1:
        assert solution.sheets == least_sheets(instance)


@pytest.mark.parametrize(("seed", "way"), [(100_614, "any stages"), (100_923, "two stages")])
def test_a_piece_that_stands_off_a_defect_at_its_far_side(seed, way):
    """What lies beside it has to be pushed to the high end of what is clear."""
    instance = tiny(seed, WAYS_TO_CUT[way])
    optimum = least_cost(instance, {stock.id: stock.price for stock in instance.stocks})
    solution = solve(instance, effort=Effort.QUICK)
    assert violations(instance, solution) == ()
    assert solution.price == pytest.approx(optimum)


@pytest.mark.parametrize("way", WAYS_TO_CUT)
@pytest.mark.parametrize("seed", range(15))
def test_whether_the_stock_on_hand_is_enough(seed, way):
    """One sheet on hand: the nest finds an answer just where there is one."""
    unlimited = tiny(seed, WAYS_TO_CUT[way])
    one_sheet = Stock(
        id="only", length=7, width=6, price=1.0, on_hand=1, defects=unlimited.stocks[0].defects
    )
    instance = Instance(pieces=unlimited.pieces, stocks=(one_sheet,), rules=unlimited.rules)
    if least_cost(instance, {"only": 1.0}) == inf:
        with pytest.raises(NotEnoughStock) as caught:
            solve(instance, effort=SmallEffort.TINY)
        asked = {piece.id for piece in instance.pieces}
        assert caught.value.short
        assert {short.piece for short in caught.value.short} <= asked
    else:
        assert solve(instance, effort=SmallEffort.SMALL).sheets == min(1, len(instance.pieces))
