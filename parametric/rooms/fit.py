"""One measured room and its set: does it go in, and what has to be made up for.

The room frame has the corner of head wall and side wall at the origin, so distances from the corner
are the same in both hands.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from parametric.geometry.space import SAME_MM, Axis, Box
from parametric.geometry.walls import Wall
from parametric.joints.assembly import Assembly
from parametric.joints.groups import off_wall_mm
from parametric.joints.joints import Hung
from parametric.rooms.asked import not_measured
from parametric.rooms.fitting import Fitting
from parametric.rooms.measured import Measured
from parametric.rooms.room_fit import Packing, RoomFit, SideGap
from parametric.rooms.turning_room import turned_here
from parametric.rooms.wall_fixings import missed_fixings, wall_fixings
from parametric.sets.room_set import RoomSet
from parametric.shapes.board import Board
from parametric.steps.words import plain_name
from parametric.stock.lengths import Units, show_length

AT_FLOOR, AT_SEAT, AT_PANEL = "at the floor", "at the seat", "at the panel"
ALONG_SIDE = "along the side wall"


def fit_room(
    room: str,
    room_set: RoomSet,
    measured: Measured,
    others: Sequence[RoomSet],
    fitting: Fitting,
    units: Units,
) -> RoomFit:
    """Return how the set goes into the room; `others` are the job's other sets of the same hand."""
    assembly = room_set.assembly
    refusal = _refusal(room_set, measured, fitting, units)
    fitting_others = [s for s in others if not _refusal(s, measured, fitting, units)]
    nearest = min(
        fitting_others,
        key=lambda other: (abs(run_mm(other) - run_mm(room_set)), other.name),
        default=None,
    )
    return RoomFit(
        room=room,
        set_name=room_set.name,
        refusal=refusal,
        nearest=nearest.name if refusal and nearest is not None else "",
        gaps=tuple(far_gaps(room_set, measured)),
        side_gaps=tuple(side_gaps(room_set, measured)),
        wedge=_wedge(room_set, measured),
        measured=_measured(room_set, measured),
        shift_mm=_shift_mm(room_set, measured),
        width_off_mm=_width_off_mm(room_set, measured),
        floor_fall_mm=_floor_fall_mm(measured),
        shims=tuple(_shims(room_set, measured)),
        levelling=tuple(_levelling(assembly, measured)),
        wall_base_cut_mm=wall_base_cut_mm(assembly, measured),
        missed=tuple(missed_fixings(room_set, measured, fitting)),
        unknown=not_measured(room_set, measured),
        wood_known=_wood_known(assembly, measured),
        turned=turned_here(assembly, measured),
    )


def _wood_known(assembly: Assembly, measured: Measured) -> bool:
    """Return whether any wall screw looks for wood, and somebody measured where it is."""
    known = measured.first_stud_mm is not None or measured.blocking_mm is not None
    return known and any(each.joint.wall.kind.wants_blocking for each in wall_fixings(assembly))


def _measured(room_set: RoomSet, measured: Measured) -> bool:
    """Return whether an opening was measured along each wall of the corner that has something."""
    gaps = {Wall.HEAD: far_gaps(room_set, measured), Wall.SIDE: side_gaps(room_set, measured)}
    stands = [wall for wall in gaps if boards_along(room_set, wall)]
    return bool(stands) and all(any(True for _ in gaps[wall]) for wall in stands)


def run_mm(room_set: RoomSet) -> float:
    """Return how far the set reaches along the head wall from the corner; 0 if nothing stands
    there.
    """
    boards = boards_along(room_set, Wall.HEAD)
    return _from_corner(furthest(boards).box, Axis.X)[1] if boards else 0.0


def boards_along(room_set: RoomSet, wall: Wall) -> tuple[Board, ...]:
    """Return the boards of what stands and hangs along a wall."""
    units = room_set.along(wall)
    return tuple(board for board in room_set.assembly.boards if board.unit in units)


def furthest(boards: Sequence[Board], along: Axis = Axis.X) -> Board:
    """Return the board that reaches furthest along a wall from the corner; of several the longest,
    then the first.

    Raises:
        ValueError: there are no boards.
    """
    return max(
        boards,
        key=lambda board: (round(_from_corner(board.box, along)[1], 6), board.box.size(along)),
    )


