"""Patterns of one sheet by through cuts, against searches that try everything."""

import dataclasses

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.edge_to_edge.decoded import SheetFiller
from nesting.edge_to_edge.sawn_patterns import sawn_patterns
from nesting.kernels.sawn_sheet import RULES
from nesting.question.maximal_rectangles import maximal_rectangles
from nesting.question.problem import ItemType, Room
from nesting.search.pattern import Pattern
from tests.nesting.edge_to_edge.sawn_questions import STAGES, Question, assert_sawn, questions
from tests.nesting.edge_to_edge.through_cuts import comes_apart, most_value


def _patterns(question: Question, stages: int | None, tries: int, seed: int) -> list[Pattern]:
    return sawn_patterns(
        question.room, question.item_types, question.values, question.most, stages, tries, seed
    )


@given(questions(), st.sampled_from(STAGES), st.integers(0, 40), st.integers(0, 9))
@settings(max_examples=150, deadline=None)
def test_every_pattern_keeps_the_rules_the_limits_and_the_stages(
    question: Question, stages: int | None, tries: int, seed: int
) -> None:
    patterns = _patterns(question, stages, tries, seed)
    values = [pattern.value(question.values) for pattern in patterns]
    assert values == sorted(values, reverse=True)
    assert len({pattern.counts for pattern in patterns}) == len(patterns)
    for pattern in patterns:
        assert_sawn(question, pattern.spots, stages)
        for item_type, count in pattern.counts:
            assert count == sum(spot.item_type == item_type for spot in pattern.spots)
            assert count <= question.most[item_type] and question.values[item_type] > 0
    assert patterns == _patterns(question, stages, tries, seed)


@given(
    questions(),
    st.sampled_from(STAGES),
    st.integers(0, RULES - 1),
    st.tuples(st.booleans(), st.booleans()),
    st.data(),
)
@settings(max_examples=300, deadline=None)
def test_every_rule_fills_a_sheet_that_comes_apart(
    question: Question,
    stages: int | None,
    rule: int,
    flipped: tuple[bool, bool],
    data: st.DataObject,
) -> None:
    item_types = st.integers(0, len(question.item_types) - 1)
    order = np.array(data.draw(st.lists(item_types, max_size=40)), np.int64)
    filler = SheetFiller.of(question.room, question.item_types, stages, 40, flipped)
    spots = filler.filled(order, rule)
    assert_sawn(question, spots, stages)
    placed = [
        item_type
        for item_type, taken in zip(order, filler.arrays.taken[: len(order)], strict=True)
        if taken
    ]
    assert placed == [spot.item_type for spot in spots]


@given(questions(plain=True), st.integers(0, RULES - 1), st.integers(2, 12))
@settings(max_examples=100, deadline=None)
def test_a_full_scratch_loses_places_and_nothing_else(
    question: Question, rule: int, rows: int
) -> None:
    order = np.array([n % len(question.item_types) for n in range(40)], np.int64)
    filler = SheetFiller.of(question.room, question.item_types, None, 40)
    whole = filler.arrays.scratch
    whole[2 * rows :] = -7
    little = filler.arrays._replace(scratch=whole[: 2 * rows])
    small = dataclasses.replace(filler, arrays=little)
    assert_sawn(question, small.filled(order, rule), None)
    assert (whole[2 * rows :] == -7).all()


@given(
    st.tuples(st.integers(2, 9), st.integers(2, 9)),
    st.lists(
        st.tuples(st.integers(1, 8), st.integers(1, 8), st.booleans(), st.integers(1, 40)),
        min_size=1,
        max_size=6,
    ),
    st.sampled_from((2, 3, None)),
)
@settings(max_examples=120, deadline=None)
def test_a_handful_of_pieces_agrees_with_trying_everything(
    sheet: tuple[int, int], pieces: list[tuple[int, int, bool, int]], stages: int | None
) -> None:
    length, width = sheet
    item_types = [
        ItemType(n, along, across, turn) for n, (along, across, turn, _) in enumerate(pieces)
    ]
    values = [float(piece[3]) for piece in pieces]
    room = Room(0, length, width, 1.0, 1, None, maximal_rectangles(length, width, ()))
    patterns = sawn_patterns(room, item_types, values, [1] * len(item_types), stages, 0, 0)
    best = patterns[0].value(values) if patterns else 0
    sizes = [(along, across, turn) for along, across, turn, _ in pieces]
    assert best == most_value(length, width, sizes, values, stages)


@given(questions(plain=True, most_item_types=5))
@settings(max_examples=80, deadline=None)
def test_more_stages_are_never_worth_less(question: Question) -> None:
    best = [
        max((f.value(question.values) for f in _patterns(question, stages, 0, 0)), default=0)
        for stages in (2, 3, None)
    ]
    assert best == sorted(best)


def test_a_pinwheel_does_not_come_apart() -> None:
    pinwheel = [(0, 0, 2, 1), (2, 0, 3, 2), (1, 2, 3, 3), (0, 1, 1, 3)]
    assert not comes_apart(pinwheel, None)
    assert comes_apart(pinwheel[:3], 2)


def test_a_sheet_without_a_clear_place_gets_no_pattern() -> None:
    room = Room(0, 10, 10, 1.0, 1, None, ())
    assert sawn_patterns(room, [ItemType(0, 1, 1, False)], [1.0], [5], 2, 20, 0) == []
