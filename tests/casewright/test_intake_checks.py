"""Values that are fine alone and do not go together."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from casewright.errors import InputErrors
from casewright.intake.read_job import read_job
from parametric.sets.soundness import filler_limits_mm
from tests.casewright.intake_folder import KEEPER, JobFolder, place
from tests.row import row_of

KEEPER_FILE = f"{KEEPER}.yaml"
ROUTER = "router-metric.yaml"
HARDWARE = "hardware-metric.yaml"
MATERIALS = "materials-metric.yaml"


@pytest.fixture
def folder(tmp_path: Path) -> JobFolder:
    return JobFolder(tmp_path)


def without(folder: JobFolder, *names: str) -> None:
    """Take units, ties and panels out of the keeper's set, and what is empty then."""
    path = folder.path(KEEPER_FILE)
    kept: list[str] = []
    inside = False
    for line in path.read_text(encoding="utf-8").splitlines(keepends=True):
        if re.match(r" {2,6}\w", line):
            inside = line.startswith("      ") and line.strip().rstrip(":") in names
        kept += [] if inside else [line]
    lines = [
        line
        for line, then in zip(kept, [*kept[1:], ""], strict=True)
        if not (re.match(r"    \w+:$", line) and not then.startswith("      "))
    ]
    path.write_text("".join(lines), encoding="utf-8")


@pytest.mark.parametrize(
    ("unit", "lacking"),
    [
        (
            "bench",
            {
                "head_wall.bedside table": "no steel angle under it",
                "ties.tie.through": "no unit called 'bench'",
            },
        ),
        (
            "bed",
            {
                "head_wall.bedside table": "no steel angle under it",
                "ties.tie.through": "no unit called 'bed'",
            },
        ),
        ("tie", {"head_wall.bedside table": "no steel angle under it"}),
    ],
)
def test_a_unit_without_what_carries_it_is_told(
    folder: JobFolder, unit: str, lacking: dict[str, str]
) -> None:
    without(folder, unit)
    faults = folder.faults(KEEPER)
    told = {fault.key_path.removeprefix("sets.keeper."): fault.found for fault in faults}
    assert told == lacking


def test_a_wall_panel_needs_what_it_hangs_over(folder: JobFolder) -> None:
    without(folder, "bedside table", "tie", "bed")
    panel = "    hung:\n      wall panel: {over: [bed], height: 600, gap: 10, plates: 2}\n"
    line = folder.replace(KEEPER_FILE, "    head_wall:\n", f"{panel}    head_wall:\n") + 1
    fault = folder.fault(KEEPER)
    assert place(fault) == (KEEPER_FILE, line, "sets.keeper.hung.wall panel.over")
    assert (fault.found, fault.allowed) == ("no unit called 'bed'", "units of the set: bench")


def test_a_set_of_nothing_is_told_at_its_name(folder: JobFolder) -> None:
    without(folder, "bedside table", "tie", "bed", "bench")
    assert folder.fault(KEEPER).key_path == "sets.keeper"


