"""Wood screws against NDS 2018: its printed cells, and its formulas in the form it prints them.

National Design Specification for Wood Construction, 2018 edition. Cells and clauses were read in a
public clause-by-clause reading that prints them, not in the standard itself.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parametric.strength.wood_screws import (
    PSI_N_MM2,
    SingleShear,
    bending_yield_n_mm2,
    combined_n,
    reduction,
    withdrawal_n,
    wood_bearing_n_mm2,
)

INCH = 25.4
POUND = 4.4482216152605
SPF, DOUGLAS_FIR = 0.42, 0.50  # table 12.3.3A


@pytest.mark.parametrize(
    ("diameter_in", "gravity", "printed_lb_in"),
    [
        (0.190, 0.50, 135),  # table 12.2B
        (0.190, 0.45, 109),  # an engineering reference page prints 109, from 109.7
    ],
)
def test_withdrawal_is_what_is_printed(diameter_in, gravity, printed_lb_in):
    pounds = withdrawal_n(gravity, diameter_in * INCH, INCH) / POUND
    assert math.floor(pounds) == printed_lb_in


@pytest.mark.parametrize(
    ("diameter_in", "gravity", "pounds"),
    # Equation 12.2-2 computed by hand: 2850 x G^2 x D.
    [(0.190, SPF, 95.5), (0.164, SPF, 82.4), (0.164, 0.55, 141.4), (0.216, 0.50, 153.9)],
)
def test_withdrawal_by_hand(diameter_in, gravity, pounds):
    assert withdrawal_n(gravity, diameter_in * INCH, INCH) / POUND == pytest.approx(
        pounds, abs=0.05
    )


@pytest.mark.parametrize(("gravity", "psi"), [(0.50, 4650), (0.42, 3350)])
def test_bearing_of_wood_is_rounded_as_printed(gravity, psi):
    """Table 12.3.3, note 2."""
    assert wood_bearing_n_mm2(gravity) / PSI_N_MM2 == pytest.approx(psi)


@pytest.mark.parametrize(
    ("diameter_in", "ksi"), [(0.138, 100), (0.164, 90), (0.19, 80), (0.242, 70)]
)
def test_bending_yield_of_screws(diameter_in, ksi):
    """Appendix I, table I1."""
    assert bending_yield_n_mm2(diameter_in * INCH) / PSI_N_MM2 == pytest.approx(1000 * ksi)


def shear(
    diameter_in: float,
    root_in: float,
    side_in: float,
    main_in: float,
    gravity: float = DOUGLAS_FIR,
    side_psi: float | None = None,
    gap_in: float = 0.0,
) -> SingleShear:
    wood = wood_bearing_n_mm2(gravity)
    return SingleShear(
        diameter_mm=diameter_in * INCH,
        root_mm=root_in * INCH,
        side_mm=side_in * INCH,
        side_n_mm2=wood if side_psi is None else side_psi * PSI_N_MM2,
        main_mm=main_in * INCH,
        main_n_mm2=wood,
        gap_mm=gap_in * INCH,
    )


def test_the_cell_of_table_12l():
    """Wood screw No. 10, side member 1/2 in, G .50, penetration 10 D: 90 lb, by mode III_s."""
    screw = shear(0.190, 0.152, 0.5, 9 * 0.190)
    modes = screw.modes_n()
    assert round(screw.design_n(10 * 0.190 * INCH) / POUND) == 90
    assert min(modes, key=lambda mode: modes[mode]) == "IIIs"


@pytest.mark.parametrize(
    ("diameter_in", "length_in", "side_in", "printed"),
    [
        (0.113, 2.0, 0.75, 72),
        (0.131, 2.5, 0.75, 90),
        (0.148, 3.0, 0.75, 105),
        (0.162, 3.5, 0.75, 121),
        (0.113, 2.0, 1.0, 72),
        (0.131, 2.5, 1.0, 97),
        (0.148, 3.0, 1.0, 118),
        (0.162, 3.5, 1.0, 141),
    ],
)
def test_the_cells_of_table_12n(diameter_in, length_in, side_in, printed):
    """Common nails 6d to 16d, side members of 3/4 and 1 in, G .50. Nails have no root: the table is
    the same yield modes at the nominal diameter, and the bending yields of table I1 for these
    diameters are those of screws.
    """
    penetration = length_in - side_in
    nail = shear(diameter_in, diameter_in, side_in, penetration - diameter_in)
    assert min(nail.modes_n().values()) / POUND == pytest.approx(printed, abs=0.75)


def test_the_cell_of_table_12j():
    """Lag screw 1/4 in, side member 1/2 in, G .50: 120 lb printed, from 119.1."""
    lag = SingleShear(
        diameter_mm=0.25 * INCH,
        root_mm=0.173 * INCH,
        side_mm=0.5 * INCH,
        side_n_mm2=5600 * PSI_N_MM2,
        main_mm=8 * 0.25 * INCH,
        main_n_mm2=5600 * PSI_N_MM2,
    )
    assert reduction(0.173 * INCH) == pytest.approx(2.23)
    assert min(lag.modes_n().values()) / POUND == pytest.approx(119.1, abs=0.1)


def printed_modes(screw: SingleShear) -> dict[str, float]:
    """The six yield limit equations as table 12.3.1A prints them, with k1, k2 and k3."""
    d, fyb = screw.root_mm, bending_yield_n_mm2(screw.diameter_mm)
    fem, fes, lm, ls = screw.main_n_mm2, screw.side_n_mm2, screw.main_mm, screw.side_mm
    re, rt = fem / fes, lm / ls
    k1 = (math.sqrt(re + 2 * re**2 * (1 + rt + rt**2) + rt**2 * re**3) - re * (1 + rt)) / (1 + re)
    k2 = -1 + math.sqrt(2 * (1 + re) + 2 * fyb * (1 + 2 * re) * d**2 / (3 * fem * lm**2))
    k3 = -1 + math.sqrt(2 * (1 + re) / re + 2 * fyb * (2 + re) * d**2 / (3 * fem * ls**2))
    rd = reduction(d)
    return {
        "Im": d * lm * fem / rd,
        "Is": d * ls * fes / rd,
        "II": k1 * d * ls * fes / rd,
        "IIIm": k2 * d * lm * fem / ((1 + 2 * re) * rd),
        "IIIs": k3 * d * ls * fem / ((2 + re) * rd),
        "IV": d**2 / rd * math.sqrt(2 * fem * fyb / (3 * (1 + re))),
    }


@given(
    st.floats(0.1, 0.26),
    st.floats(0.2, 1.5),
    st.floats(0.5, 3.0),
    st.floats(0.31, 0.73),
    st.floats(3000, 90_000),
)
def test_without_a_gap_the_modes_are_those_of_the_standard(d, side, main, gravity, side_psi):
    screw = shear(d, 0.8 * d, side, main, gravity, side_psi)
    assert screw.modes_n() == pytest.approx(printed_modes(screw), rel=1e-9)


@given(st.floats(0.0, 2.0), st.floats(0.01, 1.0))
def test_a_wider_gap_bears_less(gap, more):
    narrow = shear(0.19, 0.152, 0.1875, 1.5, SPF, 61_850, gap).modes_n()
    wide = shear(0.19, 0.152, 0.1875, 1.5, SPF, 61_850, gap + more).modes_n()
    assert all(wide[mode] <= narrow[mode] * (1 + 1e-12) for mode in wide)
    assert wide["IV"] < narrow["IV"]


def test_short_screws_bear_less_and_very_short_ones_nothing():
    """Tables 12L and 12M, note 3, and 12.1.5.6: full at 10 D, none below 6 D."""
    screw = shear(0.190, 0.152, 0.5, 9 * 0.190)
    full = screw.design_n(10 * 0.190 * INCH)
    assert screw.design_n(8 * 0.190 * INCH) == pytest.approx(0.8 * full)
    assert screw.design_n(5.9 * 0.190 * INCH) == 0.0


def test_combined_load_is_withdrawal_or_lateral_at_its_ends():
    """Equation 12.4-1."""
    assert combined_n(600.0, 250.0, 90.0) == pytest.approx(600.0)
    assert combined_n(600.0, 250.0, 0.0) == pytest.approx(250.0)
    assert combined_n(600.0, 250.0, 45.0) == pytest.approx(600 * 250 / (300 + 125))


@pytest.mark.parametrize("gravity", [0.30, 0.74])
def test_wood_that_the_tables_do_not_cover_is_refused(gravity):
    with pytest.raises(ValueError, match="NDS covers solid wood"):
        withdrawal_n(gravity, 4.8, 25.4)
    with pytest.raises(ValueError, match="NDS covers solid wood"):
        wood_bearing_n_mm2(gravity)
