"""Order of cutting and parts at risk: the documented rules, one by one."""

import dataclasses
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.after.cut_order import by_priority, cut_order
from nesting.after.empty_space import part_boxes
from nesting.after.vacuum_risk import COMMON_LIMITS, HoldLimits, RiskKind, risks
from nesting.answer.solution import Placement
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.question.ticks import piece_ticks
from tests.nesting.after.loose_nests import loose_nests
from tests.nesting.random_nests import one_sheet

MM = piece_ticks(1)


def piece(name: str, length: int, width: int, priority: int = 0) -> Piece:
    return Piece(
        id=name,
        length=length * MM,
        width=width * MM,
        quantity=1,
        turn=Turn.QUARTER,
        priority=priority,
    )


def ask(*pieces: Piece) -> Instance:
    board = Stock(id="board", length=2440 * MM, width=1220 * MM, price=1.0, on_hand=None)
    rules = SheetRules(trim=Trim.even(10 * MM), gap=10 * MM)
    return Instance(pieces=pieces, stocks=(board,), rules=rules)


def at(name: str, x: int, y: int, turned: bool = False) -> Placement:
    return Placement(piece=name, x=x * MM, y=y * MM, turned=turned)


def test_small_and_narrow_parts_are_at_risk_and_told_why():
    instance = ask(
        piece("door", 700, 400),
        piece("block", 200, 249),
        piece("edge", 250, 200),
        piece("slat", 1001, 100),
        piece("rail", 1000, 100),
        piece("chip", 110, 10),
    )
    names = [item.id for item in instance.pieces]
    layout = one_sheet("board", *(at(name, 10, 10) for name in names))
    found = {names[risk.placement]: risk for risk in risks(instance, layout)}
    assert {name: risk.kinds for name, risk in found.items()} == {
        "block": (RiskKind.SMALL,),
        "slat": (RiskKind.NARROW,),
        "chip": (RiskKind.SMALL, RiskKind.NARROW),
    }
    assert found["block"].reason == "part block: small, 498 cm2 where the table holds 500"
    assert "1001.0 x 100.0 mm, more than 10 to 1" in found["slat"].reason
    strict = HoldLimits(least_area=COMMON_LIMITS.least_area + 1, greatest_aspect=9.9)
    assert len(risks(instance, layout, strict)) == 5


def test_the_order_is_inside_first_small_first_at_risk_last():
    instance = ask(
        piece("rim", 300, 300),
        piece("large", 600, 600),
        piece("small", 300, 250),
        piece("risk", 100, 100),
    )
    layout = one_sheet(
        "board",
        at("rim", 10, 500),
        at("risk", 500, 500),
        at("large", 800, 300),
        at("small", 1500, 300),
    )
    order = [placed.piece for placed in cut_order(instance, layout)]
    assert order == ["small", "large", "rim", "risk"]


def test_parts_of_one_size_are_cut_along_a_short_way():
    instance = ask(dataclasses.replace(piece("p", 300, 300), quantity=6))
    rows = [at("p", x, y) for x in (100, 500, 900) for y in (100, 500)]
    order = cut_order(instance, one_sheet("board", *reversed(rows)))
    assert (order[0].x, order[0].y) == (100 * MM, 100 * MM)
    steps = [abs(a.x - b.x) + abs(a.y - b.y) for a, b in pairwise(order)]
    assert steps == [400 * MM] * 5


@given(loose_nests(), st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=40)
def test_the_order_holds_every_part_once_and_does_not_hang_on_the_order_given(nest, rng):
    instance, solution = nest
    for layout in solution.layouts[:2]:
        order = cut_order(instance, layout)
        assert sorted(map(repr, order)) == sorted(map(repr, layout.placements))
        mixed = list(layout.placements)
        rng.shuffle(mixed)
        assert cut_order(instance, dataclasses.replace(layout, placements=tuple(mixed))) == order
        risky = {layout.placements[risk.placement] for risk in risks(instance, layout)}
        flags = [placed in risky for placed in order]
        assert flags == sorted(flags)
        assert len(part_boxes(instance, layout)) == len(order)


def test_sheets_with_high_priority_are_cut_first():
    instance = ask(piece("late", 10, 10), piece("soon", 10, 10, 1), piece("now", 10, 10, 2))
    late = one_sheet("board", at("late", 0, 0))
    mixed = one_sheet("board", at("late", 0, 0), at("now", 50, 0))
    soon, now = one_sheet("board", at("soon", 0, 0)), one_sheet("board", at("now", 0, 0))
    assert by_priority(instance, (late, soon, mixed, now)) == (now, mixed, soon, late)
    assert by_priority(ask(piece("late", 10, 10)), (late, late)) == (late, late)
