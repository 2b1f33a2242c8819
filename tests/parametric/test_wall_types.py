"""Walls that are not wood: what is given is held against it, what is not is never a pass.

Figures of fixings are made up; the arithmetic beside each check is by hand.
"""

from dataclasses import replace
from math import inf

import pytest

from parametric.findings.check_strength import check_strength
from parametric.findings.finding import Finding, Severity
from parametric.findings.not_checked import not_checked
from parametric.findings.screw_loads import NOT_WORKED_OUT, screw_loads
from parametric.geometry.hand import Hand
from parametric.geometry.walls import Wall
from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall
from parametric.kit.count import kit_of
from parametric.kit.supplies import BY_ENGINEER, Supplies
from parametric.rooms.fit import fit_room
from parametric.rooms.fitting import Fitting
from parametric.rooms.lining import lining_findings
from parametric.rooms.measured import Measured
from parametric.rooms.room_findings import room_findings
from parametric.rooms.room_fit import RoomFit
from parametric.sets.room_set import RoomSet, build_set
from parametric.sets.room_walls import WOOD_STUDS, RoomWalls
from parametric.steps.order import steps_of
from parametric.stock.amounts import in_words
from parametric.stock.lengths import Units, show_length
from parametric.stock.wall_types import WallKind, WallType
from parametric.strength.loads import Loads
from tests.compositions import BUILT_FROM
from tests.example_set import INCH, NO_10_WALL, ROUTING, TRIM_MM
from tests.parametric.test_other_walls import run
from tests.parametric.test_strength_findings import CONSTRUCTION, PLAIN_LOADS, example, strong
from tests.told import said
from tests.wall_examples import MADE_UP, fixing, walls

NOT_WOOD = [kind for kind in WallKind if not kind.is_wood]
NEVER_A_PASS = {"wall-fixing", "wall-pull", "plate-load"}
MADE = replace(
    strong(CONSTRUCTION),
    screw_wall=NO_10_WALL,
    # As deep as the others, through the 5/8 in of shims behind the bed.
    screw_off_wall=replace(NO_10_WALL, length_mm=NO_10_WALL.length_mm + 0.625 * INCH),
)


def built(room_walls: RoomWalls, hand: Hand = Hand.RIGHT) -> RoomSet:
    return build_set(example(), hand, MADE, ROUTING, TRIM_MM, room_walls)


def found(room_walls: RoomWalls, hand: Hand = Hand.RIGHT) -> tuple[Finding, ...]:
    return check_strength("set", built(room_walls, hand).assembly, PLAIN_LOADS)


def severity(room_walls: RoomWalls, code: str) -> Severity:
    """The worst that is found of a code."""
    order = (Severity.OK, Severity.WARN, Severity.FAIL)
    return max((f.severity for f in found(room_walls) if f.code == code), key=order.index)


@pytest.mark.parametrize("hand", Hand)
@pytest.mark.parametrize("kind", NOT_WOOD)
def test_without_figures_every_wall_asks_for_an_engineer(kind: WallKind, hand: Hand) -> None:
    bare = [f for f in found(walls(kind), hand) if f.code in NEVER_A_PASS]
    assert {f.severity for f in bare} == {Severity.WARN}
    assert {f.code for f in bare} == NEVER_A_PASS
    per_wall = [f for f in bare if f.code == "wall-fixing"]
    assert [f.where for f in per_wall] == ["set: head wall", "set: side wall"]
    for each in per_wall:
        assert f"in {kind.words}: an engineer specifies the fixing" in said(each)
        assert "have an engineer specify the fixing" in str(each.advice)


@pytest.mark.parametrize("hand", Hand)
@pytest.mark.parametrize("kind", WallKind)
def test_given_figures_are_what_is_allowed_in_any_wall(kind: WallKind, hand: Hand) -> None:
    """2000 N straight out; what pulls on a screw does not depend on what it goes into (statics)."""
    plain = {f.where: f for f in found(WOOD_STUDS, hand) if f.code == "wall-pull"}
    pulls = [f for f in found(walls(kind, fixing()), hand) if f.code == "wall-pull"]
    assert [f.where for f in pulls] == list(plain)
    for each in pulls:
        assert (each.limit, each.severity) == (2000.0, Severity.OK)
        assert each.measured == pytest.approx(plain[each.where].measured)
        assert str(each.source).startswith(MADE_UP)


