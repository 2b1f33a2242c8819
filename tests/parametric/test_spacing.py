"""Fewer fasteners of a row, by hand and by what must hold of any."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parametric.geometry.spacing import evenly_of


@pytest.mark.parametrize(
    ("of", "count", "kept"),
    [
        (7, 3, (0, 3, 6)),
        (8, 3, (0, 2, 5, 7)),  # no middle one: four
        (6, 3, (0, 2, 3, 5)),
        (3, 3, (0, 1, 2)),
        (2, 4, (0, 1)),
        (9, 2, (0, 8)),
    ],
)
def test_by_hand(of: int, count: int, kept: tuple[int, ...]) -> None:
    assert evenly_of(tuple(map(float, range(of))), count) == kept


@given(st.integers(2, 40), st.integers(2, 20))
def test_the_same_from_either_end(of: int, count: int) -> None:
    places = tuple(map(float, range(of)))
    kept = evenly_of(places, count)
    assert kept[0] == places[0] and kept[-1] == places[-1]
    assert list(kept) == sorted(set(kept))
    assert kept == tuple(places[-1] - place for place in reversed(kept))
    assert min(of, count) <= len(kept) <= count + 1
    even = (of - 1) / (len(kept) - 1)
    assert all(b - a < even + 2 for a, b in pairwise(kept))
