"""Sizes for openings: exact, shown by trying every set of sizes for a few openings."""

from itertools import combinations, pairwise
from math import fsum

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parametric.rooms.size_groups import (
    SizeRange,
    best_groupings,
    fewest_sizes,
    grouping_of,
)


@st.composite
def ranges_of(draw: st.DrawFn, most: int = 6) -> list[SizeRange]:
    """Whole numbers on a short line, so that ends meet and intervals coincide."""
    made = []
    for _ in range(draw(st.integers(1, most))):
        least = draw(st.integers(0, 12))
        longest = draw(st.integers(0, 6))
        spare = draw(st.integers(0, 3))
        made.append(
            SizeRange(
                least_mm=float(least),
                most_mm=float(least + longest),
                flush_mm=float(least + longest + spare),
            )
        )
    return made


def costs(ranges: list[SizeRange], count: int) -> tuple[int, float]:
    """The least cost over all sets of so many whole sizes, right ends or not."""
    found = []
    for sizes in combinations(range(20), count):
        gaps = []
        for each in ranges:
            fitting = [size for size in sizes if each.least_mm <= size <= each.most_mm]
            gaps += [each.flush_mm - max(fitting)] if fitting else []
        found.append((len(ranges) - len(gaps), fsum(gaps)))
    return min(found)


@given(ranges_of())
def test_no_set_of_sizes_is_smaller_than_the_fewest(ranges: list[SizeRange]) -> None:
    fewest = fewest_sizes(ranges)
    assert costs(ranges, fewest)[0] == 0
    assert fewest == 1 or costs(ranges, fewest - 1)[0] > 0


@given(ranges_of(most=40))
def test_as_many_sizes_as_openings_that_share_none(ranges: list[SizeRange]) -> None:
    """The least number of points that meet all intervals on a line is the greatest number of
    intervals of which no two meet (Gallai; A. Gyarfas and J. Lehel 1985; from memory). Intervals
    that do not meet are counted by the rule of the earliest end: Kleinberg and Tardos, Algorithm
    Design, section 4.1 (from memory).
    """
    apart = [min(ranges, key=lambda each: each.most_mm)]
    for each in sorted(ranges, key=lambda each: each.most_mm):
        if each.least_mm > apart[-1].most_mm:
            apart.append(each)
    assert all(left.most_mm < right.least_mm for left, right in pairwise(apart))
    assert fewest_sizes(ranges) == len(apart)
    found = best_groupings(ranges, len(apart))
    assert not found[-1].unserved
    assert all(each.unserved for each in found[:-1])


@given(ranges_of(), st.integers(1, 4))
def test_the_best_groupings_cost_what_the_best_sets_of_sizes_cost(
    ranges: list[SizeRange], most_sizes: int
) -> None:
    found = best_groupings(ranges, most_sizes)
    assert len(found) == most_sizes
    for count, grouping in enumerate(found, start=1):
        assert len(grouping.groups) <= count
        assert (len(grouping.unserved), grouping.total_gap_mm) == costs(ranges, count)
        placed = [i for group in grouping.groups for i in group.openings]
        assert sorted((*placed, *grouping.unserved)) == list(range(len(ranges)))
        for group in grouping.groups:
            assert group.openings
            assert all(ranges[i].holds(group.size_mm) for i in group.openings)


def by_hand() -> list[SizeRange]:
    """Openings of 2062, 2000, 2030 and 2100 mm beside which 3 to 40 mm may stay."""
    return [
        SizeRange(least_mm=opening - 40.0, most_mm=opening - 3.0, flush_mm=opening)
        for opening in (2062.0, 2000.0, 2030.0, 2100.0)
    ]


def test_by_hand() -> None:
    """1997 serves 2000 (3 left) and 2030 (33); 2059 serves 2062 (3), and leaves 41 of 2100.

    With one size 1997 is better than 2027, which serves 2030 (3) and 2062 (35). With two, one
    opening is left whichever they are. With four, 3 of each.
    """
    ranges = by_hand()
    assert fewest_sizes(ranges) == 3
    one, two, three, four, five = best_groupings(ranges, 5)
    assert [(g.size_mm, g.openings) for g in one.groups] == [(1997.0, (1, 2))]
    assert (one.unserved, one.total_gap_mm, one.worst_gap_mm) == ((0, 3), 36.0, 33.0)
    assert len(two.unserved) == 1
    assert [(g.size_mm, g.openings) for g in three.groups] == [
        (1997.0, (1, 2)),
        (2059.0, (0,)),
        (2097.0, (3,)),
    ]
    assert (three.total_gap_mm, three.worst_gap_mm) == (42.0, 33.0)
    assert (four.total_gap_mm, four.worst_gap_mm) == (12.0, 3.0)
    assert five == four, "a further size saves nothing"


def test_sizes_that_are_given() -> None:
    found = grouping_of(by_hand(), [2000.0, 2010.0, 1500.0])
    assert [(g.size_mm, g.openings) for g in found.groups] == [(2010.0, (2,))]
    assert found.unserved == (0, 1, 3)
    assert found.total_gap_mm == 20.0


def test_nothing_to_serve() -> None:
    assert fewest_sizes([]) == 0
    assert best_groupings([], 1)[0].groups == ()


def test_an_empty_range_is_refused() -> None:
    empty = SizeRange(least_mm=10.0, most_mm=9.0, flush_mm=12.0)
    with pytest.raises(ValueError, match="no size from"):
        fewest_sizes([empty])
    with pytest.raises(ValueError, match="no size from"):
        best_groupings([empty], 1)
