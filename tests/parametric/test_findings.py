"""Each check passes on the example set and fails when one size is made wrong."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from parametric.findings.check_set import check_set
from parametric.findings.finding import Finding, Severity
from parametric.hand import Hand
from parametric.machining import machining
from parametric.origin import Origin
from parametric.room_set import build_set
from parametric.sizes import Construction, SetSizes
from tests.example_set import CONSTRUCTION, INCH, NO_8_THIN, ROUTING, TRIM_MM, set_sizes

Change = Callable[[SetSizes, Construction], tuple[SetSizes, Construction]]


def findings(sizes: SetSizes, construction: Construction) -> tuple[Finding, ...]:
    room_set = build_set(sizes, Hand.RIGHT, construction, ROUTING, TRIM_MM)
    worked = machining(room_set.assembly, ROUTING)
    return check_set(room_set, worked, ROUTING, TRIM_MM)


def amiss(found: tuple[Finding, ...]) -> dict[str, Severity]:
    return {f.code: f.severity for f in found if f.severity is not Severity.OK}


def longer(mm: float) -> Change:
    screw = replace(NO_8_THIN, length_mm=NO_8_THIN.length_mm + mm)
    return lambda sizes, made: (sizes, replace(made, screw_cleat_thin=screw))


def leg(mm: float) -> Change:
    def change(sizes: SetSizes, made: Construction) -> tuple[SetSizes, Construction]:
        return sizes, replace(made, leg=replace(made.leg, height_mm=made.leg.height_mm + mm))

    return change


def leg_plate(mm: float) -> Change:
    def change(sizes: SetSizes, made: Construction) -> tuple[SetSizes, Construction]:
        return sizes, replace(made, leg=replace(made.leg, plate_thickness_mm=mm))

    return change


def bench_overhang(mm: float) -> Change:
    def change(sizes: SetSizes, made: Construction) -> tuple[SetSizes, Construction]:
        assert sizes.bench is not None
        return replace(sizes, bench=replace(sizes.bench, overhang_mm=mm)), made

    return change


def table_width(mm: float) -> Change:
    def change(sizes: SetSizes, made: Construction) -> tuple[SetSizes, Construction]:
        assert sizes.table is not None
        return replace(sizes, table=replace(sizes.table, width_mm=mm)), made

    return change


def bed(**values: float) -> Change:
    def change(sizes: SetSizes, made: Construction) -> tuple[SetSizes, Construction]:
        assert sizes.bed is not None
        return replace(sizes, bed=replace(sizes.bed, **values)), made

    return change


def angle_bearing(mm: float) -> Change:
    def change(sizes: SetSizes, made: Construction) -> tuple[SetSizes, Construction]:
        assert sizes.angle is not None
        return replace(sizes, angle=replace(sizes.angle, bearing_mm=mm)), made

    return change


def angle_clearance(mm: float) -> Change:
    return lambda sizes, made: (sizes, replace(made, angle_clearance_mm=mm))


def wall_screw(mm: float) -> Change:
    def change(sizes: SetSizes, made: Construction) -> tuple[SetSizes, Construction]:
        return sizes, replace(made, screw_wall=replace(made.screw_wall, length_mm=mm))

    return change


def base_height(mm: float) -> Change:
    def change(sizes: SetSizes, made: Construction) -> tuple[SetSizes, Construction]:
        legs = replace(made.leg, height_mm=mm)
        return replace(sizes, base_height_mm=mm), replace(made, leg=legs)

    return change


def test_the_example_is_well() -> None:
    found = findings(set_sizes(), CONSTRUCTION)
    assert amiss(found) == {}
    assert len({finding.code for finding in found}) == 28


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
        (bench_overhang(24.0), {"hole-edge": Severity.WARN}),
        (bench_overhang(8.0), {"hole-edge": Severity.FAIL, "cuts-apart": Severity.WARN}),
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
        (wall_screw(40.0), {"wall-screw-reach": Severity.WARN}),
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
