"""The watch over sums of floats sees what it is for, in a nest as well."""

import builtins

import pytest

from nesting.search.pattern import Pattern
from tests.exact_sums import watched_sum


def sum_in(package: str, text: str) -> object:
    return eval(text, {"__name__": package, "sum": watched_sum})


@pytest.mark.parametrize("text", ["sum([0.1])", "sum([1, 0.5])", "sum([1], 0.0)"])
def test_floats_are_seen_in_our_packages_alone(text):
    with pytest.raises(AssertionError, match=r"nesting\.search\.draft adds up floats"):
        sum_in("nesting.search.draft", text)
    assert sum_in("numpy.linalg", text)


def test_whole_numbers_are_added_as_ever():
    assert sum_in("nesting.search.draft", "sum(n for n in (1, 2, 3))") == 6
    assert sum_in("nesting.search.draft", "sum([[1], [2]], [])") == [1, 2]


def test_every_test_is_watched():
    assert builtins.sum is watched_sum


def test_what_pieces_are_worth_is_rounded_once():
    """By hand: 1e16 + 1 is no float, so that adding one by one loses both ones.

    Python 3.12 keeps them, 3.11 does not; exactly it is 1e16 + 2.
    """
    pattern = Pattern(room=0, counts=((0, 1), (1, 1), (2, 1)), spots=())
    assert pattern.value([1e16, 1.0, 1.0]) == 1e16 + 2
