"""Widths of bench for measured openings: the command as a person meets it, and its figures.

The keeper's set is 450 + 2 + 300 + 2 + 820 = 1574 mm wide. What may stay beside it is 3 to 50 mm
(common practice, no source).
"""

import csv
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import assume, given

from casewright.commands.openings_command import TABLE, choice_table, show_opening_sizes
from casewright.errors import OptionErrors
from casewright.intake.read_job import read_job
from casewright.intake.set_checks import set_misfits
from casewright.job import Job
from casewright.progress import Progress
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.nest.nest_stage import Nest, NestGroup
from casewright.stages.nested.nest_run import nest_all
from casewright.stages.openings.opening_sheets import SheetCount, by_material, job_sheets
from casewright.stages.openings.openings_stage import NO_FILLER, openings_of, with_decks
from casewright.stages.sets.set_stage import model_sets
from export.manifest import listed_files
from export.tables.opening_sizes_table import opening_sizes_csv
from nesting.answer.solution import BoundKind, Layout, Solution, StopReason
from nesting.question.instance import Instance
from nesting.question.settings import Effort
from nesting.question.sheet_rules import SheetRules, Trim
from parametric.lists.face_up import FaceUp
from parametric.rooms.opening_choices import ChoiceKind, size_choices
from parametric.rooms.opening_sizes import CountedChoice, JobSheets, MaterialSheets, OpeningSizes
from parametric.sets.composition import with_size
from parametric.sets.soundness import filler_limits_mm
from parametric.stock.lengths import Units
from parametric.units.family import least_box_mm
from tests import strategies
from tests.casewright.build_fixtures import CONFIGS
from tests.casewright.table_cells import cells_of
from tests.casewright.test_cli import copied, run
from tests.example_set import CONSTRUCTION, set_sizes
from tests.export.sample_parts import LAMINATED
from tests.row import Row, row_of

QUICK = NestSettings(effort=Effort.QUICK)
HEADER = "room,set,hand,opening_at_floor,opening_at_seat\n"
# Beside 450: 16, 46 and 86 mm. Nobody measured the fourth and the seat of the fifth.
SCHEDULE = HEADER + (
    "1,keeper,left,1600,1590\n"
    "2,keeper,right,1650,1620\n"
    "3,keeper,left,1700,1660\n"
    "4,keeper,left,,\n"
    "5,keeper,left,1600,\n"
)


def job_file(tmp_path: Path, schedule: str, *changes: tuple[str, str]) -> Path:
    path = copied(tmp_path, *changes)
    (tmp_path / "keepers-room-rooms.csv").write_text(schedule)
    return path


def job_with(tmp_path: Path, schedule: str, *changes: tuple[str, str]) -> Job:
    return read_job(job_file(tmp_path, schedule, *changes))


def told(job: Job, set_name: str | None = None) -> str:
    with pytest.raises(OptionErrors) as caught:
        openings_of(job, set_name)
    return str(caught.value)


def test_the_whole_command(tmp_path: Path) -> None:
    """By hand: 463 leaves 3 in room 1 and 33 in room 2; 533 leaves 3 in room 3; see
    test_opening_choices. Room 3 has 73 left with 463.
    """
    job, out = job_file(tmp_path, SCHEDULE), tmp_path / "out"
    done = run("openings", job, "--effort", "quick", "--out", out)
    assert done.returncode == 0, done.stderr
    for word in ("one size fewer", "fewest sizes", "one size more", "quick effort", "463 mm"):
        assert word in done.stdout, word
    assert sorted(listed_files((out / "manifest.json").read_bytes()) or ()) == [TABLE]
    rows = list(csv.DictReader((out / TABLE).read_text().splitlines()))
    shown = (
        "choice",
        "sizes",
        "bench_decks",
        "rooms_filled",
        "rooms_not_filled",
        "filler_in_all",
        "widest_filler",
        "why_not",
    )
    assert [tuple(row[name] for name in shown) for row in rows] == [
        ("as it is", "1", "450 mm: 1, 2", "2", "3 (86 mm left)", "62 mm", "46 mm", ""),
        ("one size fewer", "1", "463 mm: 1, 2", "2", "3 (73 mm left)", "36 mm", "33 mm", ""),
        ("fewest sizes", "2", "463 mm: 1, 2; 533 mm: 3", "3", "", "39 mm", "33 mm", ""),
        ("one size more", "3", "463 mm: 1; 493 mm: 2; 533 mm: 3", "3", "", "9 mm", "3 mm", ""),
        ("left out", "", "", "", "4, 5", "", "", "no opening measured at the seat or at the panel"),
    ]
    for row in rows[:4]:
        assert int(row["sheets"]) - int(row["sheets_more"]) == int(rows[0]["sheets"])
        assert float(row["cost_at_least"]) <= float(row["cost"])