def test_timber_is_wood_that_wants_no_blocking() -> None:
    """The rules for solid wood hold as they do in blocking of the same thickness."""
    timber = RoomWalls(every=WallType(kind=WallKind.SOLID_TIMBER, wood_mm=70.0))
    one, other = (
        [f for f in found(each) if f.code in {"wall-pull", "plate-load"}]
        for each in (timber, WOOD_STUDS)
    )
    assert [(f.measured, f.limit) for f in one] == [(f.measured, f.limit) for f in other]
    assert "solid timber" in str(one[0].basis) and "blocking" in str(other[0].basis)


def test_a_wall_that_is_thinner_or_lined_more_holds_less() -> None:
    """No. 10 by NDS 12.2-2: 95.52 lb an inch, 20 mm of planks; behind 30 mm what is left of a rail
    screw, 57.15 - 30 mm.
    """
    thin = RoomWalls(every=WallType(kind=WallKind.SOLID_TIMBER, wood_mm=20.0))
    lined = RoomWalls(every=WallType(lining_mm=30.0))
    for room_walls, thread_mm in ((thin, 20.0), (lined, 57.15 - 30.0)):
        (bench,) = (
            f for f in found(room_walls) if f.code == "wall-pull" and f.where == "set: bench"
        )
        assert bench.limit == pytest.approx(95.52 * 4.44822 / INCH * thread_mm, rel=2e-3)


@pytest.mark.parametrize(
    ("code", "changes", "verdict"),
    [
        # 830 N on a screw of the bench: worked out, and held against what is given.
        ("wall-pull", {"pull_n": 930.0}, Severity.OK),
        ("wall-pull", {"pull_n": 900.0}, Severity.WARN),
        ("wall-pull", {"pull_n": 800.0}, Severity.FAIL),
        # Those of the hung panel go in least: 3 in, heads 1/8 in deep in 3/4, 3/16 off the wall as
        # its plates are, less 15.9 of lining: 39.66 mm.
        ("wall-embedment", {"embedment_mm": 39.6}, Severity.OK),
        ("wall-embedment", {"embedment_mm": 39.7}, Severity.FAIL),
        # Plates are 3/16 in thick: 76.2 - 4.76 - 15.9 = 55.54 mm.
        ("wall-hole", {"hole_depth_mm": 55.6}, Severity.OK),
        ("wall-hole", {"hole_depth_mm": 55.5}, Severity.FAIL),
        ("wall-hole", {"hole_depth_mm": None}, None),
        # Rail screws of the bench on the head wall stand 94.15 mm apart.
        ("wall-spacing", {"spacing_mm": 94.1}, Severity.OK),
        ("wall-spacing", {"spacing_mm": 94.2}, Severity.FAIL),
        # 164 N on a screw, down and out as 0.90625 and 0.375 in: see below.
        ("plate-load", {"pull_n": 200.0, "shear_n": 1000.0}, Severity.OK),
        ("plate-load", {"pull_n": 100.0, "shear_n": 150.0}, Severity.FAIL),
    ],
)
def test_each_figure_decides(code: str, changes: dict[str, object], verdict: Severity) -> None:
    given = walls(WallKind.BULKHEAD, fixing(**changes))
    if verdict is None:
        assert code not in {f.code for f in found(given)}
    else:
        assert severity(given, code) is verdict


def test_shares_of_shear_and_pull_add_up() -> None:
    """Along the wall alone its shear, out of it alone its pull; both alike by hand: a force of
    3, 4 uses 3/1500 + 4/2000 = 0.004, so one of 5 / 0.004 = 1250 N is allowed.
    """
    given = fixing()
    assert given.allowed_n(7.0, 0.0) == pytest.approx(1500.0)
    assert given.allowed_n(0.0, 7.0) == pytest.approx(2000.0)
    assert given.allowed_n(3.0, 4.0) == pytest.approx(1250.0)


