"""Each check passes on the example set and fails when one size is made wrong."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from parametric.findings.check_set import check_set
from parametric.findings.finding import Finding, Severity
from parametric.geometry.hand import Hand
from parametric.joints.machining import machining
from parametric.sets.room_set import build_set
from parametric.stock.construction import Construction
from parametric.stock.hardware import Head
from parametric.stock.origin import Origin
from tests.example_set import CONSTRUCTION, INCH, NO_8_THIN, ROUTING, TRIM_MM, set_sizes
from tests.row import Row

Change = Callable[[Row, Construction], tuple[Row, Construction]]


def findings(sizes: Row, construction: Construction) -> tuple[Finding, ...]:
    room_set = build_set(sizes, Hand.RIGHT, construction, ROUTING, TRIM_MM)
    worked = machining(room_set.assembly, ROUTING)
    return check_set(room_set, worked, ROUTING, TRIM_MM)


def amiss(found: tuple[Finding, ...]) -> dict[str, Severity]:
    return {f.code: f.severity for f in found if f.severity is not Severity.OK}


def longer(mm: float) -> Change:
    screw = replace(NO_8_THIN, length_mm=NO_8_THIN.length_mm + mm)
    return lambda sizes, made: (sizes, replace(made, screw_cleat_thin=screw))


def leg(mm: float) -> Change:
    def change(sizes: Row, made: Construction) -> tuple[Row, Construction]:
        return sizes, replace(made, leg=replace(made.leg, height_mm=made.leg.height_mm + mm))

    return change


def leg_plate(mm: float) -> Change:
    def change(sizes: Row, made: Construction) -> tuple[Row, Construction]:
        flat = replace(made.leg.screw, head=Head.FLAT)
        sunk = replace(made.leg, plate_thickness_mm=mm, screw=flat, countersunk=True)
        return sizes, replace(made, leg=sunk)

    return change


def bench_overhang(mm: float) -> Change:
    def change(sizes: Row, made: Construction) -> tuple[Row, Construction]:
        assert sizes.bench is not None
        return replace(sizes, bench=replace(sizes.bench, overhang_mm=mm)), made

    return change


def table_width(mm: float) -> Change:
    def change(sizes: Row, made: Construction) -> tuple[Row, Construction]:
        assert sizes.table is not None
        return replace(sizes, table=replace(sizes.table, width_mm=mm)), made

    return change


def bed(**values: float) -> Change:
    def change(sizes: Row, made: Construction) -> tuple[Row, Construction]:
        assert sizes.bed is not None
        return replace(sizes, bed=replace(sizes.bed, **values)), made

    return change


def angle_bearing(mm: float) -> Change:
    def change(sizes: Row, made: Construction) -> tuple[Row, Construction]:
        assert sizes.angle is not None
        return replace(sizes, angle=replace(sizes.angle, bearing_mm=mm)), made

    return change


def flat_heads(sizes: Row, made: Construction) -> tuple[Row, Construction]:
    """The angle's screws with flat heads: its holes are plain."""
    return sizes, replace(made, screw_angle=replace(made.screw_angle, head=Head.FLAT))


def proud_heads(sizes: Row, made: Construction) -> tuple[Row, Construction]:
    """The wall plates' screws with washer heads: the panel lies on the plates."""
    plate = made.wall_plate
    proud = replace(plate, screw=replace(plate.screw, head=Head.WASHER))
    return sizes, replace(made, wall_plate=proud)


def angle_clearance(mm: float) -> Change:
    return lambda sizes, made: (sizes, replace(made, angle_clearance_mm=mm))


def wall_screw(mm: float) -> Change:
    def change(sizes: Row, made: Construction) -> tuple[Row, Construction]:
        return sizes, replace(made, screw_wall=replace(made.screw_wall, length_mm=mm))

    return change


def base_height(mm: float) -> Change:
    def change(sizes: Row, made: Construction) -> tuple[Row, Construction]:
        legs = replace(made.leg, height_mm=mm)
        return replace(sizes, base_height_mm=mm), replace(made, leg=legs)

    return change


