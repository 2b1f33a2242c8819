"""Where blocking goes for the example set, by hand from its sizes.

Zones reach 50 mm beyond the outermost screws (common practice, no source), and neither under the
floor nor into the corner; they are rounded outwards to whole millimetres or sixteenths of an inch.
Where the screws are: `tests/parametric/test_sizes_by_hand.py`.
"""

import re
from dataclasses import replace
from fractions import Fraction

import pytest

from casewright.stages.site.blocking_content import OfJob, blocking_plan
from export.site.content import BlockingPlan, WallElevation
from parametric.findings.check_strength import check_strength
from parametric.findings.screw_loads import screw_loads
from parametric.geometry.hand import Hand
from parametric.geometry.walls import Wall
from parametric.sets.room_set import RoomSet, build_set
from parametric.sets.room_walls import WOOD_STUDS, RoomWalls
from parametric.stock.lengths import Units
from parametric.stock.wall_types import WallKind
from parametric.strength.loads import Loads
from tests.compositions import BUILT_FROM
from tests.example_set import CONSTRUCTION, INCH, ROUTING, TRIM_MM, set_sizes
from tests.parametric.test_other_walls import AWAY_MM, run
from tests.wall_examples import fixing, walls

# Zone, from the corner, above the floor, block, screws; nearest to the corner first. Blocking is
# 38.1 mm thick if the job says nothing: nominal 2 in lumber, common practice, no source.
HEAD_WALL = (
    # Rail: 109.05 to 297.35, 201.93 up.
    ("A", "59 to 348 mm", "151 to 252 mm", "289 × 101 × 38.1 mm", "3"),
    # Table: 693.41 and 935.36, 540.55.
    ("B", "643 to 986 mm", "490 to 591 mm", "343 × 101 × 38.1 mm", "2"),
    # Plates: 6 in long from 1079.18, 1705.18 and 2330.98; holes 4 in apart, 1027.52 up.
    ("C", "1054 to 1257 mm", "977 to 1078 mm", "203 × 101 × 38.1 mm", "2"),
    # Panel: 1119.18 to 2443.18.
    ("D", "1069 to 2494 mm", "343 to 444 mm", "1425 × 101 × 38.1 mm", "3"),
    # Bed: 1331.43 and 2230.93, 90 in from the ends of its head panel, as high as the rail.
    ("E", "1281 to 2281 mm", "151 to 252 mm", "1000 × 101 × 38.1 mm", "2"),
    ("F", "1680 to 1882 mm", "977 to 1078 mm", "202 × 101 × 38.1 mm", "2"),
    ("G", "2306 to 2508 mm", "977 to 1078 mm", "202 × 101 × 38.1 mm", "2"),
)
# Rail: 90 to 805.35.
SIDE_WALL = (("A", "40 to 856 mm", "151 to 252 mm", "816 × 101 × 38.1 mm", "4"),)


def built(hand: Hand, room_walls: RoomWalls = WOOD_STUDS) -> RoomSet:
    return build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM, room_walls)


def plan(hand: Hand, units: Units = Units.MM, room_walls: RoomWalls = WOOD_STUDS) -> BlockingPlan:
    return blocking_plan("job", built(hand, room_walls), OfJob(units=units))


def elevations(hand: Hand, units: Units = Units.MM) -> tuple[WallElevation, ...]:
    return plan(hand, units).walls


@pytest.mark.parametrize("hand", list(Hand))
def test_the_zones_of_both_walls(hand: Hand) -> None:
    head, side = elevations(hand)
    assert (head.title, side.title) == ("head wall", "side wall")
    assert tuple(row[:5] for row in head.rows) == HEAD_WALL
    assert tuple(row[:5] for row in side.rows) == SIDE_WALL


