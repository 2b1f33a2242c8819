"""The set as it stands in the room: nothing overlaps, both hands are mirror images, all seats are
level, the angle lies in its notches.
"""

import math

import cadquery as cq
import pytest

from parametric.geometry.hand import Hand
from parametric.geometry.space import Axis
from parametric.joints.joints import FixedToWall, Passing, Screwed, Seated
from parametric.joints.machining import penetration_mm
from parametric.solids.common_volumes import common_volumes
from parametric.solids.overlaps import overlap_findings
from parametric.solids.set_model import SetModel
from tests.example_set import CONSTRUCTION, INCH
from tests.solid_assertions import difference_mm3, mirrored
from tests.told import said

pytestmark = pytest.mark.parametrize("hand", list(Hand))


def test_no_two_solids_share_space(models: dict[Hand, SetModel], hand: Hand) -> None:
    solids = models[hand].solids.installed
    assert len(solids) > 60
    assert sum(volume for _, volume in common_volumes(solids)) < 1.0


def test_an_overlap_is_found(models: dict[Hand, SetModel], hand: Hand) -> None:
    """The check above can fail: a panel moved by 1 mm runs into its neighbour."""
    solids = dict(models[hand].solids.installed)
    solids["bench/deck"] = solids["bench/deck"].moved(cq.Location(cq.Vector(0, 0, -1)))
    assert sum(volume for _, volume in common_volumes(tuple(solids.items()))) > 1000


def test_the_findings_say_so(models: dict[Hand, SetModel], hand: Hand) -> None:
    (found,) = overlap_findings(models[hand])
    assert (found.severity, said(found)) == ("ok", "no parts interfere")
    assert found.where == f"{models[hand].room_set.name}, {hand} hand"


def test_hands_are_exact_mirror_images(models: dict[Hand, SetModel], hand: Hand) -> None:
    other = dict(models[hand.other].solids.installed)
    for name, solid in models[hand].solids.installed:
        if " band " not in name:  # bands are numbered by place, so they change names
            assert difference_mm3(mirrored(solid), other[name]) < 1e-3, name
    for name, bands in models[hand].solids.bands.items():
        volume = sum(band.Volume() for band in bands)
        assert volume == pytest.approx(
            sum(band.Volume() for band in models[hand.other].solids.bands[name]), abs=1e-3
        )


def test_bench_stands_on_the_side_of_the_hand(models: dict[Hand, SetModel], hand: Hand) -> None:
    """Facing the head wall from the foot of the bed, x runs to the right."""
    assembly = models[hand].room_set.assembly
    bench, bed = assembly.board("bench/deck"), assembly.board("bed/deck 1")
    to_the_right = bench.box.centre.x > bed.box.centre.x
    assert to_the_right is (hand is Hand.RIGHT)


def test_all_seats_are_at_one_height(models: dict[Hand, SetModel], hand: Hand) -> None:
    """Common practice, no source: base tops of one set stand at one height (13 1/4 in is one
    common value) and free legs have that same height.
    """
    assembly = models[hand].room_set.assembly
    seats = [joint for joint in assembly.joints if isinstance(joint, Seated)]
    heights = {round(assembly.part(name).box.high.z, 6) for seat in seats for name in seat.on}
    undersides = {round(assembly.part(seat.top).box.low.z, 6) for seat in seats}
    assert heights == undersides == {round(13.25 * INCH, 6)}
    assert {leg.box.high.z for leg in assembly.legs} == {13.25 * INCH}


def test_the_angle_lies_in_every_notch_with_its_clearance(
    models: dict[Hand, SetModel], hand: Hand
) -> None:
    model = models[hand]
    assembly = model.room_set.assembly
    (angle,) = assembly.angles
    crossed = [joint.through for joint in assembly.joints if isinstance(joint, Passing)]
    assert sorted(crossed) == ["bed/near side panel", "bench/side panel"]
    clearance = CONSTRUCTION.angle_clearance_mm
    for name in crossed:
        for side in (-1, 1):
            inside = cq.Location(cq.Vector(0, side * (clearance - 0.01), 0))
            beyond = cq.Location(cq.Vector(0, side * (clearance + 0.5), 0))
            solid, panel = model.solids.members[angle.name], model.solids.boards[name]
            assert solid.moved(inside).intersect(panel).Volume() < 1e-3
            assert solid.moved(beyond).intersect(panel).Volume() > 10.0
        for further, meets in ((-0.01, False), (0.5, True)):
            down = cq.Location(cq.Vector(0, 0, -CONSTRUCTION.angle_packing_mm - further))
            assert (solid.moved(down).intersect(panel).Volume() > 1.0) == meets


