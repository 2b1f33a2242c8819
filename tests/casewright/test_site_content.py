"""What stands on room pages and step sheets, row by row."""

import pypdfium2
import pytest

from casewright.intake.read_job import read_job
from casewright.stages.sets.used_sets import placed_sets
from casewright.stages.site.bought_words import short_label
from casewright.stages.site.kit_stage import kits_of
from casewright.stages.site.site_content import (
    fit_rows,
    kit_rows,
    lettered,
    room_page,
    step_sheet,
)
from export.papers.pdf import pdf_bytes
from export.site.content import RoomPage
from export.site.rooms import rooms_source
from export.tables.rooms_table import rooms_csv
from parametric.findings.finding import Severity
from parametric.geometry.hand import Hand
from parametric.rooms.fit import fit_room
from parametric.rooms.fitting import Fitting
from parametric.rooms.measured import Measured
from parametric.rooms.room_findings import unmeasured_finding
from parametric.rooms.room_fit import RoomFit
from parametric.sets.room_set import build_set
from parametric.steps.order import steps_of
from parametric.stock.lengths import Units
from parametric.stock.paper import Paper
from tests.casewright.build_fixtures import CONFIGS
from tests.casewright.site_example import KIT, fit, room
from tests.example_set import CONSTRUCTION, INCH, ROUTING, TRIM_MM, set_sizes


def test_the_rows_of_a_room() -> None:
    assert list(fit_rows(fit("101"), Units.MM, Fitting(most_filler_mm=12.7))) == [
        ("level line", "from the highest point of the floor under the set", "floor falls 4 mm"),
        ("beyond the set", "at the seat (filler)", "13 mm"),
        ("scribe or filler", "at the side wall, in front", "2 mm"),
        ("shim", "upper row, second screw", "3 mm"),
        ("level up", "front left corner", "up to 4 mm"),
        ("cut the wall base away", "where boxes stand at the walls", "100 mm"),
        (
            "no wood behind the screw",
            "rail: 400 mm from the corner with the side wall, 300 mm up",
            "no blocking at this height",
        ),
    ]


def test_a_gap_that_no_filler_closes_stays_open() -> None:
    rows = list(fit_rows(fit("101"), Units.MM, Fitting(most_filler_mm=12.6)))
    assert ("beyond the set", "at the seat (open)", "13 mm") in rows


def test_the_rows_of_a_kit() -> None:
    assert kit_rows(KIT) == (
        ("44", "4", "No. 8 screw"),
        ("310 ml", "30 ml", "adhesive"),
        ("by installer", "", "spirit level"),
    )


def test_rows_of_a_kit_stand_in_the_order_of_their_letters() -> None:
    rows = [("", "x"), ("B", "1"), ("A1", "2"), ("A", "3"), ("Z", "4"), ("", "y")]
    assert [row[0] for row in lettered(rows)] == ["A", "B", "Z", "A1", "", ""]
    assert [row[1] for row in lettered(rows)][-2:] == ["x", "y"]


def test_a_refused_room_says_what_would_fit() -> None:
    refused = room_page(
        "job", room("7", Hand.LEFT), fit("7", "too long"), (), KIT, "", "r1", Units.MM, Fitting()
    )
    assert refused.refusal == "too long. Would fit: a bench 10 mm less deep"
    assert refused.unknown == ("corner",)
    fine = room_page(
        "job", room("7", Hand.LEFT), fit("7"), (), KIT, "60 screws", "r1", Units.MM, Fitting()
    )
    assert fine.refusal == ""


def page_of(measured: Measured, hand: Hand) -> tuple[RoomFit, RoomPage]:
    room_set = build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM)
    fit = fit_room("7", room_set, measured, (), Fitting(), Units.MM)
    steps = steps_of(room_set.assembly, str, room_set.outwards)
    return fit, room_page(
        "job", room("7", hand), fit, steps, KIT, "60 screws", "r1", Units.MM, Fitting()
    )


@pytest.mark.parametrize("hand", list(Hand))
@pytest.mark.parametrize("out", [-5.0, 5.0])
def test_distances_on_a_room_s_page_are_those_of_the_room(hand: Hand, out: float) -> None:
    """By hand: the bench's deck is 44 in deep, so that a side wall that leans in by 5 in 1000 keeps
    the bench 5.6 mm from the corner, and with it all that is butted; one that leans out, nothing.
    """
    shift_mm = 44 * INCH * 5.0 / 1000 if out < 0 else 0.0
    measured = Measured(opening_at_seat_mm=3000.0, corner_out_of_square_per_1000=out)
    fit, page = page_of(measured, hand)
    assert fit.shift_mm == pytest.approx(shift_mm)
    assert page.measured
    assert len(page.marks) == 5  # three plates, the box of the bed, the table
    for _, what, here, nominal in page.marks:
        assert "corner" in what
        for one, other in zip(here.split(", "), nominal.split(", "), strict=True):
            off = float(one.removesuffix(" mm")) - float(other.removesuffix(" mm"))
            assert off.is_integer(), "read from a tape"
            assert off == pytest.approx(shift_mm, abs=1.0), what  # half a millimetre lost in each
    # The bed's box, 5/8 in off the wall, and the panel's lower edge stand on shims in any room.
    shims = {amount: where for what, where, amount in page.facts if what == "shim"}
    assert "2 x bed head panel to the head wall" in shims["16 mm"]
    assert any("bench side wall rail to the side wall" in where for where in shims.values())