def test_sheets_are_those_of_the_job_written_out(tmp_path: Path) -> None:
    """The fewest sizes put into the job as sets, by hand, and nested as a build nests them."""
    job = job_with(tmp_path, SCHEDULE)
    (openings,) = openings_of(job, None)
    (fewest,) = (e for e in size_choices(openings) if e.kind is ChoiceKind.FEWEST)
    sheets = job_sheets(SheetCount(job, QUICK, Progress()), ((openings, fewest),))
    (keeper,) = job.sets
    sets = [keeper]
    for deck_mm in (463.0, 533.0):
        wider = with_size(keeper, ("head_wall", "bench", "deck_width"), deck_mm)
        sets.append(replace(wider, name=f"keeper {deck_mm:g}"))
    named = ("keeper 463", "keeper 463", "keeper 533", "keeper", "keeper")
    rooms = [replace(r, set_name=name) for r, name in zip(job.rooms, named, strict=True)]
    cut_list = model_sets(replace(job, sets=tuple(sets), rooms=tuple(rooms)), Progress()).cut_list
    nests = nest_all(cut_list, job.machine, QUICK, Progress())
    assert [each.sheets for each in by_material((*nests, *nests))] == [
        2 * each.sheets for each in sheets.materials
    ]
    assert JobSheets(materials=by_material((*nests, *nests))).cost == pytest.approx(2 * sheets.cost)
    assert sheets.sheets == sum(nest.solution.sheets for nest in nests)
    assert sheets.cost == pytest.approx(sum(nest.solution.price for nest in nests))


def test_both_ways_in_which_sheets_of_a_material_lie_are_counted_together() -> None:
    """By hand: two sheets for 40 and three for 75, of which 35 and 60 are proven, are five for 115
    and 95; the other material stands by itself, and in its place.
    """

    def nest(material: str, count: int, price: float, bound: float) -> Nest:
        layout = Layout(stock="board 2440", placements=(), runs=count)
        solution = Solution(
            layouts=(layout,),
            lower_bound=count,
            bound_kind=BoundKind.AREA,
            price=price,
            price_bound=bound,
            price_bound_kind=BoundKind.AREA,
            stop=StopReason.WORK,
            seed=1,
        )
        group = NestGroup(
            material=replace(LAMINATED, key=material), face_up=FaceUp.EITHER, parts=()
        )
        instance = Instance(pieces=(), stocks=(), rules=SheetRules(trim=Trim.even(0), gap=0))
        return Nest(group=group, instance=instance, solution=solution)

    nests = nest("oak", 2, 40.0, 35.0), nest("ash", 1, 9.5, 9.0), nest("oak", 3, 75.0, 60.0)
    assert by_material(nests) == (
        MaterialSheets(material="oak", sheets=5, cost=115.0, cost_bound=95.0),
        MaterialSheets(material="ash", sheets=1, cost=9.5, cost_bound=9.0),
    )
    assert by_material(()) == ()


def test_a_choice_for_which_the_sheets_do_not_suffice_says_so(tmp_path: Path) -> None:
    """Rooms 2 m wider than their set, and as many sheets on hand as the job takes as it is."""
    schedule = HEADER + "".join(f"{n},keeper,left,,2600\n" for n in range(1, 5))
    job = job_with(tmp_path, schedule)
    as_it_is = SheetCount(job, QUICK, Progress()).of({})
    ash = next(each for each in as_it_is if each.material == "ash-one-face")
    materials = tmp_path / "materials-metric.yaml"
    on_hand = f"price: 118.00, on_hand: {ash.sheets}}}"
    materials.write_text(materials.read_text().replace("price: 118.00}", on_hand))
    scarce = read_job(tmp_path / "keepers-room.yaml")
    (openings,) = openings_of(scarce, None)
    fewest = next(e for e in size_choices(openings) if e.kind is ChoiceKind.FEWEST)
    count = SheetCount(scarce, QUICK, Progress())
    assert count.of({}) == as_it_is
    sheets = job_sheets(count, ((openings, fewest),))
    assert (sheets.materials, sheets.sheets) == ((), 0)
    assert "materials.ash-one-face.stock" in sheets.why_not