# File, what is replaced by what, the fault's key path, and the range or bound it allows.
MISFITS = [
    # A base box keeps its two 19 mm panels and a 40 mm cleat on each of them: 118 mm. Beside it the
    # angle is screwed up into the deck.
    (KEEPER_FILE, "overhang: 60 # heels", "overhang: 333 # ",
     "sets.keeper.head_wall.bench.overhang", "from 30 mm to 332 mm"),
    (KEEPER_FILE, "side_overhang: 120", "side_overhang: 352",
     "sets.keeper.head_wall.bed.side_overhang", "from 30 mm to 351 mm"),
    (KEEPER_FILE, "overhang: 60 # heels", "overhang: 29.9 # ",
     "sets.keeper.head_wall.bench.overhang",
     "from 30 mm to 332 mm, so that a base box remains under the deck, and room for the"),
    (KEEPER_FILE, "side_overhang: 120", "side_overhang: 29.9",
     "sets.keeper.head_wall.bed.side_overhang", "from 30 mm to 351 mm"),
    # Half of the 90 mm plate, and 1 mm to put it in place: 300 - 45 - 1.
    (KEEPER_FILE, "leg_inset: 120", "leg_inset: 255",
     "sets.keeper.head_wall.bed.leg_inset", "from 45 mm to 254 mm"),
    (KEEPER_FILE, "leg_inset: 120", "leg_inset: 44",
     "sets.keeper.head_wall.bed.leg_inset", "from 45 mm to 254 mm"),
    # Table 300 deep, angle 50 wide; bed 15 from the wall, panel 19, cleat 20, play 1.5.
    (KEEPER_FILE, "from_wall: 105", "from_wall: 251", "sets.keeper.ties.tie.from_wall",
     "from 55.5 mm to 250 mm"),
    (KEEPER_FILE, "from_wall: 105", "from_wall: 55", "sets.keeper.ties.tie.from_wall",
     "from 55.5 mm to 250 mm"),
    # Bench box 450 - 120, less two panels.
    (KEEPER_FILE, "bearing: 80 # more", "bearing: 353 # ", "sets.keeper.ties.tie.bearing",
     "from 0 mm to 352 mm"),
    (KEEPER_FILE, "corner_radius: 60", "corner_radius: 205",
     "sets.keeper.head_wall.bench.corner_radius", "from 0 mm to 204.8 mm"),
    (KEEPER_FILE, "height: 220", "height: 220\n        shelf_height: 183",
     "sets.keeper.head_wall.bedside table.shelf_height", "from 19 mm to 182 mm"),
    # Plates of 150 side by side over a bed of 820, 60 from its ends.
    (KEEPER_FILE, "    ties:\n",
     "    hung: {wall panel: {over: [bed], height: 600, gap: 10, plates: 5}}\n    ties:\n",
     "sets.keeper.hung.wall panel.plates", "at most 4, side by side over bed"),
    (KEEPER_FILE, "screw_cleat_wide: 4-0x50", "screw_cleat_wide: 4-0x30",
     "construction.screw_cleat_wide", "one longer than 40 mm, to come through cleat"),
    (KEEPER_FILE, "  cleat: spruce-cleat",
     "  cleats_made_in: site\n  boxes_made_in: shop\n  cleat: spruce-cleat",
     "construction.boxes_made_in", "'site', or 'shop' with cleats_made_in: shop"),
    (HARDWARE, "diameter: 15", "diameter: 9", "construction.cap",
     "at least the head of screw_panel (12 mm)"),
    (HARDWARE, "recess_depth: 3", "recess_depth: 9.6", "construction.cap",
     "at most half of the thinner of carcass and wall_panel (9.5 mm)"),
    (HARDWARE, "diameter: 15 #", "diameter: 30.1 #", "caps.flat-cap.diameter",
     "from 4 mm to 30 mm"),
    (HARDWARE, "countersink_angle: 90", "countersink_angle: 59.9",
     "screws.4-0x30.countersink_angle", "greater than or equal to 60"),
    (HARDWARE, "countersink_angle: 90", "countersink_angle: 121",
     "screws.4-0x30.countersink_angle", "less than or equal to 120"),
    (HARDWARE, "countersink_angle: 90", "countersink_angle: 90 deg",
     "screws.4-0x30.countersink_angle", "a number"),
    # The table's grooves: 19 mm of board, .45 mm of play; papers show tenths.
    (ROUTER, "bit_diameter: 10", "bit_diameter: 19.45", "bit_diameter",
     "at least 0.05 mm less than 19.5 mm, the width of grooves for boards of carcass"),
    (ROUTER, "bit_diameter: 10", "bit_diameter: 19.41", "bit_diameter", "less than 19.5 mm"),
    (ROUTER, "gap: 12", "gap: 9.9", "gap", "at least bit_diameter (10 mm)"),
    (HARDWARE, "major_diameter: 4.0", "major_diameter: 4.6", "screws.4-0x30.major_diameter",
     "at most clearance_diameter (4.5)"),
    (HARDWARE, "hole_spacing: 64", "hole_spacing: 90", "legs.tube-leg.hole_spacing",
     "less than plate (90)"),
    (HARDWARE, "thickness: 6", "thickness: 25", "angles.l50x50x6.thickness",
     "less than half of leg (50)"),
    (MATERIALS, "thickness: 20", "thickness: 41", "bars.spruce-cleat.thickness",
     "at most width (40)"),
    (MATERIALS, "{plus_minus: 0.3, source", "{plus_minus: 5.1, source",
     "materials.ash-one-face.thickness_tolerance.plus_minus", "a length from 0 mm to 5 mm"),
    (MATERIALS, "{plus_minus: 0.3, source", "{plus_minus: -0.3, source",
     "materials.ash-one-face.thickness_tolerance.plus_minus", "not negative"),
    (MATERIALS, '{plus_minus: 0.3, source: "EN 14322, from memory"}', "{plus_minus: 0.3}",
     "materials.ash-one-face.thickness_tolerance.source", "(must be given)"),
    (MATERIALS, '{plus_minus: 0.3, source: "EN 14322, from memory"}', "0.3",
     "materials.ash-one-face.thickness_tolerance", "a map of keys"),
    (HARDWARE, "leg_tolerance", "leg_tolerence", "angles.l50x50x6.leg_tolerence",
     "nearest: leg_tolerance"),
    (ROUTER, "  groove: {plus_minus", "  groves: {plus_minus", "tolerances.groves",
     "nearest: groove"),
]  # fmt: skip