@pytest.mark.parametrize("units", Units)
@pytest.mark.parametrize("hand", list(Hand))
def test_the_picture_has_the_same_distances(hand: Hand, units: Units) -> None:
    """Facing the head wall a right hand's corner is at the right, facing its side wall at the left;
    each edge of a zone is a dimension, once.
    """
    aways = (-1, 1) if hand is Hand.RIGHT else (1, -1)
    for wall, away in zip(elevations(hand, units), aways, strict=True):
        edges = {text.removesuffix(" mm") for row in wall.rows for text in row[1].split(" to ")}
        heights = {text.removesuffix(" mm") for row in wall.rows for text in row[2].split(" to ")}
        assert {text.removesuffix(" mm") for _, text in wall.across} == edges
        assert {text.removesuffix(" mm") for _, text in wall.heights} == heights
        assert all(x * away > 0 for x, _ in wall.across)


def inches(text: str) -> Fraction:
    return sum((Fraction(part) for part in text.rstrip('"').split()), Fraction(0))


@pytest.mark.parametrize("hand", list(Hand))
def test_inches_are_sixteenths_and_never_less_than_is_wanted(hand: Hand) -> None:
    """Each block reaches 50 mm beyond its screws or into the corner, and no sixteenth further than
    that takes.
    """
    for wall in elevations(hand, Units.INCH):
        for zone, row in zip(wall.zones, wall.rows, strict=True):
            ends = [inches(text) for column in (1, 2) for text in row[column].split(" to ")]
            assert all((end * 16).denominator == 1 for end in ends)
            lengths = [inches(text) for text in row[3].split(" × ")]
            assert lengths == [ends[1] - ends[0], ends[3] - ends[2], Fraction(3, 2)]
            xs = [abs(x) for x, _ in zone.screws]
            ys = [y for _, y in zone.screws]
            for values, low, high in ((xs, *ends[:2]), (ys, *ends[2:])):
                least, most = max(min(values) - 50.0, 0.0) / INCH, (max(values) + 50.0) / INCH
                assert 0 <= least - low < 1 / 16
                assert 0 <= high - most < 1 / 16


def test_no_zone_reaches_under_the_floor() -> None:
    """The bench alone, its base 75 mm high: screws 45 mm up."""
    alone = dict.fromkeys(("table", "bed", "wall_panel", "angle"))
    low = replace(set_sizes(), base_height_mm=75.0, **alone)
    for hand in Hand:
        room_set = build_set(low, hand, CONSTRUCTION, ROUTING, TRIM_MM)
        for wall in blocking_plan("job", room_set, OfJob(units=Units.MM)).walls:
            assert {row[2] for row in wall.rows} == {"0 to 95 mm"}


def test_rooms_thickness_and_loads_are_told() -> None:
    """Thickness of blocking is the job's, loads those that the checks found: 830 N by hand of
    statics in `test_strength_findings`; a screw through a hung panel only keeps it in place.
    """
    room_set, loads = built(Hand.RIGHT), Loads(blocking_mm=63.5, lining_mm=12.7)
    found = check_strength("set", room_set.assembly, loads)
    of_job = OfJob(
        units=Units.INCH,
        rooms=("101", "104"),
        loads=loads,
        screw_loads=screw_loads("set", room_set.assembly, found),
    )
    made = blocking_plan("job", room_set, of_job)
    assert made.rooms == ("101", "104")
    assert made.rounded == '1/16"'
    head, side = made.walls
    assert all(row[3].endswith('× 2 1/2"') for row in (*head.rows, *side.rows))
    assert 'at least 2 1/2" thick' in " ".join(head.wanted)
    assert 'Over it 1/2" of lining.' in head.wanted
    assert not any("assumed" in line for line in head.wanted)
    usual = blocking_plan("job", room_set, OfJob(units=Units.MM)).walls[0].wanted
    assert any("The lining over it is assumed to be 16 mm thick" in line for line in usual)
    pull_n = {f.where: f.measured for f in found if f.code == "wall-pull"}
    plate_n = next(f.measured for f in found if f.code == "plate-load")
    told = [row[5] for row in head.rows]
    assert told == [
        pounds(pull_n["set: bench"], "out"),
        pounds(pull_n["set: bedside table"], "out"),
        pounds(plate_n, "down and out"),
        "not worked out",
        "only keeps the box in place",
        pounds(plate_n, "down and out"),
        pounds(plate_n, "down and out"),
    ]
    assert [row[5] for row in side.rows] == [pounds(pull_n["set: bench"], "out")]