def _refusal(room_set: RoomSet, measured: Measured, fitting: Fitting, units: Units) -> str:
    """Return why the set does not go into the room; empty if nothing measured stands against it."""
    gaps = (*far_gaps(room_set, measured), *side_gaps(room_set, measured))
    tight = min(gaps, key=lambda gap: gap.gap_mm, default=None)
    if tight is not None and tight.gap_mm < fitting.least_gap_mm - SAME_MM:
        if tight.gap_mm < 0:
            return f"{show_length(-tight.gap_mm, units)} too long {tight.where}"
        return (
            f"only {show_length(tight.gap_mm, units)} to spare {tight.where}; it needs"
            f" {show_length(fitting.least_gap_mm, units)}"
        )
    return refusal_at_any_width(room_set, measured, fitting, units)


def refusal_at_any_width(
    room_set: RoomSet, measured: Measured, fitting: Fitting, units: Units
) -> str:
    """Return what stands against the set and would against a wider or a narrower one: corner or
    floor; empty for nothing.
    """
    wedge = _wedge(room_set, measured)
    if wedge is not None and wedge.gap_mm > fitting.most_scribe_mm + SAME_MM:
        return (
            f"the corner leaves a wedge of {show_length(wedge.gap_mm, units)}; a scribe takes"
            f" {show_length(fitting.most_scribe_mm, units)} at most"
        )
    off = _width_off_mm(room_set, measured)
    if off is not None and abs(off) > fitting.most_scribe_mm + SAME_MM:
        way = "wider" if off > 0 else "narrower"
        return f"the room is {show_length(abs(off), units)} {way} than its room_width"
    fall = _floor_fall_mm(measured)
    if fall is not None and fall > fitting.most_levelling_mm + SAME_MM:
        return (
            f"the floor falls by {show_length(fall, units)}; levelling takes"
            f" {show_length(fitting.most_levelling_mm, units)} at most"
        )
    return ""


def far_gaps(room_set: RoomSet, measured: Measured) -> Iterator[SideGap]:
    """Yield what is left of each measured opening beyond what the set holds along the head wall at
    that height.
    """
    shift_mm = _shift_mm(room_set, measured)
    hung = {joint.panel for joint in room_set.assembly.joints if isinstance(joint, Hung)}
    along = boards_along(room_set, Wall.HEAD)
    at_floor = [b for b in along if b.box.low.z < SAME_MM]
    at_panel = [b for b in along if b.name in hung]
    for where, opening, boards in (
        (AT_FLOOR, measured.opening_at_floor_mm, at_floor),
        (AT_SEAT, measured.opening_at_seat_mm, along),
        (AT_PANEL, measured.opening_at_panel_mm, at_panel),
    ):
        if opening is not None and boards:
            far = furthest(boards)
            reach = _from_corner(far.box, Axis.X)[1]
            yield SideGap(where=where, gap_mm=opening - reach - shift_mm, beyond=far.name)


def side_gaps(room_set: RoomSet, measured: Measured) -> Iterator[SideGap]:
    """Yield what is left of the opening along the side wall beyond what the set holds there."""
    boards = boards_along(room_set, Wall.SIDE)
    if measured.side_opening_mm is not None and boards:
        far = furthest(boards, Axis.Y)
        reach = _from_corner(far.box, Axis.Y)[1]
        yield SideGap(where=ALONG_SIDE, gap_mm=measured.side_opening_mm - reach, beyond=far.name)


def _shift_mm(room_set: RoomSet, measured: Measured) -> float:
    """Return how far a side wall that leans in keeps the set from the corner."""
    return max(0.0, -_lean_mm(room_set, measured))


def _width_off_mm(room_set: RoomSet, measured: Measured) -> float | None:
    """Return how much wider the narrowest opening is than the room that the set counts on; None
    where nothing stands along the far wall, or nothing was measured.
    """
    heights = (
        measured.opening_at_floor_mm,
        measured.opening_at_seat_mm,
        measured.opening_at_panel_mm,
    )
    openings = [opening for opening in heights if opening is not None]
    width_mm = room_set.sizes.room_width_mm
    if width_mm is None or not openings or not room_set.along(Wall.FAR):
        return None
    return min(openings) - width_mm


