"""Square members in corners that a round bit has cut: the real solids, slid a little.

What a finding says of a clearance must be what the solids have: moved by a little less nothing
meets, moved by a little more it does. The kernel's booleans (Open CASCADE) are the judge.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import cadquery as cq
import pytest

from parametric.findings.check_set import check_set
from parametric.findings.finding import Finding, Severity
from parametric.geometry.hand import Hand
from parametric.geometry.space import SAME_MM, Axis, Box, Direction
from parametric.joints.joints import Housed, Passing
from parametric.joints.machining import Machining, housing, machining
from parametric.sets.room_set import RoomSet, build_set
from parametric.shapes.board import Board
from parametric.shapes.features import Cutout
from parametric.shapes.members import SteelAngle
from parametric.shapes.routing import CornerRelief, Routing
from parametric.solids.board_solid import band_solids, board_solid
from parametric.solids.kernel_errors import KernelFailure
from parametric.solids.member_solid import member_solid
from tests.example_set import CONSTRUCTION, INCH, ROUTING, TRIM_MM, set_sizes
from tests.told import said

BITS_MM = [3.0, 6.35, 9.525, 12.0]
A_LITTLE_MM = 0.05
FREE_MM3, MET_MM3 = 1e-4, 1e-2

reliefs = pytest.mark.parametrize("relief", list(CornerRelief))
bits = pytest.mark.parametrize("bit_mm", BITS_MM)
hands = pytest.mark.parametrize("hand", list(Hand))


@dataclass(frozen=True)
class Made:
    room_set: RoomSet
    worked: Machining
    routing: Routing

    @property
    def angle(self) -> SteelAngle:
        (angle,) = self.room_set.assembly.angles
        return angle

    def findings(self, code: str) -> list[Finding]:
        found = check_set(self.room_set, self.worked, self.routing, TRIM_MM)
        return [finding for finding in found if finding.code == code]

    def board(self, name: str) -> cq.Shape:
        """The board with its bands."""
        board, features = self.room_set.assembly.board(name), self.worked.of(name)
        wood = board_solid(board, features, self.routing)
        return cq.Compound.makeCompound([wood, *band_solids(board, features, self.routing)])

    def notched(self) -> list[Board]:
        joints = self.room_set.assembly.joints
        return [
            self.room_set.assembly.board(joint.through)
            for joint in joints
            if isinstance(joint, Passing)
        ]


def made(hand: Hand, relief: CornerRelief, bit_mm: float, clearance_mm: float = 1.5) -> Made:
    routing = replace(ROUTING, corner_relief=relief, bit_diameter_mm=bit_mm)
    construction = replace(CONSTRUCTION, angle_clearance_mm=clearance_mm, angle_packing_mm=0.0)
    room_set = build_set(set_sizes(), hand, construction, routing, TRIM_MM)
    return Made(room_set, machining(room_set.assembly, routing), routing)


def shared_mm3(solid: cq.Shape, board: cq.Shape, *moves: tuple[Direction, float]) -> float:
    """Common volume once the solid is moved so far each way."""
    for towards, by_mm in moves:
        solid = solid.translate(cq.Vector(*towards.vector) * by_mm)
    return sum(each.Volume() for each in solid.intersect(board).Solids())


@hands
@reliefs
@bits
def test_the_angle_slides_in_its_notches_as_far_as_the_findings_say(
    hand: Hand, relief: CornerRelief, bit_mm: float
) -> None:
    """By hand: 1.5 mm were asked for at each side, 3.0 mm in all."""
    set_made = made(hand, relief, bit_mm)
    angle = set_made.angle
    steel = member_solid(angle, set_made.worked.of(angle.name), set_made.routing)
    clear = [finding.measured for finding in set_made.findings("angle-clearance")]
    assert clear == pytest.approx([1.5, 1.5])
    (stacked,) = set_made.findings("stack-angle-slot")
    assert " 3 mm; tolerances take" in said(stacked)
    to_heel, back = angle.upright, angle.upright.opposite
    for panel in set_made.notched():
        wood = set_made.board(panel.name)
        for side in (to_heel, back):
            assert shared_mm3(steel, wood, (side, 1.5 - A_LITTLE_MM)) < FREE_MM3
        # In a rounded corner the other side, without a leg at the bottom, has the radius as well.
        spare_mm = bit_mm / 2 if relief is CornerRelief.WIDEN else 0.0
        assert shared_mm3(steel, wood, (to_heel, 1.5 + 0.5)) > MET_MM3
        assert shared_mm3(steel, wood, (back, 1.5 + spare_mm + A_LITTLE_MM)) > MET_MM3


@hands
@reliefs
@bits
def test_the_whole_toe_of_the_angle_bears_on_the_notch(
    hand: Hand, relief: CornerRelief, bit_mm: float
) -> None:
    """By hand: let down by half a millimetre into a panel of 3/4 in, a leg of 1/4 in displaces
    0.5 x 1/4 in x 3/4 in. What the bit takes beside it must not be what it stands on.
    """
    set_made = made(hand, relief, bit_mm, clearance_mm=0.2)
    angle = set_made.angle
    steel = member_solid(angle, set_made.worked.of(angle.name), set_made.routing)
    for panel in set_made.notched():
        sunk = shared_mm3(steel, set_made.board(panel.name), (Direction.Z_MINUS, 0.5))
        assert sunk == pytest.approx(0.5 * (INCH / 4) * (3 * INCH / 4), rel=1e-6)


@pytest.mark.parametrize(
    ("clearance_mm", "severity"),
    [(1.3, Severity.OK), (1.0, Severity.WARN), (0.7, Severity.FAIL)],
)
@reliefs
@bits
def test_a_tight_notch_is_tight_with_every_bit(
    relief: CornerRelief, bit_mm: float, clearance_mm: float, severity: Severity
) -> None:
    """The sums of `test_stackups`: 2.50 mm at worst and 1.44 mm as root sum square, of 2 x the
    clearance. How large the bit is gives the angle no play.
    """
    (stacked,) = made(Hand.RIGHT, relief, bit_mm, clearance_mm).findings("stack-angle-slot")
    assert stacked.severity is severity
    assert stacked.measured == pytest.approx(2 * clearance_mm - 2.085**0.5)


@reliefs
def test_overcuts_count_in_what_is_left_beside_a_notch(relief: CornerRelief) -> None:
    """By hand: the bench's side panel runs from the head wall, the angle lies 8 in from it, less
    1.5 mm of clearance and, past the side or as its radius, half the bit of 12 mm.
    """
    set_made = made(Hand.RIGHT, relief, 12.0)
    (beside,) = (
        finding
        for finding in set_made.findings("notch-left-beside")
        if "bench/side panel" in finding.where
    )
    panel = set_made.room_set.assembly.board("bench/side panel")
    to_wall = 8 * INCH - abs(panel.box.high.y)
    assert beside.measured == pytest.approx(to_wall - 1.5 - 6.0)


def housed(set_made: Made) -> Iterator[tuple[Housed, cq.Shape, cq.Shape]]:
    """Each board with the other, in which only its groove is cut, since others run into that."""
    assembly = set_made.room_set.assembly
    for joint in assembly.joints:
        if isinstance(joint, Housed):
            into = assembly.board(joint.into)
            groove = housing(joint, assembly.board(joint.member), into, set_made.routing)
            wood = board_solid(into, [groove], set_made.routing)
            yield joint, set_made.board(joint.member), wood


@hands
@pytest.mark.parametrize("bit_mm", [3.0, 9.525, 12.0])
def test_a_board_has_its_play_at_every_side_of_its_groove(hand: Hand, bit_mm: float) -> None:
    """By hand: 0.2 mm of play, half of it at each side and, where the groove stops, at its end; in
    a rounded corner both at once. And 0.2 mm of glue room at the bottom.
    """
    set_made = made(hand, CornerRelief.OVERCUT, bit_mm)
    assembly = set_made.room_set.assembly
    corners = 0
    for joint, member, wood in housed(set_made):
        one, other = assembly.board(joint.member), assembly.board(joint.into)
        common = one.box.overlap(other.box)
        assert common is not None
        across = one.facing
        entry = other.facing
        if abs(common.side(entry) - other.box.side(entry)) > SAME_MM:
            entry = entry.opposite
        run = next(axis for axis in Axis if axis not in (across.axis, entry.axis))

        def closed(side: Direction, common: Box = common, other: Board = other) -> bool:
            return (other.box.side(side) - common.side(side)) * side.sign > SAME_MM

        assert shared_mm3(member, wood) < FREE_MM3
        assert shared_mm3(member, wood, (entry.opposite, 0.2 - 0.02)) < FREE_MM3
        assert shared_mm3(member, wood, (entry.opposite, 0.2 + 0.02)) > MET_MM3
        for side in filter(closed, (across, across.opposite)):
            assert shared_mm3(member, wood, (side, 0.1 - 0.01)) < FREE_MM3
            assert shared_mm3(member, wood, (side, 0.1 + 0.01)) > MET_MM3
            for end in filter(closed, (Direction((run, 1)), Direction((run, -1)))):
                corners += 1
                aside = (side, 0.1 - 1e-4)
                assert shared_mm3(member, wood, aside, (end, 0.1 - 0.01)) < FREE_MM3
                assert shared_mm3(member, wood, aside, (end, 0.1 + 0.5)) > MET_MM3
    # Top and bottom: both sides in front, the back, open behind, at both ends. The shelf: all four.
    assert corners == 2 * (2 * 2 + 2) + 2 * 4


def test_a_notch_narrower_than_the_bit_cannot_be_cut() -> None:
    """A leg of 2 in with 1.5 mm on both sides leaves 53.8 mm."""
    set_made = made(Hand.RIGHT, CornerRelief.OVERCUT, 9.525)
    panel = set_made.notched()[0]
    routing = replace(set_made.routing, bit_diameter_mm=60.0)
    notch = [cut for cut in set_made.worked.of(panel.name) if isinstance(cut, Cutout)]
    with pytest.raises(KernelFailure, match=r"53\.80 mm wide cut is too narrow"):
        board_solid(panel, notch, routing)