def test_walls_of_two_kinds_are_told_apart() -> None:
    """Masonry behind the head of the room, wood beside it: the table touches the first alone."""
    mixed = RoomWalls(own=((Wall.HEAD, WallType(kind=WallKind.MASONRY)),))
    told = [f for f in found(mixed) if f.code == "wall-fixing"]
    assert [f.where for f in told] == ["set: head wall"]
    bench = [f for f in found(mixed) if f.code == "wall-pull" and f.where == "set: bench"]
    # The wood beside it is judged as it is, whatever nobody knows of the masonry.
    assert [f.severity for f in bench] == [severity(WOOD_STUDS, "wall-pull"), Severity.WARN]
    assert "in masonry or concrete" in said(bench[1])
    given = RoomWalls(own=((Wall.HEAD, WallType(kind=WallKind.MASONRY, fixings=(fixing(),))),))
    assert severity(given, "wall-pull") is severity(WOOD_STUDS, "wall-pull")
    limits = {f.where: f.limit for f in found(given) if f.code == "wall-pull"}
    assert limits["set: bedside table"] == 2000.0
    assert limits["set: bench"] < 2000.0  # screws in the side wall's wood hold less
    # Weak pads behind the head, strong ones beside it: each wall's pull against its own.
    one, other = (fixing(pull_n=pull_n) for pull_n in (900.0, 5000.0))
    pads = RoomWalls(
        every=WallType(kind=WallKind.BULKHEAD, fixings=(other,)),
        own=((Wall.HEAD, WallType(kind=WallKind.BULKHEAD, fixings=(one,))),),
    )
    assert {f.limit for f in found(pads) if f.code == "wall-pull"} == {900.0}


def desk_on(*fixings: object, screw_mm: float = 0.190 * INCH) -> Finding:
    """The load along the wall on a cleat of a desk."""
    screw = replace(NO_10_WALL, major_diameter_mm=screw_mm)
    made = replace(BUILT_FROM, screw_wall=screw)
    of_walls = walls(WallKind.BULKHEAD, *fixings)  # type: ignore[arg-type]
    assembly = build_set(run(Wall.HEAD), Hand.LEFT, made, ROUTING, TRIM_MM, of_walls).assembly
    (cleat,) = (f for f in check_strength("set", assembly, Loads()) if f.code == "wall-cleat")
    return cleat


def test_a_cleat_bears_what_its_fixing_or_its_own_wood_does() -> None:
    """A No. 10 in 3/4 in of cleat, held by steel behind 15.9 mm of lining. Mode IIIs across a gap
    (AWC Technical Report 12, from memory): P2 / 4 qs + P2 / 2 qm + P (s / 2 + g) = qs s2 / 4 + M,
    with 450 / 1120 dry: Fe 16600 x .402^1.84 = 3100 psi, 61850 psi of steel, Fyb 80 ksi, roots of
    .152 in, over 2.2.
    """
    assert desk_on(fixing(shear_n=100.0)).limit == 100.0
    qs, qm, s, g = 3100 * 0.152, 61_850 * 0.152, 0.75, 15.9 / 25.4
    a, b = 1 / (4 * qs) + 1 / (2 * qm), s / 2 + g
    c = qs * s * s / 4 + 80_000 * 0.152**3 / 6
    by_hand_n = ((b * b + 4 * a * c) ** 0.5 - b) / (2 * a) / 2.2 * 4.44822
    assert desk_on(fixing(shear_n=9000.0)).limit == pytest.approx(by_hand_n, rel=0.01)


def test_a_cleat_under_a_screw_too_thick_for_the_rules_is_never_a_pass() -> None:
    thick = desk_on(fixing(shear_n=9000.0), screw_mm=8.0)
    assert thick.severity is Severity.WARN
    assert "no rule is for wood under" in said(thick)


