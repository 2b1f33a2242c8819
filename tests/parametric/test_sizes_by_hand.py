"""Where everything of the example set stands, worked out by hand from its sizes.

Corner frame: x along the head wall from the corner, y out from it, z up; the same for both hands.
The rules are the design's own: `set_plan` sets units out from the corner, each butted to the one
before; `base_box`, `carcass`, `deck` and `cleat` say how boards lie in a unit. Distances along them
are common practice, no source; they stand beside the sums. Boards are 3/4 in, cleats 3/4 x 1 1/2.
"""

import pytest

from parametric.geometry.hand import Hand
from parametric.geometry.space import Box, Direction, Point
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Bonded, FixedToWall, Screwed, Seated
from parametric.joints.machining import machining
from parametric.sets.room_set import build_set
from parametric.shapes.features import Hole
from parametric.shapes.mass import mass_kg
from tests.example_set import CONSTRUCTION, INCH, ROUTING, TRIM_MM, set_sizes

Inches = tuple[float, float]
WAYS = {
    "-x": Direction.X_MINUS,
    "+x": Direction.X_PLUS,
    "-y": Direction.Y_MINUS,
    "+y": Direction.Y_PLUS,
    "-z": Direction.Z_MINUS,
    "+z": Direction.Z_PLUS,
}


def corner_frame(hand: Hand) -> Assembly:
    """The example set as its families built it: the change of signs undone."""
    built = build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM)
    return built.assembly.placed(hand.corner_to_room)


def inches(box: Box) -> list[float]:
    return [value / INCH for pair in zip(box.low, box.high, strict=True) for value in pair]


# Board: from and to in x, y, z, inches; where its front looks; its grain; its banded edges.
#
# Bench: deck 24 x 44, box 8 less: 16 x 36, 13 1/4 high. Table from 24 + 1/16, 16 x 16 x 10 3/4; its
# sides stand 12.7 mm (1/2 in) in from ends and front, housed 3/8; the shelf's underside 5 above the
# table's, 10 mm (0.394 in) behind the sides' front. Bed from 40 1/16 + 1/16, deck 60 x 80 in two
# pieces, each within a sheet of 48 in; box 8 less at either side, 16 at the foot, 5/8 off the wall.
# Its inside is 42 1/2 wide, more than 600 mm, so a bearer stands half way between head panel and
# joint, (1 3/8 + 40) / 2, and none between joint and foot panel, 23 1/4. Panel 1/2 above the deck,
# as thick as the plates, 3/16, off the wall.
SETBACK = 10 / INCH
BOARDS: dict[str, tuple[Inches, Inches, Inches, str, str, str]] = {
    "bench/head wall rail": ((0.75, 15.25), (0, 0.75), (0, 13.25), "-y", "x", ""),
    "bench/side wall rail": ((0, 0.75), (0, 35.25), (0, 13.25), "-x", "y", ""),
    "bench/side panel": ((15.25, 16), (0, 35.25), (0, 13.25), "+x", "y", ""),
    "bench/front panel": ((0, 16), (35.25, 36), (0, 13.25), "+y", "x", "+x"),
    "bench/deck": ((0, 24), (0, 44), (13.25, 14), "+z", "y", "+x +y"),
    "bedside table/bottom": ((24.0625, 40.0625), (0, 16), (13.25, 14), "-z", "x", "-x +x +y"),
    "bedside table/top": ((24.0625, 40.0625), (0, 16), (23.25, 24), "+z", "x", "-x +x +y"),
    "bedside table/side a": ((24.5625, 25.3125), (0, 15.5), (13.625, 23.625), "-x", "z", "+y"),
    "bedside table/side b": ((38.8125, 39.5625), (0, 15.5), (13.625, 23.625), "+x", "z", "+y"),
    "bedside table/back": ((24.9375, 39.1875), (0, 0.75), (13.625, 23.625), "+y", "x", ""),
    "bedside table/shelf": (
        (24.9375, 39.1875),
        (0.75, 15.5 - SETBACK),
        (18.25, 19),
        "+z",
        "x",
        "+y",
    ),
    "bed/head panel": ((48.875, 91.375), (0.625, 1.375), (0, 13.25), "-y", "x", ""),
    "bed/near side panel": ((48.125, 48.875), (0.625, 63.25), (0, 13.25), "-x", "y", ""),
    "bed/far side panel": ((91.375, 92.125), (0.625, 63.25), (0, 13.25), "+x", "y", ""),
    "bed/foot panel": ((48.125, 92.125), (63.25, 64), (0, 13.25), "+y", "x", "-x +x"),
    "bed/deck 1": ((40.125, 100.125), (0, 40), (13.25, 14), "+z", "x", "-x +x"),
    "bed/deck 2": ((40.125, 100.125), (40, 80), (13.25, 14), "+z", "x", "-x +x +y"),
    "bed/bearer 1": ((48.875, 91.375), (20.3125, 21.0625), (0, 13.25), "+y", "x", ""),
    "bed/bearer 2": ((48.875, 91.375), (39.625, 40.375), (0, 13.25), "+y", "x", ""),
    "wall panel/panel": (
        (40.125, 100.125),
        (0.1875, 0.9375),
        (14.5, 44.5),
        "+y",
        "x",
        "-x +x -z +z",
    ),
}