@pytest.mark.parametrize(("file", "old", "new", "key_path", "allowed"), MISFITS)
def test_a_misfit_is_told_where_it_can_be_put_right(
    folder: JobFolder, file: str, old: str, new: str, key_path: str, allowed: str
) -> None:
    folder.replace(file, old, new)
    (fault,) = [fault for fault in folder.faults(KEEPER) if fault.key_path == key_path]
    assert allowed in fault.allowed


# Limits that another unit sets than in the keeper's job: what is replaced, the key, the range.
BED, BENCH = "deck_length: 1920", "deck_depth: 600"
OTHER_LIMITS = [
    # The bed's box, 820 - 2 x 120, less two panels; the bench's would leave 802.
    ({"deck_width: 450": "deck_width: 900", "bearing: 80 # more": "bearing: 543 # "},
     "ties.tie.bearing", "from 0 mm to 542 mm"),
    # Corner: panel 19, cleat 20, play 1.5; angle 50. The bench's box is 600 - 60 deep.
    ({"depth: 300": "depth: 700", "from_wall: 105": "from_wall: 450"},
     "ties.tie.from_wall", "from 55.5 mm to 449.5 mm"),
    # The bed's box ends at 1000 - 300, nearer than the bench's at 2500 - 60.
    ({"depth: 300": "depth: 900", BENCH: "deck_depth: 2500", BED: "deck_length: 1000",
      "from_wall: 105": "from_wall: 610"}, "ties.tie.from_wall", "from 55.5 mm to 609.5 mm"),
    # A box 1000 - 15 deep keeps 118 mm.
    ({BED: "deck_length: 1000", "foot_overhang: 300": "foot_overhang: 868"},
     "head_wall.bed.foot_overhang", "from 0 mm to 867 mm"),
    # A radius covers a square corner up to 1 / (1 - root 1/2) = 3.414 times the overhang, or half
    # of the deck: 60 x 3.414 on the bench. Under the bed's the leg's plate is covered too, 120 less
    # half of its 90: 75 x 3.414.
    ({"overhang: 60 # heels": "overhang: 60 # ", "corner_radius: 60": "corner_radius: 205"},
     "head_wall.bench.corner_radius", "from 0 mm to 204.8 mm"),
    ({"foot_overhang: 300": "foot_overhang: 100", "corner_radius: 40": "corner_radius: 342"},
     "head_wall.bed.corner_radius", "from 0 mm to 256 mm"),
    ({"side_overhang: 120": "side_overhang: 200", "corner_radius: 40": "corner_radius: 411"},
     "head_wall.bed.corner_radius", "from 0 mm to 256 mm"),
    # Two plates of 90 side by side under a deck of 500, 1 mm between each and the middle.
    ({"deck_width: 820": "deck_width: 500", "leg_inset: 120": "leg_inset: 205"},
     "head_wall.bed.leg_inset", "from 45 mm to 204 mm"),
]  # fmt: skip


@pytest.mark.parametrize(("replaced", "key", "allowed"), OTHER_LIMITS)
def test_the_unit_that_leaves_least_sets_the_limit(
    folder: JobFolder, replaced: dict[str, str], key: str, allowed: str
) -> None:
    for old, new in replaced.items():
        folder.replace(KEEPER_FILE, old, new)
    told = [f for f in folder.faults(KEEPER) if f.key_path == f"sets.keeper.{key}"]
    assert any(allowed in fault.allowed for fault in told), told


