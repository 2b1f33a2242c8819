"""One sheet filled by the compiled loops: pieces never overlap and keep every rule."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.answer.layout_check import layout_violations
from nesting.answer.solution import Layout, Placement
from nesting.kernels.fill_sheet import UPWARDS, fill, rules_of
from nesting.kernels.max_rects import CONTACT, cut_out, fill_free
from nesting.kernels.sheet import Filled, unfilled
from nesting.kernels.sorting import sort_falling
from nesting.question.instance import Instance
from nesting.question.maximal_rectangles import Rectangle, maximal_rectangles
from nesting.question.problem import problem_of
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.search.arrays import arrays_of, pattern_from
from nesting.search.pattern import Pattern
from tests.nesting.random_nests import SAWS, instances


def filled(
    instance: Instance, rule: int, order: list[int], most_left: float = np.inf
) -> tuple[Pattern, list[bool]]:
    """Offer item types to one sheet of the first stock; return it, and which offers were taken."""
    problem = problem_of(instance)
    arrays, sheet = arrays_of(problem), unfilled(len(order))
    offered = np.array(order, np.int64)
    placed = fill(
        arrays.sheet(0), arrays.item_types, offered, rule, arrays.stages, most_left, sheet
    )
    return pattern_from(0, sheet.placed[:placed]), [bool(taken) for taken in sheet.taken]


def layout_of(instance: Instance, pattern: Pattern) -> Layout:
    trim = instance.rules.trim
    return Layout(
        stock=instance.stocks[0].id,
        placements=tuple(
            Placement(
                piece=instance.pieces[spot.item_type].id,
                x=spot.x + trim.left,
                y=spot.y + trim.bottom,
                turned=spot.turned,
            )
            for spot in pattern.spots
        ),
        runs=1,
    )


def assert_filled_right(instance: Instance, rule: int, data: st.DataObject) -> Pattern:
    item_types = st.integers(0, len(instance.pieces) - 1)
    order = data.draw(st.lists(item_types, min_size=1, max_size=40))
    pattern, taken = filled(instance, rule, order)
    assert tuple(layout_violations(instance, layout_of(instance, pattern), "sheet")) == ()
    placed = sorted(item_type for item_type, was in zip(order, taken, strict=True) if was)
    assert placed == sorted(spot.item_type for spot in pattern.spots)
    return pattern


@pytest.mark.parametrize("rule", range(rules_of(-1)))
@given(instance=instances(), data=st.data())
@settings(max_examples=8)
def test_free_sheets_keep_gap_trim_rim_and_defects(rule, instance, data):
    pattern = assert_filled_right(instance, rule, data)
    assert pattern.spots or not any(
        k.fits(problem_of(instance).rooms[0]) for k in item_types(instance)
    )


@pytest.mark.parametrize("rule", range(rules_of(0)))
@given(instance=instances(saws=SAWS), data=st.data())
@settings(max_examples=8)
def test_sawn_sheets_keep_their_stages_as_well(rule, instance, data):
    assert_filled_right(instance, rule, data)


@pytest.mark.parametrize("rule", [UPWARDS, UPWARDS + 1])
@given(instance=instances(), data=st.data())
@settings(max_examples=25)
def test_the_skyline_fills_plain_sheets(rule, instance, data):
    """Without rim rules and defects: otherwise another method takes its place."""
    rules = SheetRules(trim=Trim.even(0), gap=instance.rules.gap)
    stock = dataclasses.replace(instance.stocks[0], defects=())
    plain = dataclasses.replace(instance, rules=rules, stocks=(stock,))
    assert assert_filled_right(plain, rule, data).spots


@pytest.mark.parametrize("rule", range(rules_of(-1)))
@given(instance=instances(), data=st.data(), share=st.floats(0.0, 1.0))
@settings(max_examples=12)
def test_a_sheet_is_only_given_up_when_too_much_would_be_left(rule, instance, data, share):
    order = data.draw(st.lists(st.integers(0, len(instance.pieces) - 1), min_size=1, max_size=40))
    areas = [item_types(instance)[item_type].area for item_type in order]

    def left(taken):
        return sum(area for area, was in zip(areas, taken, strict=True) if not was)

    whole, taken = filled(instance, rule, order)
    most_left = share * sum(areas)
    given_up, taken_then = filled(instance, rule, order, most_left)
    if left(taken) <= most_left:
        assert (given_up, taken_then) == (whole, taken)
    else:
        assert left(taken_then) > most_left


BLOCKS = st.lists(
    st.builds(
        Rectangle,
        x=st.integers(0, 11),
        y=st.integers(0, 8),
        length=st.integers(1, 5),
        width=st.integers(1, 5),
    ),
    max_size=9,
)


@given(BLOCKS)
@settings(max_examples=200)
def test_free_rectangles_are_all_the_largest_empty_ones(blocks):
    """As `maximal_rectangles` has them, which is checked with shapely."""
    free = np.zeros((400, 4), np.int64)
    free[0] = 0, 0, 12, 9
    n = 1
    for x, y, length, width in blocks:
        n = cut_out(free, n, x, y, x + length, y + width, 1, 1)
    found = sorted(Rectangle(x0, y0, x1 - x0, y1 - y0) for x0, y0, x1, y1 in free[:n].tolist())
    assert found == list(maximal_rectangles(12, 9, blocks))


def item_types(instance: Instance):
    return problem_of(instance).item_types


@given(instances(), st.integers(0, CONTACT), st.integers(4, 9))
@settings(max_examples=25)
def test_little_room_for_free_rectangles_forgets_places_and_never_overlaps(instance, rule, rows):
    problem = problem_of(instance)
    arrays, room = arrays_of(problem), problem.rooms[0]
    order = np.repeat(np.arange(len(problem.item_types)), 6)
    sheet = Filled(
        scratch=np.empty((max(rows, len(room.free)), 4), np.int64),
        taken=np.zeros(len(order), np.uint8),
        placed=np.zeros((len(order), 4), np.int64),
    )
    placed = fill_free(arrays.sheet(0), arrays.item_types, order, rule, np.inf, sheet)
    layout = layout_of(instance, pattern_from(0, sheet.placed[:placed]))
    assert tuple(layout_violations(instance, layout, "sheet")) == ()


@given(st.lists(st.floats(-1e6, 1e6), max_size=150))
def test_sorting_is_falling_by_the_keys(numbers):
    keys, entries = np.array(numbers, dtype=float), np.arange(len(numbers))
    sort_falling(keys, entries, len(numbers), np.empty(len(numbers), np.int64))
    assert [numbers[entry] for entry in entries] == sorted(numbers, reverse=True)
    assert sorted(entries.tolist()) == list(range(len(numbers)))
