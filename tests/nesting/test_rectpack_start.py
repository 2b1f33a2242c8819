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
from nesting.question.problem import Kind, Room
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
    kinds = [Kind(number, *size) for number, size in enumerate(sizes)]
    placed = [kind for kind in kinds if surface.place(kind)]
    assert [spot.kind for spot in surface.spots] == [kind.index for kind in placed]
    instance = Instance(
        pieces=tuple(_piece(kind) for kind in placed),
        stocks=(Stock(id="s", length=100, width=60, price=1.0, on_hand=None),),
        rules=SheetRules(trim=Trim.even(0), gap=0),
    )
    assert violations(instance, _answer(instance, surface)) == ()
    assert placed or not any(kind.fits(ROOM) for kind in kinds)


def _piece(kind: Kind) -> Piece:
    turn = Turn.QUARTER if kind.turnable else Turn.FIXED
    name = str(kind.index)
    return Piece(id=name, length=kind.length, width=kind.width, quantity=1, turn=turn)


def _answer(instance: Instance, surface: Surface) -> Solution:
    placements = tuple(
        Placement(piece=str(spot.kind), x=spot.x, y=spot.y, turned=spot.turned)
        for spot in surface.spots
    )
    layouts = (Layout(stock="s", placements=placements, runs=1),) if placements else ()
    return answer_of(instance, *layouts)


@pytest.mark.parametrize("rule", Rule)
def test_each_piece_has_its_own_turn(rule):
    surface = Surface(rule, Axis.LENGTH, ROOM)
    assert surface.fitness(Kind(0, 50, 70, False)) is None
    assert not surface.place(Kind(0, 50, 70, False))
    assert surface.fitness(Kind(1, 50, 70, True)) is not None
    assert surface.place(Kind(1, 50, 70, True))
    assert surface.spots[0].turned
    assert not surface.place(Kind(2, 20, 70, False))


@pytest.mark.parametrize("rule", Rule)
def test_a_piece_that_fits_nowhere_is_refused_aloud(rule):
    surface = Surface(rule, Axis.WIDTH, ROOM)
    assert not surface.place(Kind(0, 101, 10, True))
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
    surface.place(Kind(0, 10, 10, False))
    surface.spots *= 2
    piece = Piece(id="0", length=10, width=10, quantity=2, turn=Turn.FIXED)
    stock = Stock(id="s", length=100, width=60, price=1.0, on_hand=None)
    rules = SheetRules(trim=Trim.even(0), gap=0)
    instance = Instance(pieces=(piece,), stocks=(stock,), rules=rules)
    (found,) = violations(instance, _answer(instance, surface))
    assert found.kind is ViolationKind.OVERLAP