@pytest.mark.parametrize("hand", list(Hand))
def test_a_room_that_nobody_measured_says_so(hand: Hand) -> None:
    fit, page = page_of(Measured(), hand)
    assert not fit.measured
    assert not page.measured
    assert {here for _, _, here, _ in page.marks} == {"not measured"}
    finding = unmeasured_finding([fit])
    assert finding.severity is Severity.WARN
    assert finding.message == "1 of 1 room not measured: 7"
    told = rooms_csv([(hand, fit)], Fitting(), Units.MM).splitlines()
    assert told[1].split(",")[3] == "not measured"


def test_a_thick_wall_base_is_cut_where_the_bed_s_box_stands() -> None:
    """5/8 in off the wall the box clears a wall base of 5/8 in, and not one of 1 in: then its width
    between the far sides of the box, 61 - 2 x 5 in, is cut away as well.
    """
    walls = [
        page_of(Measured(wall_base_height_mm=100.0, wall_base_thickness_mm=thick * INCH), hand)[0]
        for hand in Hand
        for thick in (0.625, 1.0)
    ]
    for clear, hit in (walls[:2], walls[2:]):
        assert clear.wall_base_cut_mm is not None
        assert hit.wall_base_cut_mm is not None
        assert hit.wall_base_cut_mm > clear.wall_base_cut_mm + 500.0


@pytest.mark.parametrize("hand", list(Hand))
def test_the_sheet_that_fixes_the_bench(hand: Hand) -> None:
    """Three screws into the head wall, four into the side wall, through holes of its rails: by then
    these cover the wall, and nothing is marked on it.
    """
    assembly = build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    step = next(s for s in steps_of(assembly, str) if s.title == "Fix the bench to the wall")
    sheet = step_sheet(assembly, step, (), (), {}, {}, {"No. 10 x 3 in": "B"}, Units.MM)
    assert sheet.fasteners == (("B", "7", "No. 10 x 3 in, into the wall"),)
    assert sheet.marks == ()


def test_the_parts_of_a_step_are_counted_by_number() -> None:
    assembly = build_set(set_sizes(), Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    step = next(s for s in steps_of(assembly, str) if "wall plates" in s.title)
    article = "folded plate, 6 in"
    numbers = dict.fromkeys(step.parts, "A001")
    sheet = step_sheet(assembly, step, (), (), numbers, {}, {"No. 10 x 3 in": "A"}, Units.MM)
    assert sheet.parts == (("3", "A001", "wall panel plate 1 and 2 more like it"),)
    plates = assembly.wall_plates
    bought = dict.fromkeys(step.parts, plates[0].hardware.description)
    sheet = step_sheet(assembly, step, (), (), bought, {}, {"No. 10 x 3 in": "A"}, Units.MM)
    assert sheet.parts == (("3", "bought", plates[0].hardware.description),)
    assert short_label(article) == "folded plate"
    assert sheet.fasteners == (("A", "6", "No. 10 x 3 in, into the wall"),)


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("demo", ["keepers-room", "field-station", "survey-ship"])
def test_the_page_of_a_room_ends_with_its_kit(demo: str, paper: Paper) -> None:
    """No kit stands on a second page by itself, of every third room."""
    job = read_job(CONFIGS / f"{demo}.yaml")
    kits = {(kit.set_name, kit.hand): kit for kit in kits_of(job)}
    placed, rooms = placed_sets(job), job.rooms[::3]
    pages = []
    for each in rooms:
        room_set = placed[each.set_name, each.hand]
        steps = steps_of(room_set.assembly, lambda mm: f"{mm:.0f} mm", room_set.outwards)
        fits = fit_room(each.number, room_set, each.measured, (), job.fitting, job.units)
        kit, effort = kits[each.set_name, each.hand].kit, "50 screws, about 7 hours of work in all"
        pages.append(room_page("job", each, fits, steps, kit, effort, "r", job.units, job.fitting))
    made = pypdfium2.PdfDocument(pdf_bytes(rooms_source("job", pages, paper)))
    assert len(made) == len(rooms)