@pytest.mark.parametrize("hand", Hand)
def test_no_wood_screw_is_packed_for_a_wall_that_takes_none(hand: Hand) -> None:
    supplies, masonry = Supplies(), built(walls(WallKind.MASONRY), hand).assembly
    in_wall = sum(isinstance(joint, FixedToWall) for joint in masonry.joints)
    lines = {line.key: line for line in kit_of(masonry, supplies, Units.MM).lines}
    assert NO_10_WALL.key not in lines
    ungiven = lines[BY_ENGINEER]
    assert (ungiven.needed, ungiven.supplied) == (in_wall, False)
    assert ungiven.description == "Fixing for masonry or concrete: as an engineer specifies"
    plugs = fixing(key="plug", anchor="Nylon plug 8 x 50")
    plugged = built(walls(WallKind.MASONRY, plugs), hand).assembly
    lines = {line.key: line for line in kit_of(plugged, supplies, Units.MM).lines}
    assert lines["plug"].description == "Nylon plug 8 x 50"
    assert lines["plug"].needed == lines[NO_10_WALL.key].needed == in_wall
    assert lines["plug"].packed == lines[NO_10_WALL.key].packed > in_wall


def told_in_steps(assembly: Assembly, room_set: RoomSet) -> str:
    steps = steps_of(assembly, lambda mm: show_length(mm, Units.MM), room_set.outwards)
    return " | ".join(
        text
        for step in steps
        for text in (
            *step.tools,
            *step.checks,
            *(in_words(each, Units.MM) for each in step.cautions),
        )
    )


def test_steps_say_hole_bit_and_whom_to_ask() -> None:
    def steps(room_walls: RoomWalls) -> str:
        room_set = built(room_walls)
        return told_in_steps(room_set.assembly, room_set)

    given = steps(walls(WallKind.BULKHEAD, fixing()))
    assert "Tapped pad: drill 5.0 and tap, 70 mm deep behind the lining" in given
    assert "at least 12 mm from the edges of what holds it" in given
    assert "without permission from whoever is responsible for it" in given
    assert "pipe and cable detector" in given and "stud" not in given
    bare = steps(walls(WallKind.MASONRY))
    assert "Fix nothing here until an engineer has specified what holds in masonry" in bare
    plain = steps(WOOD_STUDS)
    assert "engineer" not in plain and "stud and pipe detector" in plain
    through = steps(walls(WallKind.BULKHEAD, fixing(hole_depth_mm=None)))
    assert "drill 5.0 and tap, through" in through


def fit(room_set: RoomSet, measured: Measured) -> RoomFit:
    return fit_room("1", room_set, measured, (), Fitting(), Units.MM)


@pytest.mark.parametrize("kind", WallKind)
def test_rooms_look_for_blocking_only_where_walls_want_it(kind: WallKind) -> None:
    """Studs everywhere, as in `test_room_fit`: wood ones hold any screw, steel ones none."""
    room_set = built(walls(kind, fixing()))
    head = [j for j in room_set.assembly.joints if isinstance(j, FixedToWall)]
    on_head = sum(wall_of.direction.axis == 1 for wall_of in head)
    everywhere = Measured(first_stud_mm=0.0, stud_spacing_mm=16.0, blocking_mm=())
    missed = {WallKind.STEEL_STUDS: on_head}.get(kind, 0)
    assert len(fit(room_set, everywhere).missed) == missed
    blocked = fit(room_set, Measured(blocking_mm=((0.0, 3000.0),)))
    assert blocked.missed == ()
    codes = {f.code for f in room_findings(blocked, Fitting())}
    assert ("wall-fixing-missed" in codes) is kind.wants_blocking
    unmeasured = fit(room_set, Measured()).unknown
    wood = {"studs", "blocking", "blocking in the side wall"}
    assert wood <= set(unmeasured) if kind.wants_blocking else wood.isdisjoint(unmeasured)


def test_an_assumed_lining_is_not_measured_and_one_that_the_job_gives_is_known() -> None:
    assumed = "lining of the walls: its thickness is assumed"
    for lining_mm in (None, 0.0, 12.0):
        of = RoomWalls(every=WallType(kind=WallKind.SOLID_TIMBER, lining_mm=lining_mm))
        found = fit(built(of), Measured())
        assert (assumed in found.unknown) is (lining_mm is None)
        assert assumed not in fit(built(of), Measured(wall_lining_mm=12.0)).unknown


