"""The most valuable pattern of a bar, against all patterns there are; both ways of finding it."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.linear import pricing

item_types = st.lists(
    st.tuples(st.integers(1, 30), st.integers(0, 20), st.integers(1, 4)), min_size=1, max_size=4
)


def most(item_types_: list[tuple[int, int, int]], size: int) -> int:
    """Highest value of lengths, values and limits in a room, by trying all."""
    return max(
        sum(count * value for count, (_, value, _) in zip(counts, item_types_, strict=True))
        for counts in product(*(range(limit + 1) for _, _, limit in item_types_))
        if sum(c * length for c, (length, _, _) in zip(counts, item_types_, strict=True)) <= size
    )


@pytest.mark.parametrize("cells", [0, 10**9], ids=["search", "table"])
@pytest.mark.parametrize("nodes", [1, 10**9], ids=["handed over", "to the end"])
@settings(max_examples=50, deadline=None)
@given(listed=item_types, sizes=st.lists(st.integers(0, 80), min_size=1, max_size=3))
def test_best_patterns_are_the_best_there_are(
    cells: int, nodes: int, listed: list[tuple[int, int, int]], sizes: list[int]
) -> None:
    lengths, values, limits = zip(*listed, strict=True)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pricing, "TABLE_CELLS", cells)
        patch.setattr(pricing, "SEARCH_NODES", nodes)
        found = pricing.Pricing(lengths, limits).best(values, sizes)
    for best, size in zip(found, sizes, strict=True):
        taken = list(zip(best.counts, listed, strict=True))
        assert sum(count * length for count, (length, _, _) in taken) <= size
        assert all(count <= limit for count, (_, _, limit) in taken)
        assert best.value == sum(count * value for count, (_, value, _) in taken)
        assert best.value == most(listed, size)
