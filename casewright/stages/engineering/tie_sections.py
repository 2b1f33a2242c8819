"""The sections at a steel angle: along it, and across it where it runs through boards."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from casewright.stages.engineering.set_views import level_camera, seen_box
from export.dimensions.reading import drawn_length
from export.papers.blocks import Row
from export.set_drawing.content import CutFace, Filled, Plane, SectionsOfTie, SetView
from parametric.geometry.outline import Bounds
from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.joints.joints import Housed, Passing
from parametric.joints.machining import passing_cut
from parametric.pictures.bodies import Block, blocks_of
from parametric.pictures.camera import Camera
from parametric.pictures.frame import cut_off
from parametric.pictures.section import faces_cut, half_room, left_in
from parametric.pictures.sight import Line, seen_lines
from parametric.shapes.board import Board
from parametric.shapes.members import Member, SteelAngle, WallPlate
from parametric.solids.set_model import SetModel
from parametric.stock.lengths import Units

_REACH_MM = 1e5  # beyond any set
_BESIDE_MM, _OVER_MM = 150.0, 30.0  # what is shown beyond an angle's ends, and over what is cut
_MOST_HIGH_MM = 600.0  # of what is shown over an angle
_DIGITS = 6
_ROUND_SLOT_MM = 70.0  # what is shown round an opening

Parts = Sequence[Board | Member]


def tie_sections(
    model: SetModel,
    parts: Parts,
    letters: Iterator[str],
    numbers: Mapping[str, str],
    units: Units,
) -> Iterator[tuple[SectionsOfTie, Plane]]:
    """Yield for each steel angle its sections, and the plane along it as the plan shows it;
    `letters` name the planes. `numbers` are those of the parts by name.
    """
    assembly = model.room_set.assembly
    blocks = {part.name: blocks_of(part, model.machining) for part in parts}
    housed = frozenset(joint.member for joint in assembly.joints if isinstance(joint, Housed))
    for angle in assembly.angles:
        passed = [j for j in assembly.joints if isinstance(j, Passing) and j.member == angle.name]
        cuts = [
            (joint, board, passing_cut(joint, angle, board, model.routing).box)
            for joint in passed
            for board in (assembly.board(joint.through),)
        ]
        out = model.room_set.outwards[angle.unit]
        lengthwise = _Section(parts, blocks, housed, out, angle.upright_leg.centre[out.axis])
        first = next(letters)
        views, planes = [], []
        for _, board, box in cuts:
            letter = next(letters)
            to_corner = _towards_corner(angle.along, board)
            section = _Section(parts, blocks, housed, to_corner, board.box.centre[angle.along])
            views.append(section.across(letter, board, angle, box))
            planes.append((letter, box.centre, to_corner.opposite))
        yield (
            SectionsOfTie(
                name=f"{angle.description} {numbers[angle.name]}",
                along=lengthwise.along(first, angle, [box for _, _, box in cuts], planes),
                across=tuple(views),
                sizes=tuple(_row(joint, board, box, angle, units) for joint, board, box in cuts),
            ),
            lengthwise.plane_in_plan(first, angle.box),
        )


class _Section:
    """A set cut by an upright plane, seen from the side `towards`."""

    def __init__(
        self,
        parts: Parts,
        blocks: Mapping[str, tuple[Block, ...]],
        housed: frozenset[str],
        towards: Direction,
        at: float,
    ) -> None:
        self._parts, self._blocks, self._towards, self._at = parts, blocks, towards, at
        self._camera: Camera = level_camera(towards)
        self._housed = housed

    def along(
        self,
        letter: str,
        angle: SteelAngle,
        cuts: Sequence[Box],
        across: Sequence[tuple[str, Point, Direction]],
    ) -> SetView:
        """Return the section along an angle, with what it runs through and carries, and the planes
        `across` it: letter, a point, the way one looks.
        """
        cut = [(part, faces) for part in self._parts if (faces := self._faces(part))]
        span = angle.box
        for way in (Direction((angle.along, 1)), Direction((angle.along, -1))):
            span = span.grown(way, _BESIDE_MM)
        near = [
            (part, box)
            for part, faces in cut
            for box in faces
            if box.high[angle.along] > span.low[angle.along]
            and box.low[angle.along] < span.high[angle.along]
        ]
        top = min(max(b.high.z for _, b in near), angle.box.high.z + _MOST_HIGH_MM) + _OVER_MM
        shown = Box(span.low.at(Axis.Z, 0.0), span.high.at(Axis.Z, top))
        told = [angle.box, *cuts, *(p.box for p, _ in near if self._is_told(p))]
        ends = [corner for box in told for corner in (box.low, box.high)]
        upright = [p for p, _ in near if isinstance(p, Board) and p.facing.axis is not Axis.Z]
        view = self._view(
            f"{letter}-{letter}, along the steel angle",
            shown,
            along=[*ends, *(c for p in upright for c in (p.box.low, p.box.high))],
            across=ends,
        )
        return replace(view, planes=tuple(self._plane_across(*each, angle) for each in across))

    def across(self, letter: str, board: Board, angle: SteelAngle, cut: Box) -> SetView:
        """Return the section across an angle in a board that it runs through."""
        axis = self._other
        low = cut.low.at(axis, cut.low[axis] - _ROUND_SLOT_MM)
        high = cut.high.at(axis, cut.high[axis] + _ROUND_SLOT_MM)
        shown = Box(
            low.at(Axis.Z, cut.low.z - _ROUND_SLOT_MM), high.at(Axis.Z, cut.high.z + _OVER_MM)
        )
        boxes = (cut, angle.upright_leg, angle.flat_leg)
        places = [corner for box in boxes for corner in (box.low, box.high)]
        title = f"{letter}-{letter}, through the {board.description}"
        return self._view(title, shown, along=places, across=places)

    def _plane_across(self, letter: str, at: Point, looking: Direction, angle: SteelAngle) -> Plane:
        low, high = (at.at(Axis.Z, box.z) for box in (angle.box.low, angle.box.high))
        return Plane(
            letter,
            (self._camera.seen(low), self._camera.seen(high)),
            self._camera.seen(looking.vector),
        )

    def plane_in_plan(self, letter: str, box: Box) -> Plane:
        """Return the plane as the plan shows it, as far as a box."""
        start, end = (p.at(self._towards.axis, self._at) for p in (box.low, box.high))
        look = self._towards.opposite.vector
        return Plane(letter, ((start.x, start.y), (end.x, end.y)), (look.x, look.y))

    @property
    def _other(self) -> Axis:
        """The level axis in the plane."""
        return Axis.Y if self._towards.axis is Axis.X else Axis.X

    def _faces(self, part: Board | Member) -> list[Box]:
        return list(faces_cut(self._blocks[part.name], self._towards.axis, self._at))

    def _is_told(self, part: Board | Member) -> bool:
        """Whether the ends of a level board are told: not those in grooves, which nobody sees."""
        level = isinstance(part, Board) and part.facing.axis is Axis.Z
        return level and part.name not in self._housed

    def _view(
        self, title: str, shown: Box, along: Sequence[Point], across: Sequence[Point]
    ) -> SetView:
        frame = seen_box(shown, self._camera)
        behind = half_room(self._towards, self._at, _REACH_MM)
        left = {
            part.name: body
            for part in self._parts
            if (body := left_in(self._blocks[part.name], behind)) is not None
        }
        seen = seen_lines([body.edges for body in left.values()], left.values(), self._camera)
        lines = dict.fromkeys(line for group in seen for line in cut_off(group, frame))
        return SetView(
            title=title,
            lines=tuple(lines),
            box=frame,
            along=tuple(map(self._camera.seen, along)),
            across=tuple(map(self._camera.seen, across)),
            faces=tuple(self._cut_faces(frame)),
            walls=self._floor(frame),
            from_corner=False,
        )

    def _cut_faces(self, frame: Bounds) -> Iterator[CutFace]:
        for part in self._parts:
            boxes = [_within(seen_box(box, self._camera), frame) for box in self._faces(part)]
            shown = tuple(box for box in boxes if box is not None)
            if shown:
                yield CutFace(shown, _filled(part))

    def _floor(self, frame: Bounds) -> tuple[tuple[str, Line], ...]:
        floor = ((frame.x0, 0.0), (frame.x1, 0.0))
        return (("floor", floor),) if frame.y0 <= 0.0 <= frame.y1 else ()


def _towards_corner(along: Axis, board: Board) -> Direction:
    """Return the way to the corner, which is the origin."""
    return Direction((along, -1 if board.box.centre[along] > 0 else 1))


def _filled(part: Board | Member) -> Filled:
    if isinstance(part, SteelAngle | WallPlate):
        return Filled.STEEL
    if isinstance(part, Board) and part.facing.axis is not Axis.Z:
        return Filled.FALLING
    return Filled.RISING


def _within(box: Bounds, frame: Bounds) -> Bounds | None:
    cut = Bounds(
        max(box.x0, frame.x0), max(box.y0, frame.y0), min(box.x1, frame.x1), min(box.y1, frame.y1)
    )
    # Without the noise of floats boxes that touch have no seam.
    cut = Bounds(*(round(value, _DIGITS) for value in cut))
    return cut if cut.x0 < cut.x1 and cut.y0 < cut.y1 else None


def _row(joint: Passing, board: Board, cut: Box, angle: SteelAngle, units: Units) -> Row:
    """Return what must hold where an angle runs through a board."""
    axis = angle.upright.axis

    def show(mm: float) -> str:
        return drawn_length(mm, units)

    return (
        board.description,
        show(cut.size(axis)),
        show(cut.size(Axis.Z)),
        show(min(abs(cut.low[axis]), abs(cut.high[axis]))),
        show(cut.low.z),
        show(joint.clearance_mm),
        show(joint.packing_mm),
    )