@pytest.mark.parametrize("hand", list(Hand))
def test_every_board_by_hand(hand: Hand) -> None:
    assembly = corner_frame(hand)
    assert {board.name for board in assembly.boards} == BOARDS.keys()
    for name, (x, y, z, front, grain, bands) in BOARDS.items():
        board = assembly.board(name)
        assert inches(board.box) == pytest.approx([*x, *y, *z], abs=1e-9), name
        assert board.facing is WAYS[front], name
        assert board.grain.name.lower() == grain, name
        assert {band.edge for band in board.bands} == {WAYS[way] for way in bands.split()}, name


# From and to in x, y, z, inches. The angle lies 6 in beyond both panels, from 8 in off the wall. An
# upright cleat ends 1 1/2 under the top, beneath the level ones; it lies flat on the panel that
# ends in its corner. Level ones leave 3/8 and the play of 1/16 free on either side of the angle.
# Plates: the first ends 60 mm from the panel's end, 75 mm under its top; lip 3/8 beyond 3/16 of
# plate. Legs 8 in from the deck's edges, no more than 400 mm apart: three gaps in 44 in.
MEMBERS: dict[str, tuple[Inches, Inches, Inches]] = {
    "tie/steel angle": ((9.25, 54.875), (8, 10), (11.25, 13.25)),
    "bench/upright cleat 1": ((0.75, 2.25), (0.75, 1.5), (0, 11.75)),
    "bench/upright cleat 2": ((0.75, 1.5), (33.75, 35.25), (0, 11.75)),
    "bench/upright cleat 3": ((13.75, 15.25), (0.75, 1.5), (0, 11.75)),
    "bench/upright cleat 4": ((14.5, 15.25), (33.75, 35.25), (0, 11.75)),
    "bench/deck cleat 1": ((0.75, 15.25), (0.75, 1.5), (11.75, 13.25)),
    "bench/deck cleat 2": ((0.75, 15.25), (34.5, 35.25), (11.75, 13.25)),
    "bench/deck cleat 3": ((0.75, 1.5), (1.5, 34.5), (11.75, 13.25)),
    "bench/deck cleat 4": ((14.5, 15.25), (1.5, 7.5625), (11.75, 13.25)),
    "bench/deck cleat 5": ((14.5, 15.25), (10.4375, 34.5), (11.75, 13.25)),
    "bed/bearer 2 deck cleat a": ((48.875, 91.375), (38.875, 39.625), (11.75, 13.25)),
    "bed/bearer 2 deck cleat b": ((48.875, 91.375), (40.375, 41.125), (11.75, 13.25)),
    "bed/bearer 2 upright cleat 1": ((48.875, 50.375), (38.875, 39.625), (0, 11.75)),
    "bed/bearer 2 upright cleat 2": ((89.875, 91.375), (38.875, 39.625), (0, 11.75)),
    "bed/leg 1": ((46.375, 49.875), (70.25, 73.75), (0, 13.25)),
    "bed/leg 2": ((61.0416667, 64.5416667), (70.25, 73.75), (0, 13.25)),
    "bed/leg 4": ((90.375, 93.875), (70.25, 73.75), (0, 13.25)),
    "wall panel/plate 1": (
        (40.125 + 60 / INCH, 46.125 + 60 / INCH),
        (0, 0.5625),
        (42.5 - 75 / INCH, 44.5 - 75 / INCH),
    ),
    "wall panel/plate 2": (
        (67.125, 73.125),
        (0, 0.5625),
        (42.5 - 75 / INCH, 44.5 - 75 / INCH),
    ),
}