def test_the_example_is_well() -> None:
    found = findings(set_sizes(), CONSTRUCTION)
    assert amiss(found) == {}
    assert len({finding.code for finding in found}) == 29


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        (longer(4.5), {"screw-skin": Severity.WARN}),
        (longer(6.0), {"screw-skin": Severity.FAIL}),
        (longer(-5.0), {"screw-bite": Severity.WARN}),
        (longer(-12.5), {"screw-bite": Severity.FAIL}),
        (leg_plate(4.0), {"screw-head": Severity.WARN}),
        (leg_plate(3.0), {"screw-head": Severity.FAIL}),
        (table_width(120.0), {"cuts-apart": Severity.FAIL}),
        (bench_overhang(12.0), {"hole-edge": Severity.WARN}),
        (bench_overhang(4.0), {"hole-edge": Severity.FAIL}),
        (leg(1.0), {"seat-height": Severity.FAIL}),
        (leg(-0.1), {"seat-height": Severity.FAIL}),
        (bed(leg_inset_mm=50.0), {"leg-cover": Severity.WARN}),
        (bed(leg_inset_mm=40.0), {"leg-cover": Severity.FAIL}),
        (bed(foot_overhang_mm=255.0), {"leg-clearance": Severity.WARN}),
        (bed(foot_overhang_mm=240.0), {"leg-clearance": Severity.FAIL}),
        (angle_bearing(20.0), {"angle-bearing": Severity.WARN}),
        (angle_bearing(-1.0), {"angle-bearing": Severity.FAIL}),
        (
            angle_clearance(0.5),
            {"angle-clearance": Severity.WARN, "stack-angle-slot": Severity.FAIL},
        ),
        (
            angle_clearance(0.0),
            {"angle-clearance": Severity.WARN, "stack-angle-slot": Severity.FAIL},
        ),
        (flat_heads, {"head-seat": Severity.WARN}),
        (proud_heads, {"head-seat": Severity.WARN}),
        (wall_screw(46.0), {"wall-screw-reach": Severity.WARN}),
        (wall_screw(25.0), {"wall-screw-reach": Severity.FAIL}),
        # In a box this low the deck cleats stand in front of the wall screws, and its upright
        # cleats are short.
        (
            base_height(95.0),
            {
                "notch-left-below": Severity.WARN,
                "driver-access": Severity.FAIL,
                "cleat-end": Severity.WARN,
            },
        ),
        (
            base_height(65.0),
            {
                "notch-left-below": Severity.FAIL,
                "hole-edge": Severity.WARN,
                "driver-access": Severity.FAIL,
                "cleat-end": Severity.FAIL,
                "cleat-row": Severity.WARN,
            },
        ),
    ],
)
def test_one_wrong_size(change: Change, expected: dict[str, Severity]) -> None:
    found = findings(*change(set_sizes(), CONSTRUCTION))
    assert amiss(found) == expected


