"""The door to rectpack: its rules are sound, and its pitfalls stay outside."""

from itertools import product

import pytest
import rectpack
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.answer.solution import Layout, Placement, Solution
from nesting.answer.verify import violations
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.maximal_rectangles import Rectangle
from nesting.question.problem import ItemType, Room
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.question.violation import ViolationKind
from nesting.search.rectpack_start import Axis, Rule, Surface
from tests.nesting.random_nests import answer_of

WHOLE = (Rectangle(0, 0, 100, 60),)
ROOM = Room(index=0, length=100, width=60, price=1.0, cost=1, on_hand=None, free=WHOLE)
SIZES = st.tuples(st.integers(1, 70), st.integers(1, 60), st.booleans())


@pytest.mark.parametrize(("rule", "axis"), list(product(Rule, Axis)))
@given(st.lists(SIZES, min_size=1, max_size=25))
@settings(deadline=None, max_examples=25)
def test_what_a_surface_places_is_apart_inside_and_turned_only_if_allowed(rule, axis, sizes):
    surface = Surface(rule, axis, ROOM)
    item_types = [ItemType(number, *size) for number, size in enumerate(sizes)]
    placed = [item_type for item_type in item_types if surface.place(item_type)]
    assert [spot.item_type for spot in surface.spots] == [item_type.index for item_type in placed]
    instance = Instance(
        pieces=tuple(_piece(item_type) for item_type in placed),
        stocks=(Stock(id="s", length=100, width=60, price=1.0, on_hand=None),),
        rules=SheetRules(trim=Trim.even(0), gap=0),
    )
    assert violations(instance, _answer(instance, surface)) == ()
    assert placed or not any(item_type.fits(ROOM) for item_type in item_types)


def _piece(item_type: ItemType) -> Piece:
    turn = Turn.QUARTER if item_type.turnable else Turn.FIXED
    name = str(item_type.index)
    return Piece(id=name, length=item_type.length, width=item_type.width, quantity=1, turn=turn)


def _answer(instance: Instance, surface: Surface) -> Solution:
    placements = tuple(
        Placement(piece=str(spot.item_type), x=spot.x, y=spot.y, turned=spot.turned)
        for spot in surface.spots
    )
    layouts = (Layout(stock="s", placements=placements, runs=1),) if placements else ()
    return answer_of(instance, *layouts)


@pytest.mark.parametrize("rule", Rule)
def test_each_piece_has_its_own_turn(rule):
    surface = Surface(rule, Axis.LENGTH, ROOM)
    assert surface.fitness(ItemType(0, 50, 70, False)) is None
    assert not surface.place(ItemType(0, 50, 70, False))
    assert surface.fitness(ItemType(1, 50, 70, True)) is not None
    assert surface.place(ItemType(1, 50, 70, True))
    assert surface.spots[0].turned
    assert not surface.place(ItemType(2, 20, 70, False))


@pytest.mark.parametrize("rule", Rule)
def test_a_piece_that_fits_nowhere_is_refused_aloud(rule):
    surface = Surface(rule, Axis.WIDTH, ROOM)
    assert not surface.place(ItemType(0, 101, 10, True))
    assert surface.spots == []


def test_upstream_drops_oversized_rectangles_silently():
    # Why rectpack's own packers are not used. Should this ever fail, upstream has changed.
    packer = rectpack.newPacker(rotation=False)
    packer.add_bin(100, 60)
    packer.add_rect(101, 10, rid="lost")
    packer.pack()
    assert packer.rect_list() == []


def test_the_verifier_would_see_a_surface_that_overlaps():
    surface = Surface(Rule.MAX_AREA, Axis.LENGTH, ROOM)
    surface.place(ItemType(0, 10, 10, False))
    surface.spots *= 2
    piece = Piece(id="0", length=10, width=10, quantity=2, turn=Turn.FIXED)
    stock = Stock(id="s", length=100, width=60, price=1.0, on_hand=None)
    rules = SheetRules(trim=Trim.even(0), gap=0)
    instance = Instance(pieces=(piece,), stocks=(stock,), rules=rules)
    (found,) = violations(instance, _answer(instance, surface))
    assert found.kind is ViolationKind.OVERLAP