def _lean_mm(room_set: RoomSet, measured: Measured) -> float:
    """Return how far the side wall has left the square at the front of what stands against it in
    the corner; what stands further along the side wall goes by that wall itself.
    """
    out = measured.corner_out_of_square_per_1000
    if out is None:
        return 0.0
    return out / 1000 * max((_from_corner(b.box, Axis.Y)[1] for b in _at_side(room_set)), default=0)


def _wedge(room_set: RoomSet, measured: Measured) -> SideGap | None:
    """Return the wedge between set and side wall, where it is widest; None for a square corner."""
    lean = _lean_mm(room_set, measured)
    if abs(lean) <= SAME_MM:
        return None
    where = "at the side wall, in front" if lean > 0 else "at the side wall, in the corner"
    return SideGap(where=where, gap_mm=abs(lean))


def _shims(room_set: RoomSet, measured: Measured) -> Iterator[Packing]:
    """Yield what fills the room behind each wall screw: by the sizes of the set, and at the side
    wall, where the corner was measured, the wedge besides.
    """
    out = measured.corner_out_of_square_per_1000
    shift = _shift_mm(room_set, measured)
    from_corner = sorted(wall_fixings(room_set.assembly), key=lambda fixing: fixing.across_mm)
    counted: Counter[str] = Counter()
    for fixing in from_corner:
        thickness, where, screw = off_wall_mm(room_set.assembly, fixing.joint), fixing.where, 0
        if fixing.wall is Wall.SIDE and out is not None:
            thickness += shift + out / 1000 * fixing.across_mm
            counted[where] += 1
            screw = counted[where]
        if thickness > SAME_MM:
            yield Packing(where=where, least_mm=thickness, most_mm=thickness, screw=screw)


def _levelling(assembly: Assembly, measured: Measured) -> Iterator[Packing]:
    """Yield legs and bases. Only the highest and the lowest point are known, so that each may need
    anything from nothing to their difference.
    """
    fall = _floor_fall_mm(measured)
    if fall is None or fall <= SAME_MM:
        return
    units = dict.fromkeys(b.unit for b in assembly.boards if b.box.low.z < SAME_MM)
    bases = [f"{unit} base, each corner" for unit in units]
    for where in (*bases, *(plain_name(leg.name) for leg in assembly.legs)):
        yield Packing(where=where, least_mm=0.0, most_mm=fall)


def _floor_fall_mm(measured: Measured) -> float | None:
    if measured.floor_high_mm is None or measured.floor_low_mm is None:
        return None
    return measured.floor_high_mm - measured.floor_low_mm


def wall_base_cut_mm(assembly: Assembly, measured: Measured) -> float | None:
    """Return how much wall base, along both walls, stands where boards of the set go; None if it
    was not measured.
    """
    height, thickness = measured.wall_base_height_mm, measured.wall_base_thickness_mm
    if height is None or thickness is None:
        return None
    total = 0.0
    for along, out in ((Axis.X, Axis.Y), (Axis.Y, Axis.X)):
        spans = [
            _from_corner(board.box, along)
            for board in assembly.boards
            if board.box.low.z < height - SAME_MM
            and _from_corner(board.box, out)[0] < thickness - SAME_MM
        ]
        total += _covered_mm(spans)
    return total


def _covered_mm(spans: Sequence[tuple[float, float]]) -> float:
    """Return the length of the union of intervals."""
    total, end = 0.0, 0.0
    for low, high in sorted(spans):
        total += max(0.0, high - max(low, end))
        end = max(end, high)
    return total


def _at_side(room_set: RoomSet) -> tuple[Board, ...]:
    """Return the boards along the head wall that touch the side wall."""
    boards = boards_along(room_set, Wall.HEAD)
    return tuple(board for board in boards if _from_corner(board.box, Axis.X)[0] < SAME_MM)


def _from_corner(box: Box, axis: Axis) -> tuple[float, float]:
    """Return from where to where a box reaches, along a wall from the corner."""
    low, high = sorted((abs(box.low[axis]), abs(box.high[axis])))
    return low, high