@pytest.mark.parametrize("hand", list(Hand))
@pytest.mark.parametrize("name", MEMBERS)
def test_members_by_hand(name: str, hand: Hand) -> None:
    assembly = corner_frame(hand)
    x, y, z = MEMBERS[name]
    assert inches(assembly.part(name).box) == pytest.approx([*x, *y, *z], abs=1e-6)


def test_there_are_no_other_members() -> None:
    """Bench: four upright, five level. Bed: four upright, full runs at head and foot, four pieces
    beside angle and bearers on the near side, three on the far one, four at each bearer, one
    outside the foot panel.
    """
    assembly = corner_frame(Hand.RIGHT)
    cleats = [cleat.unit for cleat in assembly.cleats]
    assert (cleats.count("bench"), cleats.count("bed"), len(cleats)) == (9, 22, 31)
    assert (len(assembly.angles), len(assembly.legs), len(assembly.wall_plates)) == (1, 4, 3)


@pytest.mark.parametrize(("hand", "to_the_right"), [(Hand.RIGHT, -1), (Hand.LEFT, 1)])
def test_a_hand_is_the_side_of_the_bed_that_the_bench_is_on(hand: Hand, to_the_right: int) -> None:
    """Who faces the head wall has the room's x to the right and its y ahead, the wall at 0. Right
    hand: the corner is at the right end, and all of the set left of it; left hand: the other way.
    """
    assembly = build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    boxes = [part.box for part in (*assembly.boards, *assembly.members)]
    across = sorted(end * to_the_right for box in boxes for end in (box.low.x, box.high.x))
    # From the corner to the far edge of bed deck and panel, 24 + 16 + 60 and two gaps of 1/16.
    assert (across[0], across[-1]) == pytest.approx((0.0, 100.125 * INCH))
    assert max(box.high.y for box in boxes) == pytest.approx(0.0)
    # The bed's deck of 80 in, against the wall.
    assert min(box.low.y for box in boxes) == pytest.approx(-80 * INCH)
    assert min(box.low.z for box in boxes) == pytest.approx(0.0)
    bench, bed = assembly.board("bench/deck").box, assembly.board("bed/deck 1").box
    assert (bed.centre.x - bench.centre.x) * to_the_right > 0
    assert (hand.other is Hand.LEFT) == (hand is Hand.RIGHT)


@pytest.mark.parametrize("hand", list(Hand))
def test_a_part_belongs_to_the_unit_that_its_name_begins_with(hand: Hand) -> None:
    """What stands, tips and is carried as one is found by it."""
    assembly = corner_frame(hand)
    units = {part.name: part.unit for part in (*assembly.boards, *assembly.members)}
    assert units == {name: name.partition("/")[0] for name in units}
    assert units["bed/leg 4"] == "bed"
    assert sum(unit == "bed" for name, unit in units.items() if "/leg" in name) == 4


