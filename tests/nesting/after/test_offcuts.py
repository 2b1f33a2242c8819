"""Offcuts against shapely's own geometry and against every rectangle of small grids."""

from itertools import combinations, product

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.after.empty_space import Box, empty_rectangles, part_boxes
from nesting.after.offcuts import Offcut, Reusable, largest_offcut, offcuts
from nesting.answer.solution import Layout, Placement
from nesting.question.errors import InvalidInstance
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import EdgeToEdge, SheetRules, Trim
from tests.nesting.after.loose_nests import loose_nests
from tests.nesting.random_nests import SAWS, one_sheet
from tests.nesting.test_cut_check import by_every_cut

ANY = Reusable(longer=1, shorter=1)
cells = st.integers(0, 8)


@given(st.lists(st.tuples(cells, cells, st.integers(1, 4), st.integers(1, 4)), max_size=6))
@settings(deadline=None, max_examples=200)
def test_the_largest_empty_rectangles_agree_with_trying_all(places):
    room = Box(1, 0, 9, 7)
    blocks = [Box(x, y, x + along, y + across) for x, y, along, across in places]
    spoiled = {(x, y) for b in blocks for x in range(b.x0, b.x1) for y in range(b.y0, b.y1)}
    every = {
        Box(x0, y0, x1, y1)
        for (x0, x1), (y0, y1) in product(combinations(range(1, 10), 2), combinations(range(8), 2))
        if spoiled.isdisjoint(product(range(x0, x1), range(y0, y1)))
    }
    largest = {one for one in every if not any(_holds(other, one) for other in every - {one})}
    found = set(empty_rectangles(room, blocks))
    assert found <= every
    assert largest <= found


def _holds(outer: Box, inner: Box) -> bool:
    return (
        outer.x0 <= inner.x0
        and outer.y0 <= inner.y0
        and outer.x1 >= inner.x1
        and outer.y1 >= inner.y1
    )


def shape(cut: Offcut, margin: float = 0) -> shapely.Polygon:
    right, top = cut.x + cut.length, cut.y + cut.width
    return shapely.box(cut.x - margin, cut.y - margin, right + margin, top + margin)


def left_over(instance: Instance, layout: Layout, cuts: tuple[Offcut, ...]) -> shapely.Geometry:
    """The trimmed sheet less parts, defects and offcuts with the gap around them, by shapely."""
    (stock,) = (stock for stock in instance.stocks if stock.id == layout.stock)
    trim, gap = instance.rules.trim, instance.rules.gap
    room = shapely.box(trim.left, trim.bottom, stock.length - trim.right, stock.width - trim.top)
    pieces = {piece.id: piece for piece in instance.pieces}
    taken = [shape(cut, gap) for cut in cuts]
    for flaw in stock.defects:
        offcut = Offcut(x=flaw.x, y=flaw.y, length=flaw.length, width=flaw.width)
        taken.append(shape(offcut, gap))
    for placed in layout.placements:
        piece = pieces[placed.piece]
        sides = (piece.width, piece.length) if placed.turned else (piece.length, piece.width)
        part = Offcut(x=placed.x, y=placed.y, length=sides[0], width=sides[1])
        taken.append(shape(part, gap))
    return room.difference(shapely.union_all(taken))


reusables = st.builds(
    lambda a, b: Reusable(longer=max(a, b), shorter=min(a, b)),
    st.integers(1, 700),
    st.integers(1, 300),
)


@given(loose_nests(), reusables)
@settings(deadline=None, max_examples=80)
def test_offcuts_lie_in_what_is_left_and_nothing_reusable_remains(nest, reusable):
    instance, solution = nest
    gap = instance.rules.gap
    for layout in solution.layouts[:2]:
        cuts = offcuts(instance, layout, reusable)
        empty = left_over(instance, layout, ())
        for cut in cuts:
            assert empty.covers(shape(cut))
            assert min(cut.length, cut.width) >= reusable.shorter
            assert max(cut.length, cut.width) >= reusable.longer
        for one, other in combinations(cuts, 2):
            assert shape(one, gap / 2).intersection(shape(other, gap / 2)).area == 0
        assert [cut.area for cut in cuts] == sorted((cut.area for cut in cuts), reverse=True)
        rest = left_over(instance, layout, cuts)
        for along, across in (
            (reusable.longer, reusable.shorter),
            (reusable.shorter, reusable.longer),
        ):
            assert not _has_place_for(rest, along, across)


