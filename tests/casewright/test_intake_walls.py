"""What a job says of its walls: read as it is written, or refused at its line."""

from pathlib import Path

import pytest

from casewright import Session
from casewright.intake.read_job import read_job
from casewright.stages.sets.used_sets import placed_sets
from parametric.geometry.walls import Wall
from parametric.joints.machining import machining
from parametric.sets.room_walls import RoomWalls
from parametric.shapes.features import Hole
from parametric.stock.wall_types import AS_USUAL, GivenFixing, WallKind, WallType
from tests.casewright.intake_folder import KEEPER, SHIP, STATION, JobFolder

FILE = f"{KEEPER}.yaml"
FIXING = """\
        screws: [6-0x80]
        pull_n: 700
        shear_n: 900
        embedment: 50
        spacing: 80
        edge: 60
        hole: 10
        hole_depth: 70
        bit: masonry bit 10
        source: made up for tests
        anchor: Nylon plug 10 x 60
"""
WALLS = f"""
walls:
  every:
    kind: masonry
    lining: 12
    fixings:
      plug:
        description: Nylon plug in brick
{FIXING}  side_wall: {{kind: solid-timber, thickness: 60}}
construction:"""
PLUG = GivenFixing(
    key="plug",
    description="Nylon plug in brick",
    screws=("6-0x80",),
    pull_n=700.0,
    shear_n=900.0,
    embedment_mm=50.0,
    spacing_mm=80.0,
    edge_mm=60.0,
    hole_mm=10.0,
    hole_depth_mm=70.0,
    bit="masonry bit 10",
    source="made up for tests",
    anchor="Nylon plug 10 x 60",
)


@pytest.fixture
def folder(tmp_path: Path) -> JobFolder:
    made = JobFolder(tmp_path)
    made.replace(FILE, "\nconstruction:", WALLS)
    return made


def test_walls_are_read_as_they_are_written(folder: JobFolder) -> None:
    walls = read_job(folder.path(FILE)).walls
    assert walls.every == WallType(kind=WallKind.MASONRY, lining_mm=12.0, fixings=(PLUG,))
    assert walls.own == ((Wall.SIDE, WallType(kind=WallKind.SOLID_TIMBER, wood_mm=60.0)),)
    assert walls.at(Wall.HEAD) is walls.every
    assert walls.at(Wall.SIDE).kind is WallKind.SOLID_TIMBER


def test_a_job_that_says_nothing_has_wood_studs(tmp_path: Path) -> None:
    assert read_job(JobFolder(tmp_path).path(FILE)).walls == RoomWalls()
    assert AS_USUAL.kind is WallKind.WOOD_STUDS


def test_the_demo_has_bulkheads_and_timber(tmp_path: Path) -> None:
    folder = JobFolder(tmp_path)
    ship = read_job(folder.path(f"{SHIP}.yaml")).walls.every
    assert ship.kind is WallKind.BULKHEAD
    assert "invented for the demo" in ship.fixings[0].source
    assert read_job(folder.path(f"{STATION}.yaml")).walls.every.kind is WallKind.SOLID_TIMBER


FAULTS = [
    ("kind: masonry", "kind: brick", "walls.every.kind", "'brick'", "'masonry'"),
    ("  side_wall: {", "  near_wall: {", "walls.near_wall", "an unknown key", "side_wall"),
    ("[6-0x80]", "[6-0x81]", "walls.every.fixings.plug.screws.0", "no screw named '6-0x81'",
     "6-0x80"),
    ("[6-0x80]", "[]", "walls.every.fixings.plug.screws", "", "at least one entry"),
    ("[6-0x80]", "[6-0x80, 6-0x80]", "walls.every.fixings.plug.screws.1", "a second time",
     "each screw in one fixing of a wall"),
    ("pull_n: 700", "pull_n: 0", "walls.every.fixings.plug.pull_n", "0", "greater than 0"),
    ("pull_n: 700", "pull_n: 700 N", "walls.every.fixings.plug.pull_n", "'700 N'", "a number"),
    ("        source: made up for tests\n", "", "walls.every.fixings.plug.source", "nothing",
     "must be given"),
    ("hole_depth: 70", "hole_depth: 49", "walls.every.fixings.plug.hole_depth", "49",
     "at least the embedment (50 mm)"),
    ("edge: 60", "edge: 60 in", "walls.every.fixings.plug.edge", "'60 in'", "to 1000 mm"),
    ("thickness: 60", "thickness: 6", "walls.side_wall.thickness", "6", "from 10 mm"),
    ("      plug:\n", "      Plug:\n", "walls.every.fixings.Plug", "the name 'Plug'",
     "small letters"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "key_path", "found", "allowed"), FAULTS)