def test_how_low_a_wall_panel_may_be(folder: JobFolder) -> None:
    """75 mm from its top to the plate, 150 of plate, 25 on either side of the screws."""
    panel = "    hung: {wall panel: {over: [bed], height: 274, gap: 10, plates: 2}}\n"
    folder.replace(KEEPER_FILE, "    ties:\n", f"{panel}    ties:\n")
    folder.replace(HARDWARE, "height: 50\n", "height: 150\n")
    fault = folder.fault(KEEPER)
    assert fault.key_path == "sets.keeper.hung.wall panel.height"
    assert fault.allowed.startswith("at least 275 mm")


def test_how_narrow_a_bench_may_be_made(folder: JobFolder) -> None:
    """The angle ends inside its box: 160 of bearing, two panels of 19, 120 of overhang; without the
    angle the box keeps two panels and two cleats of 40.
    """
    folder.replace(KEEPER_FILE, "bearing: 80 # more", "bearing: 160 # ")
    folder.replace(KEEPER_FILE, "overhang: 60 # heels", "overhang: 190 # ")
    job = read_job(folder.path(KEEPER_FILE))
    (sizes,) = job.sets
    assert filler_limits_mm(sizes, job.construction) == (388.0, 1500.0)
    alone = replace(row_of(sizes), angle=None, table=None)
    assert filler_limits_mm(alone.composed, job.construction) == (308.0, 1500.0)


def test_a_bit_must_pass_the_grooves_of_wall_plates_too(folder: JobFolder) -> None:
    # 5 mm of lip, 6 mm to lift the panel on.
    panel = "    hung: {wall panel: {over: [bed], height: 600, gap: 10, plates: 2}}\n"
    folder.replace(KEEPER_FILE, "    ties:\n", f"{panel}    ties:\n")
    line = folder.replace(ROUTER, "bit_diameter: 10", "bit_diameter: 11")
    fault = folder.fault(KEEPER)
    assert place(fault) == (ROUTER, line, "bit_diameter")
    assert "less than 11 mm, the width of grooves for the lip of wall_plate" in fault.allowed


def test_a_bit_that_just_passes_its_grooves_is_read(folder: JobFolder) -> None:
    folder.replace(ROUTER, "bit_diameter: 10", "bit_diameter: 19.3")
    folder.replace(ROUTER, "gap: 12", "gap: 20")
    assert told_keys(folder) == set()


def test_a_set_without_grooves_takes_any_bit(folder: JobFolder) -> None:
    without(folder, "bedside table", "tie")
    folder.replace(ROUTER, "bit_diameter: 10", "bit_diameter: 25")
    folder.replace(ROUTER, "gap: 12", "gap: 25")
    assert told_keys(folder) == set()


def test_overhangs_may_be_small_where_no_angle_is_screwed_up(folder: JobFolder) -> None:
    without(folder, "bedside table", "tie")
    folder.replace(KEEPER_FILE, "side_overhang: 120", "side_overhang: 20")
    folder.replace(KEEPER_FILE, "overhang: 60 # heels", "overhang: 20 # ")
    folder.replace(KEEPER_FILE, "corner_radius: 60", "corner_radius: 20")
    assert told_keys(folder) == set()


def test_a_band_must_be_thinner_than_the_boards(folder: JobFolder) -> None:
    folder.replace(MATERIALS, "    thickness: 1\n", "    thickness: 8\n")
    folder.replace(MATERIALS, "    thickness: 19\n", "    thickness: 8\n")
    told = {fault.key_path: fault for fault in folder.faults(KEEPER)}
    assert told["construction.band"].allowed == "less than the boards it is on (8 mm)"