# Code and end of the place: what is measured on the example, inches, by hand from its sizes.
MEASURED_IN = {
    # Length of the screw less what it goes through; wall screws are 3 in, sunk 1/8 under a cap.
    ("screw-bite", "bench/upright cleat 1 into bench/head wall rail"): 1.25 - 0.75,
    ("screw-bite", "bench/upright cleat 1 into bench/side wall rail"): 2.0 - 1.5,
    ("screw-bite", "tie/steel angle into bench/deck"): 0.75 - 0.25,
    ("screw-bite", "bed/leg 1 into bed/deck 2"): 0.625 - 0.1875,
    ("screw-skin", "bed/leg 1 into bed/deck 2"): 0.75 - 0.4375,
    ("wall-screw-reach", "bench/side wall rail"): 3 - 0.75,
    ("wall-screw-reach", "bed/head panel"): 3 - 0.75 - 0.625,
    ("wall-screw-reach", "wall panel/panel"): 3 + 0.125 - 0.9375,
    ("wall-screw-reach", "wall panel/plate 1"): 3 - 0.1875,
    # A cone of 82 degrees, (.385 - .190) / 2 / tan 41 deep for No. 10 (ASME B18.6.1), .0966 for 8.
    ("screw-head", "bench/upright cleat 1 into bench/head wall rail"): 0.75 - 0.0966,
    # Plate 3 1/2 square round 8 in from both edges; the box ends 16 in from the foot.
    ("leg-cover", "bed/leg 1"): 8 - 1.75,
    ("leg-clearance", "bed/leg 1"): 8 - 1.75,
    # Angle 2 in under 13 1/4, 8 off the wall, 6 beyond the inside of panels of 3/4; play 1/16, and
    # the bit of 3/8 overcuts each side by its radius. The bed's panel begins 5/8 off the wall.
    ("angle-bearing", "tie/steel angle in bench/side panel"): 6.75,
    ("angle-bearing", "tie/steel angle in bed/near side panel"): 6.75,
    ("notch-left-below", "tie/steel angle in bench/side panel"): 11.25 - 0.0625,  # packing
    ("notch-left-beside", "tie/steel angle in bench/side panel"): 8 - 0.0625 - 0.1875,
    ("notch-left-beside", "tie/steel angle in bed/near side panel"): 8 - 0.0625 - 0.1875 - 0.625,
    ("panel-below", "wall panel/panel"): 0.5,
    # From the head wall to the front panel, from the side wall to the side panel.
    ("driver-access", "bench/head wall rail"): 35.25 - 0.75,
    ("driver-access", "bench/side wall rail"): 15.25 - 0.75,
    # A cap of 1/2 in 25 mm over the edge, 1 mm of that is band.
    ("hole-edge", "wall panel/panel"): 24 / INCH - 0.25,
}


@pytest.mark.parametrize(("code", "place"), MEASURED_IN)
def test_what_is_measured_by_hand(code: str, place: str) -> None:
    (found,) = (
        finding
        for finding in findings(set_sizes(), CONSTRUCTION)
        if finding.code == code and finding.where.endswith(f": {place}")
    )
    assert found.measured == pytest.approx(MEASURED_IN[code, place] * INCH, abs=0.003)


def test_a_part_is_judged_as_it_is_cut_larger_by_what_is_milled_off() -> None:
    """The wall panel, 60 x 30 in and 1 mm of band all round, milled 1.5 mm: cut 0.5 mm larger on
    each side. A sheet of 121 in, 1/2 of it lost at either end, has 60 in less 1 mm to spare in
    length, 48 x 25.4 less 763 mm in width. A hole 25 mm over the edge stands 24 mm over the board's
    own edge once that is milled, less its radius.
    """
    milled = replace(ROUTING, pre_mill_mm=1.5)
    room_set = build_set(set_sizes(), Hand.RIGHT, CONSTRUCTION, milled, TRIM_MM)
    worked = machining(room_set.assembly, milled)
    found = {
        f.code: f.measured
        for f in check_set(room_set, worked, milled, TRIM_MM)
        if f.where.endswith(": wall panel/panel")
    }
    assert found["sheet-fit"] == pytest.approx(48 * INCH - (30 * INCH + 1.0))
    assert found["hole-edge"] == pytest.approx(25 - 1.0 - INCH / 4)


def test_a_board_larger_than_every_sheet() -> None:
    """A base panel has no joint to be split at."""
    small = replace(
        CONSTRUCTION.base_panel,
        stock=tuple(replace(s, length_mm=60 * INCH) for s in CONSTRUCTION.base_panel.stock),
        stock_origin=Origin(file="shop/boards.yaml", line=11, key_path="materials.oak.stock"),
    )
    found = findings(set_sizes(), replace(CONSTRUCTION, base_panel=small))
    assert amiss(found) == {"sheet-fit": Severity.FAIL}
    advice = {f.advice for f in found if f.code == "sheet-fit" and f.severity is Severity.FAIL}
    (words,) = advice
    assert "(stock is listed at boards.yaml:11: materials.oak.stock)" in words