def _has_place_for(space: shapely.Geometry, along: int, across: int) -> bool:
    """Whether such a rectangle has a place: pushed to the left and down it stands at corners."""
    corners = shapely.get_coordinates(space)
    xs, ys = sorted(set(corners[:, 0])), sorted(set(corners[:, 1]))
    shapely.prepare(space)
    return any(space.covers(shapely.box(x, y, x + along, y + across)) for x, y in product(xs, ys))


@given(loose_nests())
@settings(deadline=None, max_examples=40)
def test_without_a_gap_all_offcuts_together_are_all_that_is_left(nest):
    instance, solution = nest
    rules = SheetRules(trim=instance.rules.trim, gap=0)
    instance = Instance(pieces=instance.pieces, stocks=instance.stocks, rules=rules)
    layout = solution.layouts[0]
    cuts = offcuts(instance, layout, ANY)
    assert sum(cut.area for cut in cuts) == left_over(instance, layout, ()).area
    assert largest_offcut(instance, layout) == max((cut.area for cut in cuts), default=0)


@given(loose_nests(saws=SAWS), reusables)
@settings(deadline=None, max_examples=60)
def test_on_a_saw_offcuts_come_off_by_through_cuts_within_the_stages(nest, reusable):
    instance, solution = nest
    gap = instance.rules.gap
    layout = solution.layouts[0]
    cuts = offcuts(instance, layout, reusable)
    empty = left_over(instance, layout, ())
    assert all(empty.covers(shape(cut)) for cut in cuts)
    boxes = [
        *((b.x0, b.y0, b.x1 - gap, b.y1 - gap) for b in part_boxes(instance, layout)),
        *((c.x, c.y, c.x + c.length, c.y + c.width) for c in cuts),
    ]
    if len(boxes) <= 9:
        stages = by_every_cut(boxes, gap)
        assert stages is not None
        assert instance.rules.saw.stages is None or stages <= instance.rules.saw.stages


BOARD = Stock(id="board", length=1000, width=500, price=1.0, on_hand=None)
CORNER = Piece(id="corner", length=600, width=300, quantity=1, turn=Turn.FIXED)


def corner_sheet(saw: EdgeToEdge | None) -> tuple[Instance, Layout]:
    rules = SheetRules(trim=Trim.even(10), gap=10, saw=saw)
    instance = Instance(pieces=(CORNER,), stocks=(BOARD,), rules=rules)
    return instance, one_sheet("board", Placement(piece="corner", x=10, y=10, turned=False))


@pytest.mark.parametrize("saw", [None, EdgeToEdge(stages=2), EdgeToEdge(stages=3)])
def test_round_a_part_in_the_corner_the_larger_strip_runs_through(saw):
    instance, layout = corner_sheet(saw)
    # Left over: 370 x 480 on the right, or 980 x 170 above; the first is larger.
    assert offcuts(instance, layout, ANY) == (
        Offcut(x=620, y=10, length=370, width=480),
        Offcut(x=10, y=320, length=600, width=170),
    )
    assert offcuts(instance, layout, Reusable(longer=600, shorter=171)) == ()
    assert offcuts(instance, layout, Reusable(longer=600, shorter=170)) == (
        Offcut(x=10, y=320, length=980, width=170),
    )


def test_a_reusable_offcut_has_sides():
    with pytest.raises(InvalidInstance) as caught:
        Reusable(longer=0, shorter=-1)
    assert len(caught.value.faults) == 2
