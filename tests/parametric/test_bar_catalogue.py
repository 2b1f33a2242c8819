"""The linear list: bars are counted by what they are, and numbered from L001."""

import pytest

from parametric.bar_catalogue import BarCatalogue, bar_number
from parametric.cut_list import PartHand
from parametric.hand import Hand
from parametric.members import SteelAngle
from parametric.primitives.steel_angle import steel_angle
from tests.example_set import CONSTRUCTION, INCH


@pytest.mark.parametrize(
    ("index", "number"), [(0, "L001"), (1, "L002"), (99, "L100"), (999, "L1000")]
)
def test_bars_are_numbered_from_one(index: int, number: str) -> None:
    assert bar_number(index) == number


def test_equal_angles_are_one_line_and_others_the_next() -> None:
    """Five rooms with an angle of 600 mm and one of 601: by hand, an area of (2 x 50.8 - 6.35) x
    6.35 = 604.8375 mm2 and 7850 kg/m3 make 2.8488 kg.
    """

    def angle(name: str, length_mm: float) -> SteelAngle:
        return steel_angle(name, (100.0, 100.0 + length_mm), 50.0, 400.0, CONSTRUCTION)

    bars = BarCatalogue()
    bars.add_angle("corner", Hand.RIGHT, angle("angle/one", 600.0), (), 3)
    bars.add_angle("niche", Hand.LEFT, angle("tie/other", 600.0), (), 2)
    bars.add_angle("niche", Hand.RIGHT, angle("tie/longer", 601.0), (), 1)
    first, second = bars.bars()
    assert (first.number, second.number) == ("L001", "L002")
    assert (first.quantity, second.quantity) == (5, 1)
    assert (first.length_mm, second.length_mm) == pytest.approx((600.0, 601.0))
    assert (first.units, second.units) == (("angle", "tie"), ("tie",))
    assert first.hand is PartHand.EITHER, "without holes it serves either hand"
    assert first.profile == "50.8 x 50.8 x 6.35 mm"
    assert (first.material, first.description) == ("L2x2x1/4", "steel angle")
    assert first.stock_length_mm == pytest.approx(240 * INCH)
    assert first.mass_kg == pytest.approx(2.8488, abs=0.0001)
    assert bars.numbers() == {
        ("corner", Hand.RIGHT, "angle/one"): "L001",
        ("niche", Hand.LEFT, "tie/other"): "L001",
        ("niche", Hand.RIGHT, "tie/longer"): "L002",
    }
