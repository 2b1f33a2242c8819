"""What stands on room pages and step sheets, row by row."""

import pytest

from casewright.stages.site_content import fit_rows, kit_rows, room_page, step_sheet
from export.site.content import StepPicture
from parametric.geometry.hand import Hand
from parametric.sets.room_set import build_set
from parametric.steps.order import steps_of
from parametric.stock.lengths import Units
from tests.casewright.site_example import KIT, fit, room
from tests.example_set import CONSTRUCTION, INCH, ROUTING, TRIM_MM, set_sizes

NO_PICTURE = StepPicture(new=(), earlier=(), marks=(), callouts=())


def test_the_rows_of_a_room() -> None:
    assert list(fit_rows(fit("101"), Units.MM)) == [
        ("beyond the set", "at the seat", "12.7 mm"),
        ("scribe or filler", "at the side wall, in front", "2 mm"),
        ("shim", "upper row, second screw", "3 mm"),
        ("level up", "front left corner", "up to 4 mm"),
        ("cut the wall base away", "where boxes stand at the walls", "100 mm"),
        (
            "no wood behind the screw",
            "rail: 400 mm across, 300 mm up",
            "no blocking at this height",
        ),
    ]


def test_the_rows_of_a_kit() -> None:
    assert kit_rows(KIT) == (
        ("44", "4", "No. 8 screw"),
        ("310 ml", "30 ml", "adhesive"),
        ("by installer", "", "spirit level"),
    )


def test_a_refused_room_says_what_would_fit() -> None:
    refused = room_page("job", room("7", Hand.LEFT), fit("7", "too long"), KIT, "r1", Units.MM)
    assert refused.refusal == "too long. Would fit: a bench 10 mm less deep"
    assert refused.unknown == ("corner",)
    fine = room_page("job", room("7", Hand.LEFT), fit("7"), KIT, "r1", Units.MM)
    assert fine.refusal == ""


@pytest.mark.parametrize("hand", list(Hand))
def test_the_sheet_that_fixes_the_bench(hand: Hand) -> None:
    """Three screws into the head wall, four into the side wall, six tenths up 13 1/4 in; 90 mm from
    the ends of the rails, which begin 3/4 in from the corner and in it.
    """
    assembly = build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    step = next(s for s in steps_of(assembly, str) if s.title == "Fix the bench to the wall")
    sheet = step_sheet(assembly, step, NO_PICTURE, {}, Units.MM)
    assert sheet.fasteners == (("7", "No. 10 x 3 in, into the wall"),)
    assert sheet.marks == (
        ("a", "head wall rail: above the floor", f"{0.6 * 13.25 * INCH:.1f} mm"),
        ("b", "head wall rail: from the corner", "109.1 mm"),
        ("c", "head wall rail: from the corner", "203.2 mm"),
        ("d", "head wall rail: from the corner", "297.4 mm"),
        ("e", "side wall rail: from the corner", "90 mm"),
        ("f", "side wall rail: from the corner", "328.5 mm"),
        ("g", "side wall rail: from the corner", "566.9 mm"),
        ("h", "side wall rail: from the corner", "805.4 mm"),
    )


def test_the_parts_of_a_step_are_counted_by_number() -> None:
    assembly = build_set(set_sizes(), Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    step = next(s for s in steps_of(assembly, str) if "wall plates" in s.title)
    numbers = dict.fromkeys(step.parts, "wall plate")
    sheet = step_sheet(assembly, step, NO_PICTURE, numbers, Units.MM)
    assert sheet.parts == (("3", "wall plate", "wall panel plate 1 and 2 more like it"),)
    assert sheet.fasteners == (("6", "No. 10 x 3 in, into the wall"),)
