"""Screws in boards against Eckelman's formula for particleboard, as the Wood Handbook prints it.

P = 2655 sqrt(D) (L - D/3)^5/4 G^2 pounds for screws in the face, D and L in inches; from memory, as
its SI form with 41.1: both agree (407 lb = 1810 N for a No. 10, 3/4 in deep in board of .75).
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parametric.stock.materials import PulledHead, PulledScrew
from parametric.strength.board_screws import pull_through_n, withdrawal_n

INCH, POUND = 25.4, 4.4482216152605


def eckelman_n(diameter_in: float, bite_in: float, gravity: float) -> float:
    pull = math.sqrt(diameter_in) * (bite_in - diameter_in / 3) ** 1.25 * gravity**2
    return 2655 * pull * POUND


def test_the_formula_gives_its_known_value() -> None:
    assert eckelman_n(0.190, 0.75, 0.75) == pytest.approx(407 * POUND, rel=2e-3)


@pytest.mark.parametrize(
    ("diameter_in", "bite_in"), [(0.138, 0.5), (0.164, 0.5), (0.190, 0.4375), (0.216, 0.7)]
)
def test_a_test_is_carried_over_as_the_formula_does(diameter_in: float, bite_in: float) -> None:
    """ASTM D1037 pulls a No. 10, 17 mm deep (from memory)."""
    tested = PulledScrew(
        pull_n=eckelman_n(0.190, 17 / INCH, 0.72), diameter_mm=0.190 * INCH, bite_mm=17.0
    )
    found = withdrawal_n(tested, diameter_in * INCH, bite_in * INCH)
    assert found == pytest.approx(eckelman_n(diameter_in, bite_in, 0.72), rel=1e-9)


def test_a_thin_screw_holds_far_less_than_the_tested_one() -> None:
    """900 N of grade M-2 (ANSI A208.1-1999: 900 N at the edge) for a No. 6, 1/2 in deep: 535 N."""
    tested = PulledScrew(pull_n=900.0, diameter_mm=0.190 * INCH, bite_mm=17.0)
    assert withdrawal_n(tested, 0.138 * INCH, INCH / 2) == pytest.approx(535, abs=1.0)


def test_a_screw_that_is_not_in_holds_nothing() -> None:
    tested = PulledScrew(pull_n=900.0, diameter_mm=4.2, bite_mm=15.0)
    assert withdrawal_n(tested, 4.0, 1.0) == 0.0


sizes = st.floats(3.0, 6.0), st.floats(4.0, 20.0)


@given(*sizes, st.floats(1.0, 1.5))
def test_longer_and_thicker_screws_never_hold_less(
    diameter_mm: float, bite_mm: float, more: float
) -> None:
    tested = PulledScrew(pull_n=900.0, diameter_mm=4.2, bite_mm=15.0)
    assert withdrawal_n(tested, diameter_mm, bite_mm * more) >= withdrawal_n(
        tested, diameter_mm, bite_mm
    )


def test_heads_pull_through_as_nds_scales_them() -> None:
    """NDS 2018 12.2.5 (from memory): 690 pi D G^2 t pounds, and no more board than 2.5 heads."""

    def nds(head_in: float, board_in: float, gravity: float) -> float:
        return 690 * math.pi * head_in * gravity**2 * min(board_in, 2.5 * head_in) * POUND

    tested = PulledHead(pull_n=nds(0.385, 0.625, 0.5), diameter_mm=0.385 * INCH, board_mm=15.875)
    for head_in, board_in in ((0.385, 0.75), (0.332, 0.5), (0.5, 0.625), (0.25, 1.0)):
        found = pull_through_n(tested, head_in * INCH, board_in * INCH)
        assert found == pytest.approx(nds(head_in, board_in, 0.5), rel=1e-9)