def test_a_set_that_no_room_has(tmp_path: Path) -> None:
    words = told(job_with(tmp_path, SCHEDULE), "keper")
    assert "--set: found keper; allowed:" in words
    assert "keeper" in words


def test_a_set_that_ends_free_of_the_wall_is_told_that_it_may(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """The demo's room is 264 mm wider than its set; what sheets cost is of no matter here."""
    job = read_job(CONFIGS / "keepers-room.yaml")
    sets, sheets = openings_of(job, None), JobSheets(materials=())
    choices = tuple(
        CountedChoice(openings=sets[0], choice=choice, sheets=sheets)
        for choice in size_choices(sets[0])
    )
    found = OpeningSizes(sets=sets, as_it_is=sheets, choices=choices, all_fewest=None)
    show_opening_sizes(found, job, "quick")
    shown = " ".join(capsys.readouterr().out.split())
    assert "as it is, not filled: keeper (264 mm left)" in shown
    assert "a set that is meant to end free of the wall needs no other width" in shown


def priced(sheets: int, cost: float, cost_bound: float) -> JobSheets:
    ash = MaterialSheets(material="ash", sheets=sheets, cost=cost, cost_bound=cost_bound)
    return JobSheets(materials=(ash,))


def test_what_is_shown_line_by_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Decks and fillers by hand as of the whole command; what sheets cost is made up here.

    Of 1000.00 a better nest could save 100.00 and of 880.50 44.00: a tenth is the most.
    """
    monkeypatch.setenv("COLUMNS", "400")
    job = job_with(tmp_path, SCHEDULE)
    (openings,) = openings_of(job, None)
    sheets = (
        priced(10, 1000.0, 900.0),
        priced(9, 880.5, 836.5),
        priced(10, 1000.0, 900.0),
        JobSheets(materials=(), why_not="boards.yaml:3: 2 x full on hand"),
    )
    choices = tuple(
        CountedChoice(openings=openings, choice=choice, sheets=counted)
        for choice, counted in zip(size_choices(openings), sheets, strict=True)
    )
    found = OpeningSizes(
        sets=(openings,), as_it_is=sheets[0], choices=choices, all_fewest=priced(12, 1100.25, 1e3)
    )
    show_opening_sizes(found, replace(job, name="North wing"), "quick")
    lines = capsys.readouterr().out.splitlines()
    assert lines[:3] == [
        "North wing: widths of the bench's deck with which sets fill their measured openings",
        "",
        "keeper, its deck 450 mm wide: 3 rooms to fill",
    ]
    assert cells_of(lines[3:12]) == [
        ["", "", "", "not", "", "", "", ""],
        ["choice", "deck", "rooms", "filled", "filler", "widest", "sheets", "EUR"],
        ["as it is", "450 mm", "2", "1", "62 mm", "46 mm", "10", "1000.00"],
        ["one size fewer", "463 mm", "2", "1", "36 mm", "33 mm", "-1", "-119.50"],
        ["fewest sizes", "463 mm", "2", "0", "39 mm", "33 mm", "+0", "+0.00"],
        ["", "533 mm", "1", "", "", "", "", ""],
        ["one size more", "463 mm", "1", "0", "9 mm", "3 mm", "not cut", ""],
        ["", "493 mm", "1", "", "", "", "", ""],
        ["", "533 mm", "1", "", "", "", "", ""],
    ]
    assert lines[12:] == [
        "  as it is, not filled: 3 (86 mm left)",
        "  one size fewer, not filled: 3 (73 mm left)",
        "  one size more, not cut: boards.yaml:3: 2 x full on hand",
        "  left out: 4, 5 (no opening measured at the seat or at the panel)",
        "",
        "The fewest sizes of every set: +2 sheets, +100.25 EUR",
        "Sheets and cost are those of the whole job, nested with quick effort: first as it is, "
        "then what is more with each choice. A room that a choice does not fill counts with the "
        "nearest of its widths. No search can lower any of these costs by more than 10.0 %.",
        "The widths that you take go into the job file as sets of their own: check the job again.",
    ]
    rows = list(csv.DictReader(opening_sizes_csv(found, Units.MM).splitlines()))
    shown = ("sheets", "sheets_more", "cost", "cost_more", "cost_at_least", "sheets_by_material")
    assert [tuple(row[name] for name in shown) for row in rows] == [
        ("10", "0", "1000.00", "0.00", "900.00", "ash: 10"),
        ("9", "-1", "880.50", "-119.50", "836.50", "ash: 9"),
        ("10", "0", "1000.00", "0.00", "900.00", "ash: 10"),
        ("",) * 6,
        ("",) * 6,
        ("12", "2", "1100.25", "100.25", "1000.00", "ash: 12"),
    ]
    assert [row["choice"] for row in rows][3:] == ["one size more", "left out", "fewest sizes"]
    assert [row["why_not"] for row in rows][3:] == [
        "boards.yaml:3: 2 x full on hand",
        "no opening measured at the seat or at the panel",
        "",
    ]
    not_cut = replace(found, all_fewest=replace(sheets[3]))
    show_opening_sizes(not_cut, job, "quick")
    assert (
        "The fewest sizes of every set, not cut: boards.yaml:3: 2 x full on hand"
        in capsys.readouterr().out.splitlines()
    )


def test_each_choice_has_a_whole_row(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Filler by hand, as in the whole command; three sheets at 40 cost 120, five at 40 are two and
    80 more, two at 40 one and 40 less.
    """
    monkeypatch.setenv("COLUMNS", "200")
    job = job_with(tmp_path, SCHEDULE)
    (openings,) = openings_of(job, None)

    def sheets(count: int) -> JobSheets:
        cost = 40.0 * count
        return JobSheets(
            materials=(MaterialSheets(material="ash", sheets=count, cost=cost, cost_bound=cost),)
        )

    counts = sheets(3), sheets(5), sheets(2), JobSheets(materials=(), why_not="too few sheets")
    choices = tuple(
        CountedChoice(openings=openings, choice=choice, sheets=each)
        for choice, each in zip(size_choices(openings), counts, strict=True)
    )
    choice_table(choices, counts[0], job).tell()
    assert [" ".join(line.split()) for line in capsys.readouterr().out.splitlines()] == [
        "not",
        "choice deck rooms filled filler widest sheets EUR",
        "as it is 450 mm 2 1 62 mm 46 mm 3 120.00",
        "one size fewer 463 mm 2 1 36 mm 33 mm +2 +80.00",
        "fewest sizes 463 mm 2 0 39 mm 33 mm -1 -40.00",
        "533 mm 1",
        "one size more 463 mm 1 0 9 mm 3 mm not cut",
        "493 mm 1",
        "533 mm 1",
    ]


def test_a_schedule_without_openings(tmp_path: Path) -> None:
    words = told(job_with(tmp_path, HEADER + "1,keeper,left,1600,\n"))
    assert "no opening measured at the seat or at the panel" in words
    assert "opening_at_seat" in words


def test_an_overhang_leaves_the_base_box_of_a_bed_its_least_width() -> None:
    """Rule: what the overhangs on both sides leave of the deck's width is the box."""
    sizes = set_sizes()
    assert sizes.bed is not None
    least_mm = least_box_mm(CONSTRUCTION)
    for beyond_mm, misfits in ((0.0, []), (0.01, [("head_wall", "bed", "side_overhang")])):
        overhang_mm = (sizes.bed.deck_width_mm - least_mm) / 2 + beyond_mm
        bed = replace(sizes.bed, side_overhang_mm=overhang_mm, corner_radius_mm=0.0)
        found = set_misfits(replace(sizes, bed=bed), CONSTRUCTION, Units.MM)
        assert [each.keys for each in found if "side_overhang" in each.keys] == misfits


def test_a_job_without_rooms(tmp_path: Path) -> None:
    words = told(replace(job_with(tmp_path, SCHEDULE), rooms=()))
    assert "JOB: found no room whose opening a set could fill: no rooms; allowed: " in words


def test_where_no_opening_can_be_filled_the_first_reason_is_told(tmp_path: Path) -> None:
    """The reason of the first room, and how many others there are: a deck cannot be 18 m wide."""
    start = "JOB: found no room whose opening a set could fill: "
    unmeasured = "no opening measured at the seat or at the panel"
    job = job_with(tmp_path, HEADER + "1,keeper,left,,\n2,keeper,left,,20000\n")
    assert told(job).startswith(f"{start}{unmeasured} (and 1 more reasons); allowed: a schedule")
    alone = replace(job, rooms=job.rooms[:1])
    assert told(alone).startswith(f"{start}{unmeasured}; allowed: a schedule")
    assert told(replace(job, rooms=())).startswith(f"{start}no rooms; allowed: a schedule")


def test_a_set_without_a_bench(tmp_path: Path) -> None:
    job = job_with(tmp_path, SCHEDULE)
    bare = replace(row_of(job.sets[0]), bench=None, table=None, angle=None)
    assert NO_FILLER in told(replace(job, sets=(bare,)))


def test_hundreds_of_rooms_of_the_demo() -> None:
    """Every room of the demo ten times, each a little wider: all are served, none twice."""
    job = read_job(CONFIGS / "avalanche-centre.yaml")
    rooms = []
    for more in range(10):
        for room in job.rooms:
            seat = room.measured.opening_at_seat_mm
            wider = None if seat is None else seat + 13.0 * more
            measured = replace(room.measured, opening_at_seat_mm=wider, opening_at_panel_mm=None)
            rooms.append(replace(room, number=f"{room.number}-{more}", measured=measured))
    for openings in openings_of(replace(job, rooms=tuple(rooms)), None):
        (fewest,) = (e for e in size_choices(openings) if e.kind is ChoiceKind.FEWEST)
        assert fewest.grouping.unserved == ()
        assert len(fewest.grouping.groups) > 1
        served = [place for group in fewest.grouping.groups for place in group.openings]
        assert sorted(served) == list(range(len(openings.rooms)))


def test_other_decks_leave_the_rest_of_the_job_alone(tmp_path: Path) -> None:
    job = job_with(tmp_path, SCHEDULE)
    assert with_decks(job, {}) == job
    assert with_decks(job, {"1": 450.0}) == job
    wider = with_decks(job, {"1": 500.0, "3": 500.0})
    (old, new) = wider.sets
    assert old == job.sets[0]
    bench = row_of(old).bench
    assert bench is not None
    widened = replace(row_of(old), name=new.name, bench=replace(bench, deck_width_mm=500.0))
    assert new == widened.composed
    assert [room.set_name == new.name for room in wider.rooms] == [True, False, True, False, False]
    assert [replace(room, set_name="keeper") for room in wider.rooms] == list(job.rooms)


@given(strategies.set_sizes())
def test_decks_within_the_limits_make_sets_and_others_do_not(sizes: Row) -> None:
    assume(sizes.bench is not None)
    assert sizes.bench is not None

    def amiss(deck_mm: float) -> bool:
        bench = replace(sizes.bench, deck_width_mm=deck_mm)
        return any(set_misfits(replace(sizes, bench=bench), CONSTRUCTION, Units.MM))

    least_mm, most_mm = filler_limits_mm(sizes.composed, CONSTRUCTION)
    assume(not amiss(most_mm))
    assert most_mm == 1500.0
    assert not amiss(least_mm)
    assert least_mm == 300.0 or amiss(least_mm - 0.1)


def test_a_deck_is_at_least_twice_the_radius_of_its_corner() -> None:
    sizes = set_sizes()
    assert sizes.bench is not None
    bench = replace(sizes.bench, overhang_mm=100.0, corner_radius_mm=240.0)
    rounded = replace(sizes, bench=bench)
    assert not list(set_misfits(rounded, CONSTRUCTION, Units.MM))
    assert filler_limits_mm(rounded.composed, CONSTRUCTION)[0] == 480.0