@pytest.mark.parametrize(
    ("kind", "told"),
    [
        (WallKind.WOOD_STUDS, "Wood behind every screw, where the blocking plan shows it"),
        (WallKind.STEEL_STUDS, "Backing behind every screw, where the blocking plan shows it"),
        (WallKind.SOLID_TIMBER, "Every screw in solid wood, none in a gap between planks"),
        (WallKind.BULKHEAD, None),
    ],
)
def test_steps_check_for_what_is_in_the_wall(kind: WallKind, told: str | None) -> None:
    room_set = built(walls(kind, fixing()))
    listed = steps_of(room_set.assembly, lambda mm: f"{mm:g}", room_set.outwards)
    checks = {check for step in listed for check in step.checks}
    behind = ("behind every screw", "Every screw in solid")
    found = {check for check in checks if any(each in check for each in behind)}
    found = {check for check in found if not check.startswith("Shims")}
    assert found == ({told} if told else set())


def test_a_thick_lining_takes_depth_in_any_wall() -> None:
    timber = built(RoomWalls(every=WallType(kind=WallKind.SOLID_TIMBER, lining_mm=10.0)))
    assert list(lining_findings("1", timber, 10.0, Loads())) == []
    (bench, *_) = lining_findings("1", timber, 12.0, Loads())
    assert "with 38.1 mm of thread in wood" in said(bench)
    (bench, *_) = lining_findings("1", timber, 30.0, Loads())
    assert f"with {show_length(57.15 - 30.0, Units.MM)} of thread in wood" in said(bench)
    pads = built(walls(WallKind.BULKHEAD, fixing()))
    assert list(lining_findings("1", pads, 15.9, Loads())) == []
    thick = list(lining_findings("1", pads, 30.0, Loads()))
    assert {f.code for f in thick} == {"wall-embedment"}  # what is allowed there stays
    head = next(f for f in thick if f.where.endswith("head wall"))
    assert head.measured == pytest.approx(39.66 + 15.9 - 30.0, abs=0.01)
    assert head.severity is Severity.FAIL


def test_edges_of_walls_are_told_as_not_checked_where_a_fixing_keeps_from_them() -> None:
    def lines(room_walls: RoomWalls) -> list[str]:
        told = not_checked([built(room_walls)])
        return [line.where for line in told if "given fixings stand from edges" in line.what]

    assert lines(WOOD_STUDS) == lines(walls(WallKind.MASONRY)) == []
    (where,) = lines(walls(WallKind.MASONRY, fixing()))
    assert where == "example, right hand: bench, bedside table, bed, wall panel"


@pytest.mark.parametrize("hand", Hand)
def test_the_load_on_a_screw_is_told_for_the_part_that_it_goes_through(hand: Hand) -> None:
    """Rails and cleats by the pull on their unit, cleats by what lies on them too, plates by their
    panel's load; nobody works out what the panel's own screws bear.
    """
    room_set = build_set(run(Wall.SIDE), hand, BUILT_FROM, ROUTING, TRIM_MM)
    found_there = check_strength("set", room_set.assembly, PLAIN_LOADS)

    def measured(code: str, where: str) -> str:
        (value,) = (f.measured for f in found_there if (f.code, f.where) == (code, f"set: {where}"))
        return f"{float(f'{value:.3g}'):g} N"

    told = {
        name: in_words(words, Units.MM)
        for name, words in screw_loads("set", room_set.assembly, found_there).items()
    }
    assert told.keys() == room_set.assembly.wall_fixings().keys()
    assert told["table/back"] == f"{measured('wall-pull', 'table')} out"
    cleat = "desk/wall cleat 1"
    down = measured("wall-cleat", cleat)
    assert told[cleat] == f"{measured('wall-pull', 'desk')} out, {down} down"
    assert told["panel/plate 1"] == f"{measured('plate-load', 'panel/panel')} down and out"
    assert told["panel/panel"] == NOT_WORKED_OUT


def test_what_nothing_holds_is_told_in_words() -> None:
    room_set = built(WOOD_STUDS)
    loose = [
        replace(f, measured=inf) if f.code == "wall-pull" else f
        for f in check_strength("set", room_set.assembly, PLAIN_LOADS)
    ]
    told = screw_loads("set", room_set.assembly, loose)
    assert in_words(told["bench/head wall rail"], Units.MM) == "nothing keeps it in place"
