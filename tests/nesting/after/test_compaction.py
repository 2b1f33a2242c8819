"""The emptiest sheet drawn together: every rule holds, and the largest offcut never shrinks."""

from hypothesis import given, settings

from nesting.after.compaction import compact, compacted
from nesting.after.grouping import grouped
from nesting.after.offcuts import Offcut, Reusable, largest_offcut, offcuts
from nesting.answer.solution import Placement, layout_yield
from nesting.answer.verify import violations
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import EdgeToEdge, Rim, SheetRules, Trim
from tests.nesting.after.loose_nests import loose_nests
from tests.nesting.random_nests import SAWS, answer_of, assert_exact, one_sheet

BOARD = Stock(id="board", length=1000, width=500, price=1.0, on_hand=None)
PIECE = Piece(id="p", length=200, width=100, quantity=4, turn=Turn.QUARTER)
SCATTERED = one_sheet(
    "board",
    *(
        Placement(piece="p", x=x, y=y, turned=turned)
        for x, y, turned in ((50, 60, False), (700, 40, True), (300, 350, False), (650, 380, False))
    ),
)


def ask(rim: Rim | None = None, saw: EdgeToEdge | None = None) -> Instance:
    rules = SheetRules(trim=Trim.even(10), gap=10, rim=rim, saw=saw)
    return Instance(pieces=(PIECE,), stocks=(BOARD,), rules=rules)


def test_scattered_parts_are_drawn_into_one_strip():
    # Four parts of 100 across, with gaps, take 430 of 480: a strip of 200, and 770 x 480 remain.
    together = compact(ask(), SCATTERED)
    assert largest_offcut(ask(), together) == 770 * 480
    (offcut,) = offcuts(ask(), together, Reusable(longer=600, shorter=400))
    assert (offcut.length, offcut.width) == (770, 480)
    assert isinstance(offcut, Offcut)


def test_small_parts_stay_off_the_rim():
    instance = ask(rim=Rim(longest_side=200, distance=25))
    together = compact(instance, SCATTERED)
    assert violations(instance, answer_of(instance, together)) == ()
    assert largest_offcut(instance, together) > largest_offcut(instance, SCATTERED)


@given(loose_nests())
@settings(deadline=None, max_examples=40)
def test_every_rule_holds_and_the_largest_offcut_never_shrinks(nest):
    instance, solution = nest
    better = compacted(instance, solution)
    assert violations(instance, better) == ()
    assert_exact(instance, better)
    assert better.sheets == solution.sheets
    assert better.distinct <= solution.distinct
    emptiest = min(solution.layouts, key=lambda layout: layout_yield(instance, layout))
    assert max(
        largest_offcut(instance, layout)
        for layout in better.layouts
        if layout.counts() == emptiest.counts()
    ) >= largest_offcut(instance, emptiest)
    assert compacted(instance, solution) == better


@given(loose_nests(saws=SAWS))
@settings(deadline=None, max_examples=25)
def test_finished_answers_verify_on_a_saw_too(nest):
    instance, solution = nest
    better = compacted(instance, grouped(instance, solution))
    assert violations(instance, better) == ()
    assert (better.price, better.sheets) == (solution.price, solution.sheets)


def test_nothing_to_cut_stays_so():
    empty = Instance(pieces=(), stocks=(), rules=SheetRules(trim=Trim.even(0), gap=0))
    assert compacted(empty, grouped(empty, answer_of(empty))) == answer_of(empty)