Heads = list[tuple[float, float, float]]
MM = INCH
PLATE_Z = (44.5 * MM - 75 - 2 * MM + 44.5 * MM - 75 - 3 / 16 * MM) / 2
RAIL_Z = 0.6 * 13.25 * MM
# Heads of screws in mm by what they go through and into.
SCREWS: dict[tuple[str, str], Heads] = {
    # Holes of the plate are 4 in apart, in the middle between its lower edge and the lip's
    # underside (plate 2 in high, 3/16 thick); heads on the plate's face.
    ("wall panel/plate 2", "wall"): [(x * MM, 3 / 16 * MM, PLATE_Z) for x in (68.125, 72.125)],
    # 100 mm from the ends, at most 800 apart: 1524 - 200 makes two gaps; 25 mm above the edge.
    ("wall panel/panel", "wall"): [
        (40.125 * MM + x, 15 / 16 * MM, 14.5 * MM + 25) for x in (100, 762, 1424)
    ],
    # 60 mm from the ends of the back, 50 below the top's underside, 23 1/4.
    ("bedside table/back", "wall"): [
        (x, 0.75 * MM, 23.25 * MM - 50) for x in (24.9375 * MM + 60, 39.1875 * MM - 60)
    ],
    # 90 mm from the ends; 188.3 left make two gaps, 715.35 make three of at most 240.
    ("bench/head wall rail", "wall"): [
        (0.75 * MM + x, 0.75 * MM, RAIL_Z) for x in (90, 184.15, 278.3)
    ],
    ("bench/side wall rail", "wall"): [(0.75 * MM, y, RAIL_Z) for y in (90, 328.45, 566.9, 805.35)],
    # In the middle of what is clear of the flat leg: (8 + 1/4 + 10) / 2; in the middle of what
    # overhangs, 16 to 24 and 40 1/8 to 48 1/8, at the quarters of the table, 24 1/16 to 40 1/16.
    # Heads under the flat leg.
    ("tie/steel angle", "bench/deck"): [(20 * MM, 9.125 * MM, 13 * MM)],
    ("tie/steel angle", "bedside table/bottom"): [
        (x * MM, 9.125 * MM, 13 * MM) for x in (28.0625, 36.0625)
    ],
    ("tie/steel angle", "bed/deck 1"): [(44.125 * MM, 9.125 * MM, 13 * MM)],
    # Four on a square of 2 1/2 in round 48 1/8, 72; under a plate of 3/16.
    ("bed/leg 1", "bed/deck 2"): [
        (x * MM, y * MM, 13.0625 * MM) for x in (46.875, 49.375) for y in (70.75, 73.25)
    ],
    # Upright, 298.45 long: 45 mm from the ends into what it lies flat on, the thirds between them,
    # 69.48 mm, into the other panel.
    ("bench/upright cleat 1", "bench/head wall rail"): [
        (1.5 * MM, 1.5 * MM, z) for z in (45, 253.45)
    ],
    ("bench/upright cleat 1", "bench/side wall rail"): [
        (2.25 * MM, 1.125 * MM, z) for z in (45 + 208.45 / 3, 45 + 2 * 208.45 / 3)
    ],
    # Level, 1079.5 long: 989.5 between the outer screws make four gaps of at most 300. The cleat
    # outside the panel is screwed on half way between these, from the panel's inside at 62 1/2, and
    # goes up into the deck half way from its ends, 60 mm inside those of the panel, to the outer
    # ones of these.
    ("bed/deck cleat 2", "bed/foot panel"): [
        (48.875 * MM + 45 + 989.5 * k / 4, 62.5 * MM, 12.5 * MM) for k in range(5)
    ],
    ("bed/foot panel", "bed/hold-down cleat"): [
        (48.875 * MM + 45 + 989.5 * (k + 0.5) / 4, 63.25 * MM, 12.5 * MM) for k in range(4)
    ],
    ("bed/hold-down cleat", "bed/deck 2"): [
        ((end + 48.875 * MM + 45 + 989.5 * share) / 2, 64.375 * MM, 11.75 * MM)
        for end, share in ((48.125 * MM + 60, 1 / 8), (92.125 * MM - 60, 7 / 8))
    ],
}


@pytest.mark.parametrize("hand", list(Hand))
@pytest.mark.parametrize(("through", "into"), SCREWS)
def test_screws_by_hand(through: str, into: str, hand: Hand) -> None:
    heads = [
        joint.head
        for joint in corner_frame(hand).joints
        if isinstance(joint, Screwed | FixedToWall)
        and joint.through == through
        and getattr(joint, "into", "wall") == into
    ]
    expected = [Point(*head) for head in SCREWS[through, into]]
    for head, place in zip(sorted(heads), sorted(expected), strict=True):
        assert head == pytest.approx(place, abs=1e-6)