def test_a_screw_may_be_as_short_as_gets_through(folder: JobFolder) -> None:
    folder.replace(KEEPER_FILE, "screw_angle: 5-0x20", "screw_angle: 5-0x16")
    assert told_keys(folder) == set()


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("overhang: 60 # heels", "overhang: 332 # "),
        ("overhang: 60 # heels", "overhang: 30 # "),
        ("side_overhang: 120", "side_overhang: 30"),
        ("leg_inset: 120", "leg_inset: 254"),
        ("from_wall: 105", "from_wall: 250"),
        ("from_wall: 105", "from_wall: 55.5"),
        ("bearing: 80 # more", "bearing: 292 # "),
        ("corner_radius: 60", "corner_radius: 204"),
    ],
)
def test_the_limit_that_is_told_is_itself_allowed(folder: JobFolder, old: str, new: str) -> None:
    folder.replace(KEEPER_FILE, old, new)
    assert new.split(":", maxsplit=1)[0] not in told_keys(folder)


def told_keys(folder: JobFolder) -> set[str]:
    """Return the last keys of all faults, none if the job can be read."""
    try:
        read_job(folder.path(KEEPER_FILE))
    except InputErrors as told:
        return {fault.key_path.split(".")[-1] for fault in told.faults}
    return set()


LAYERS = [
    ("groove: DEEP", "layer_names.groove", "{depth} once"),
    ('bore: "D{diameter}"', "layer_names.bore", "{diameter} and {depth} once"),
    ('bore_through: "HOLE {diameter}"', "layer_names.bore_through", "letters, digits"),
    ("text: outline", "layer_names.text", "no other operation"),
    (f"opening: {'O' * 32}", "layer_names.opening", "at most 31 characters"),
    ('groove: "GROOVES-BLIND-DEPTH-{depth}"', "layer_names.groove", "(this: 32)"),
    ("grove: X", "layer_names.grove", "nearest: groove"),
]


@pytest.mark.parametrize(("names", "key_path", "allowed"), LAYERS)
def test_layer_names_are_checked_one_by_one(
    folder: JobFolder, names: str, key_path: str, allowed: str
) -> None:
    line = folder.replace(ROUTER, "\nname:", f"\nlayer_names:\n  {names}\nname:") + 2
    fault = folder.fault(KEEPER)
    assert place(fault) == (ROUTER, line, key_path)
    assert allowed in fault.allowed


# Two names that numbers could make the same, in a machine file; the second of them is told.
CLASHES = [
    ("groove", "CUT-{depth}", "bore_through", "cut-{diameter}"),
    ("outline", "CUT-5", "groove", "CUT-{depth}"),
    ("groove", "CUT-{depth}", "text", "cut-5_5"),
    ("groove", "CUT-{depth}", "bore", "CUT-{diameter}_{depth}"),
    # A groove from the back face: CUT-5-BACK.
    ("groove", "CUT-{depth}", "bore_through", "CUT-{diameter}-BACK"),
    ("groove", "CUT-{depth}", "text", "CUT-5-BACK"),
]


@pytest.mark.parametrize(("first", "name", "second", "other"), CLASHES)
def test_layer_names_that_numbers_make_the_same_are_told(
    folder: JobFolder, first: str, name: str, second: str, other: str
) -> None:
    names = f'  {first}: "{name}"\n  {second}: "{other}"\n'
    line = folder.replace(ROUTER, "\nname:", f"\nlayer_names:\n{names}name:") + 3
    fault = folder.fault(KEEPER)
    assert place(fault) == (ROUTER, line, f"layer_names.{second}")
    assert fault.allowed == f"a name that {first} cannot have, whatever numbers are filled in"


@pytest.mark.parametrize(
    "bore", ["B{diameter}{depth}", "B{diameter}_{depth}", "B{depth}0{diameter}"]
)
def test_the_two_numbers_of_a_bore_must_be_told_apart(folder: JobFolder, bore: str) -> None:
    folder.replace(ROUTER, "\nname:", f'\nlayer_names:\n  bore: "{bore}"\nname:')
    fault = folder.fault(KEEPER)
    assert fault.key_path == "layer_names.bore"
    assert fault.allowed == "a name with a letter or '-' between its two numbers"


def test_layer_names_that_share_a_beginning_are_read(folder: JobFolder) -> None:
    names = '  groove: "CUT-{depth}"\n  bore_through: "CUT-D{diameter}"\n  text: "CUT-5-TEXT"\n'
    folder.replace(ROUTER, "\nname:", f"\nlayer_names:\n{names}name:")
    assert told_keys(folder) == set()