def pounds(newtons: float, way: str) -> str:
    pound_n = 4.4482216152605  # NIST SP 811, appendix B
    return f"{float(f'{newtons / pound_n:.3g}'):g} lbf {way}"


@pytest.mark.parametrize("hand", list(Hand))
def test_what_stands_along_a_far_wall_is_set_out_from_its_own_corner(hand: Hand) -> None:
    """The same run along the far wall is the same plan, but for the wall's names: its second cleat,
    on the head wall, counts from the corner of the two, and not from that of the side wall.
    """

    def made(wall: Wall) -> BlockingPlan:
        sizes = run(wall)
        (own,) = sizes.runs
        table = replace(own, units=(replace(own.units[-1], gap_mm=None), *own.units[:1]))
        corner = replace(sizes, runs=(table,), ties=(), hung=())
        room_set = build_set(corner, hand, BUILT_FROM, ROUTING, TRIM_MM)
        return blocking_plan("job", room_set, OfJob(units=Units.MM))

    plain = {wall.title: wall.rows for wall in made(Wall.HEAD).walls}
    far = {wall.title: wall for wall in made(Wall.FAR).walls}
    assert plain.keys() == {"head wall", "side wall"}
    beside = "head wall, from its corner with the far wall"
    assert far.keys() == {"far wall", beside}
    assert far["far wall"].rows == plain["head wall"]
    assert far[beside].rows == plain["side wall"]
    # Facing the head wall a right hand's far corner is at the left.
    sign = 1 if hand is Hand.RIGHT else -1
    assert all(x * sign > 0 for x, _ in far[beside].across)
    assert max(abs(x) for x, _ in far[beside].across) < AWAY_MM / 4
    foot = {wall.title: wall.rows for wall in made(Wall.FOOT).walls}
    assert foot["side wall, from its corner with the foot wall"] == plain["side wall"]


WANTED = {
    WallKind.WOOD_STUDS: "Solid wood between the studs over each zone",
    WallKind.SOLID_TIMBER: "at least 38.1 mm thick: no blocking",
    WallKind.STEEL_STUDS: "the backing that the fixing is made for",
    WallKind.MASONRY: "Masonry or concrete: no blocking",
    WallKind.BULKHEAD: "no screw goes into its plate without a fixing",
}


@pytest.mark.parametrize("kind", list(WallKind))
@pytest.mark.parametrize("hand", list(Hand))
def test_each_kind_of_wall_says_what_it_must_have(hand: Hand, kind: WallKind) -> None:
    head, _ = plan(hand, room_walls=walls(kind)).walls
    said = " ".join(head.wanted)
    assert WANTED[kind] in said
    assert ("until an engineer has specified" in said) is not kind.is_wood
    assert head.wants_blocking is kind.wants_blocking
    given, _ = plan(hand, room_walls=walls(kind, fixing())).walls
    said = " ".join(given.wanted)
    assert "Tapped pad. Hole: drill 5.0 and tap, 70 mm deep behind the lining" in said
    assert "at least 12 mm from edges and 40 mm from the next one" in said
    assert "Allowed on each: 2000 N out, 1500 N along the wall (made up for tests)" in said
    assert "engineer" not in said
    rail = head.rows[0][3]
    if kind.wants_blocking:
        assert re.fullmatch(r"289 × 101( × 38\.1)? mm", rail)
        assert rail.endswith("38.1 mm") is kind.is_wood
    else:  # where each screw is, by hand as above
        assert rail == "109, 203, 297; 202 mm"
