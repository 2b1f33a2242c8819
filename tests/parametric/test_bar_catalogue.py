"""The linear list: bars are counted by what they are, and numbered from L001."""

from dataclasses import replace

import pytest

from parametric.geometry.hand import Hand
from parametric.geometry.outline import Outline
from parametric.geometry.pose import Pose
from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.lists.bar_catalogue import (
    FLAT_LEG,
    BarCatalogue,
    ReadCleat,
    bar_number,
    flat_leg_holes,
)
from parametric.lists.cut_list import PartHand
from parametric.primitives.steel_angle import steel_angle
from parametric.shapes.features import Hole
from parametric.shapes.laid_panel import LaidPanel
from parametric.shapes.members import Cleat, SteelAngle
from parametric.shapes.panel import Bore, Face, FlatPanel
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


@pytest.mark.parametrize(
    ("upright", "from_left_mm"),
    [
        # Who faces -y has +x on the left, and who faces +x has +y: there, 600 less 70 and 250.
        (Direction.Y_MINUS, (350.0, 530.0)),
        (Direction.X_PLUS, (350.0, 530.0)),
        (Direction.Y_PLUS, (70.0, 250.0)),
        (Direction.X_MINUS, (70.0, 250.0)),
    ],
)
def test_holes_of_an_angle_are_told_from_its_left_end_and_its_heel(
    upright: Direction, from_left_mm: tuple[float, float]
) -> None:
    """Seen by who faces its upright leg with the flat leg on top: an angle of 600 mm with holes at
    70 and 250 from its low end, 30 and 20 from the heel.
    """
    along = Axis.X if upright.axis is Axis.Y else Axis.Y
    run, over = (100.0, 700.0), (40.0, 90.8)
    angle = SteelAngle(
        name="tie/angle",
        unit="tie",
        description="steel angle",
        section=CONSTRUCTION.angle,
        box=Box.spanning(*((run, over) if along is Axis.X else (over, run)), (350.0, 400.8)),
        along=along,
        upright=upright,
    )
    heel = over[1] if upright.sign > 0 else over[0]

    def hole(from_low_mm: float, from_heel_mm: float, diameter_mm: float) -> Hole:
        start = Point(0.0, 0.0, 394.45).at(along, run[0] + from_low_mm)
        start = start.at(upright.axis, heel - upright.sign * from_heel_mm)
        return Hole(start=start, direction=Direction.Z_PLUS, diameter_mm=diameter_mm, depth_mm=None)

    found = flat_leg_holes(angle, (hole(250.0, 20.0, 6.0), hole(70.0, 30.0, 5.0)))
    assert [each.from_end_mm for each in found] == pytest.approx(list(from_left_mm))
    # At the low end the hole of 5 mm, 30 from the heel.
    low, high = found if from_left_mm[0] == 70.0 else found[::-1]
    assert (low.across_mm, low.diameter_mm) == pytest.approx((30.0, 5.0))
    assert (high.across_mm, high.diameter_mm) == pytest.approx((20.0, 6.0))
    assert {each.face for each in found} == {FLAT_LEG}


def test_an_angle_and_its_mirror_image_are_two_lines() -> None:
    """One hole, 70 mm from an end of 600: each serves its own hand; in the middle, both."""

    def one_hole(at_mm: float) -> Hole:
        return Hole(
            start=Point(100.0 + at_mm, 80.0, 394.0),
            direction=Direction.Z_PLUS,
            diameter_mm=5.0,
            depth_mm=None,
        )

    angle = steel_angle("tie/angle", (100.0, 700.0), 50.0, 400.0, CONSTRUCTION)
    bars = BarCatalogue()
    for at_mm, hand in ((70.0, Hand.RIGHT), (530.0, Hand.LEFT)):
        bars.add_angle("off", hand, angle, (one_hole(at_mm),), 1)
    bars.add_angle("middle", Hand.RIGHT, angle, (one_hole(300.0),), 1)
    found = [(bar.number, bar.hand, bar.holes[0].from_end_mm) for bar in bars.bars()]
    assert found == [
        ("L001", PartHand.RIGHT, pytest.approx(530.0)),
        ("L002", PartHand.LEFT, pytest.approx(70.0)),
        ("L003", PartHand.EITHER, pytest.approx(300.0)),
    ]


def read_cleat(unit: str, length_mm: float, holes_mm: tuple[float, ...], bar: str) -> ReadCleat:
    """A cleat of 19.05 x 38.1 mm with holes along the middle of its wide face."""
    thickness, width = 0.75 * INCH, 1.5 * INCH
    cleat = Cleat(
        name=f"{unit}/cleat",
        unit=unit,
        description="cleat",
        bar=replace(CONSTRUCTION.cleat, key=bar),
        box=Box.spanning((0.0, length_mm), (0.0, width), (0.0, thickness)),
        along=Axis.X,
    )
    panel = FlatPanel(
        length_mm=length_mm,
        width_mm=width,
        thickness_mm=thickness,
        outline=Outline.rectangle(length_mm, width),
        openings=(),
        pockets=(),
        bores=tuple(
            Bore(x=at, y=width / 2, diameter_mm=4.0, depth_mm=None, face=Face.UP) for at in holes_mm
        ),
        edge_bores=(),
    )
    pose = Pose(Point(0.0, 0.0, 0.0), Point(1.0, 0.0, 0.0), Point(0.0, 0.0, 1.0))
    return ReadCleat(
        cleat=cleat, laid=LaidPanel(panel, pose), volume_mm3=length_mm * width * thickness
    )


def test_cleats_that_turn_into_one_another_are_one_line() -> None:
    """By hand: 600 x 38.1 x 19.05 mm at 450 kg/m3 make 0.19597 kg. Turned end for end, a hole at 45
    is one at 555; one more millimetre, another hole or another bar is another cleat.
    """
    bars = BarCatalogue()
    first = read_cleat("bed", 600.0, (45.0, 200.0), "cleat")
    turned = read_cleat("bench", 600.0, (400.0, 555.0), "cleat")
    bars.add_cleats("corner", Hand.RIGHT, (first, turned), 3)
    others = (
        read_cleat("bed", 601.0, (45.0, 200.0), "cleat"),
        read_cleat("bed", 600.0, (45.0,), "cleat"),
        read_cleat("bed", 600.0, (45.0, 200.0), "oak"),
    )
    for each in others:
        bars.add_cleats("corner", Hand.LEFT, (each,), 1)
    found = bars.bars()
    assert [bar.number for bar in found] == ["L001", "L002", "L003", "L004"]
    assert [bar.quantity for bar in found] == [6, 1, 1, 1]
    assert found[0].mass_kg == pytest.approx(0.19597, abs=0.00001)
    assert found[1].mass_kg == pytest.approx(0.19597 * 601 / 600, abs=0.00001)
    assert found[0].units == ("bed", "bench")
    assert found[0].profile == "19.05 x 38.1 mm"
    assert found[0].stock_length_mm == pytest.approx(96 * INCH)
    assert [bar.material for bar in found] == ["cleat", "cleat", "cleat", "oak"]
    assert [bar.length_mm for bar in found] == [600.0, 601.0, 600.0, 600.0]
    told = [(h.from_end_mm, h.across_mm, h.diameter_mm) for h in found[0].holes]
    assert told == [(45.0, pytest.approx(19.05), 4.0), (200.0, pytest.approx(19.05), 4.0)]