def test_notches_of_both_bases_are_in_line(models: dict[Hand, SetModel], hand: Hand) -> None:
    model = models[hand]
    cuts = [
        feature.box
        for name in ("bed/near side panel", "bench/side panel")
        for feature in model.machining.of(name)
        if hasattr(feature, "box")
    ]
    assert len(cuts) == 2
    assert cuts[0].low[1:] == pytest.approx(cuts[1].low[1:])
    assert cuts[0].high[1:] == pytest.approx(cuts[1].high[1:])


def test_a_cleat_screw_leaves_half_an_inch_in_the_panel(
    models: dict[Hand, SetModel], hand: Hand
) -> None:
    """Common practice, no source: a No. 8 x 1 1/4 in screw through a 3/4 in cleat leaves 1/2 in in
    a 3/4 in panel and does not show.
    """
    assembly = models[hand].room_set.assembly
    thin = [
        joint
        for joint in assembly.joints
        if isinstance(joint, Screwed) and joint.screw.description == "No. 8 x 1 1/4 in"
    ]
    assert len(thin) > 30
    for joint in thin:
        into = assembly.part(joint.into)
        assert penetration_mm(joint, into) == pytest.approx(0.5 * INCH)
        skin = into.box.size(joint.direction.axis) - penetration_mm(joint, into)
        assert skin == pytest.approx(0.25 * INCH)


def test_fastener_counts(models: dict[Hand, SetModel], hand: Hand) -> None:
    """Common practice, no source: No. 10 x 3 in screws in wall rails, at most 240 mm apart and
    three at least, so three in 277 mm and four in 683; four screws a leg.
    """
    assembly = models[hand].room_set.assembly
    for rail, count in (("bench/head wall rail", 3), ("bench/side wall rail", 4)):
        screws = [
            joint
            for joint in assembly.joints
            if isinstance(joint, FixedToWall) and joint.through == rail
        ]
        assert [joint.screw.description for joint in screws] == ["No. 10 x 3 in"] * count
    for leg in assembly.legs:
        screws_of_leg = [
            joint
            for joint in assembly.joints
            if isinstance(joint, Screwed) and joint.through == leg.name
        ]
        assert len(screws_of_leg) == 4


def test_legs_stand_eight_inches_from_the_edges(models: dict[Hand, SetModel], hand: Hand) -> None:
    """Common practice, no source: decks overhang 8 in, legs are centred 8 in from the edges."""
    assembly = models[hand].room_set.assembly
    decks = [board.box for board in assembly.boards if board.name.startswith("bed/deck")]
    low_x, high_x = min(b.low.x for b in decks), max(b.high.x for b in decks)
    foot_y = min(b.low.y for b in decks)
    xs = sorted(leg.foot.x for leg in assembly.legs)
    assert math.isclose(xs[0] - low_x, 8 * INCH)
    assert math.isclose(high_x - xs[-1], 8 * INCH)
    assert all(math.isclose(leg.foot.y - foot_y, 8 * INCH) for leg in assembly.legs)
    side = assembly.board("bed/far side panel").box
    assert math.isclose(
        min(abs(side.low.x - low_x), abs(side.high.x - high_x)), 8 * INCH, abs_tol=1e-6
    )


def test_every_hole_comes_from_a_joint(models: dict[Hand, SetModel], hand: Hand) -> None:
    """Counted in the panels that were read back from the solids."""
    model = models[hand]
    assembly = model.room_set.assembly
    boards = {board.name for board in assembly.boards}
    expected = dict.fromkeys(boards, 0)
    for joint in assembly.joints:
        if isinstance(joint, Screwed):
            for name in {joint.through, joint.into} & boards:
                expected[name] += 1
        elif isinstance(joint, FixedToWall) and joint.through in boards:
            expected[joint.through] += 1 if joint.cap is None else 2
    found = {
        read.board.name: len(read.laid.panel.bores) + len(read.laid.panel.edge_bores)
        for read in model.read_boards
    }
    assert found == expected


def test_bands_are_solids_of_their_own(models: dict[Hand, SetModel], hand: Hand) -> None:
    """One an edge; one run round the edges that a rounded corner joins."""
    model = models[hand]
    counts = {name: len(bands) for name, bands in model.solids.bands.items() if bands}
    assert counts["wall panel/panel"] == 4
    assert counts["bedside table/top"] == 3
    assert counts["bed/foot panel"] == 2
    assert counts["bench/deck"] == counts["bed/deck 2"] == 1
    for board in model.room_set.assembly.boards:
        finished = 1.0
        for size in (board.box.size(axis) for axis in Axis):
            finished *= size
        if not board.rounded and not model.machining.of(board.name):
            whole = model.solids.boards[board.name].Volume() + sum(
                band.Volume() for band in model.solids.bands[board.name]
            )
            assert whole == pytest.approx(finished)