@pytest.mark.parametrize(
    ("board", "diameter_in", "depth_in", "holes"),
    [
        # Screws as in table L3 (see the example); shanks of .19 pass .20, threads go into 7/8 of
        # the root. A wall screw goes right through its rail.
        ("bench/head wall rail", 0.200, None, 3),
        # Through 3/4 of cleat, 1 1/4 long, 1/2 in is left: two uprights with two screws each, a
        # level one with two. Through 1 1/2, 2 in long, from the sides: none into this board.
        ("bench/head wall rail", 0.875 * 0.131, 0.5, 6),
        # Into the side rail's face: two from each of two uprights, and along 33 in of level cleat
        # 45 mm from the ends with three gaps.
        ("bench/side wall rail", 0.200, None, 4),
        ("bench/side wall rail", 0.875 * 0.113, 0.5, 2),
        ("bench/side wall rail", 0.875 * 0.131, 0.5, 6),
        # A screw of 3/4 in through 1/4 in of steel.
        ("bench/deck", 0.875 * 0.152, 0.5, 1),
        # Three caps of 1/2 in, 1/8 deep.
        ("wall panel/panel", 0.5, 0.125, 3),
    ],
)
def test_holes_by_hand(board: str, diameter_in: float, depth_in: float | None, holes: int) -> None:
    depth = None if depth_in is None else pytest.approx(depth_in * INCH)
    found = [
        feature
        for feature in machining(corner_frame(Hand.LEFT), ROUTING).of(board)
        if isinstance(feature, Hole) and feature.depth_mm == depth
    ]
    assert [hole.diameter_mm / INCH for hole in found].count(pytest.approx(diameter_in)) == holes


# What lies on what, by the boxes above: a bearer under a joint carries both pieces.
RESTS_ON = {
    "bench/deck": "bench/head wall rail, bench/side wall rail, bench/side panel,"
    " bench/front panel, tie/steel angle",
    "bedside table/bottom": "tie/steel angle",
    "bed/deck 1": "bed/head panel, bed/near side panel, bed/far side panel, tie/steel angle,"
    " bed/bearer 1, bed/bearer 2",
    "bed/deck 2": "bed/near side panel, bed/far side panel, bed/foot panel, bed/bearer 2,"
    " bed/leg 1, bed/leg 2, bed/leg 3, bed/leg 4",
}


def test_what_rests_on_what() -> None:
    """Decks are bonded to all boards that they rest on."""
    found: dict[str, set[str]] = {}
    bonded: dict[str, set[str]] = {}
    for joint in corner_frame(Hand.RIGHT).joints:
        if isinstance(joint, Seated):
            found.setdefault(joint.top, set()).update(joint.on)
        elif isinstance(joint, Bonded):
            bonded.setdefault(joint.top, set()).update(joint.on)
    assert found == {top: set(on.split(", ")) for top, on in RESTS_ON.items()}
    boards = {board.name for board in corner_frame(Hand.RIGHT).boards}
    decks = {top: on & boards for top, on in found.items() if "deck" in top}
    assert bonded == decks


def test_bought_things_weigh_what_their_sizes_say() -> None:
    """Steel of 7850 kg/m3 (AISC: 490 lb/ft3). Leg: a tube round 2 in, 13 1/4 high, its wall taken
    for 2 mm where nobody says it (common practice, no source), pi d h t, and a plate of 3 1/2
    square, 3/16 thick. Wall plate: 6 in long, 2 high and 3/8 of lip, 3/16 thick.
    """
    assembly = corner_frame(Hand.RIGHT)
    leg_mm3 = 3.14159 * 50.8 * 336.55 * 2.0 + 88.9**2 * 4.7625
    assert mass_kg(assembly.legs[0]) == pytest.approx(leg_mm3 * 7.85e-6, rel=1e-4)
    plate_mm3 = 152.4 * (50.8 + 9.525) * 4.7625
    assert mass_kg(assembly.wall_plates[0]) == pytest.approx(plate_mm3 * 7.85e-6, rel=1e-4)