def test_faults_of_walls_are_told_where_they_stand(
    folder: JobFolder, old: str, new: str, key_path: str, found: str, allowed: str
) -> None:
    line = folder.replace(FILE, old, new)
    fault = folder.fault(KEEPER)
    assert fault.key_path == key_path
    assert found in fault.found
    assert allowed in fault.allowed
    # A key that is missing is blamed on the name of its fixing, eleven lines above.
    assert fault.line == (line if new else line - 11)


def test_a_wall_of_its_own_may_take_the_same_screw_in_another_fixing(folder: JobFolder) -> None:
    own = f"side_wall:\n    kind: steel-studs\n    fixings:\n      toggle:\n{FIXING}"
    folder.replace(
        FILE,
        "side_wall: {kind: solid-timber, thickness: 60}\n",
        own.replace("screws", "description: Toggle\n        screws", 1),
    )
    walls = read_job(folder.path(FILE)).walls
    assert [each.key for each in walls.at(Wall.SIDE).fixings] == ["toggle"]


def test_an_anchor_may_be_brought_by_somebody_else(folder: JobFolder) -> None:
    folder.replace(FILE, "\n  bought:", "\n  not_supplied: [plug]\n  bought:")
    assert read_job(folder.path(FILE)).supplies.not_supplied == ("plug",)
    folder.replace(FILE, "not_supplied: [plug]", "not_supplied: [plugg]")
    fault = folder.fault(KEEPER)
    assert fault.key_path == "kit.not_supplied.0"
    assert "plug" in fault.allowed


SHIP_SCREWS = """
screws:
  m6-60:
    description: Machine screw M6 x 60
    length: 60
    major_diameter: 6.0
    root_diameter: 4.77
    head_diameter: 11.0
    clearance_diameter: 6.6
    pilot_diameter: 5.0
    countersink_angle: 90
    made_for: metal
construction:"""


def test_a_wall_may_take_other_screws_than_the_rest(tmp_path: Path) -> None:
    """The bench stands in the corner: machine screws into the bulkhead beside it, wood screws into
    studs behind it.
    """
    folder = JobFolder(tmp_path)
    folder.replace(FILE, "\nconstruction:", SHIP_SCREWS)
    own = "\nwalls:\n  side_wall: {kind: bulkhead, screws: {6-0x80-washer: m6-60}}\nconstruction:"
    folder.replace(FILE, "\nconstruction:", own)
    job = read_job(folder.path(FILE))
    (placed,) = placed_sets(job).values()
    screws: dict[str, set[str]] = {}
    for name, joints in placed.assembly.wall_fixings().items():
        screws.setdefault(name, set()).update(joint.screw.key for joint in joints)
    assert screws["bench/side wall rail"] == {"m6-60"}
    assert screws["bench/head wall rail"] == {"6-0x80-washer"}
    worked = machining(placed.assembly, job.routing).features["bench/side wall rail"]
    assert 6.6 in {hole.diameter_mm for hole in worked if isinstance(hole, Hole)}
    folder.replace(FILE, "\n  bought:", "\n  not_supplied: [m6-60]\n  bought:")
    assert read_job(folder.path(FILE)).supplies.not_supplied == ("m6-60",)


@pytest.mark.parametrize(
    ("old", "new", "found", "allowed"),
    [
        ("6-0x80: m6-60", "6-0x80: m6-61", "no screw named 'm6-61'", "m6-60"),
        ("6-0x80: m6-60", "6-0x81: m6-60", "no screw named '6-0x81'", "6-0x80"),
        ("head_diameter: 11.0", "head_diameter: 13.0", "'m6-60', its head 13 mm", "at most 12 mm"),
        ("    major_diameter: 6.0", "    major_diameter: 6.6", "its shank 6.6 mm", "most 6.5 mm"),
    ],
)
def test_a_screw_in_place_of_another_must_go_where_that_goes(
    tmp_path: Path, old: str, new: str, found: str, allowed: str
) -> None:
    folder = JobFolder(tmp_path)
    folder.replace(FILE, "\nconstruction:", SHIP_SCREWS)
    own = "\nwalls:\n  side_wall:\n    screws: {6-0x80: m6-60}\nconstruction:"
    line = folder.replace(FILE, "\nconstruction:", own) + 3
    folder.replace(FILE, old, new)
    fault = folder.fault(KEEPER)
    name = "6-0x81" if "6-0x81" in new else "6-0x80"
    assert (fault.line, fault.key_path) == (line, f"walls.side_wall.screws.{name}")
    assert found in fault.found and allowed in fault.allowed


def test_a_session_changes_its_walls(tmp_path: Path) -> None:
    """Sets are placed anew, since their screws go into other walls."""
    session = Session.from_file(JobFolder(tmp_path).path(FILE))
    masonry = session.changed(("walls",), {"every": {"kind": "masonry"}})
    codes = [[f.code for f in each.fast_findings()] for each in (session, masonry)]
    assert ["wall-fixing" in each for each in codes] == [False, True]
    back = masonry.changed(("walls", "every", "kind"), "wood-studs")
    assert [f.code for f in back.fast_findings()] == codes[0]
