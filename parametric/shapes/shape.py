"""Parts without a place: what a part is in a frame of its own, and the pose that puts it back.

What is costly is made once for each shape, however often and in whichever hand it stands in rooms.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from parametric.geometry.pose import Pose, reverse
from parametric.geometry.space import Axis, Box, Direction, Point, dot, unit_vector
from parametric.shapes.board import Band, Board, RoundedCorner
from parametric.shapes.features import Cutout, Feature, Hole
from parametric.shapes.members import Cleat, Leg, Member, SteelAngle, WallPlate

DIGITS = 7  # of a millimetre: below what is one length, above the noise of floats


@dataclass(frozen=True, slots=True)
class Shape:
    """A part with what is taken out of it, without name, unit and words, its box at the origin.

    Boards and bars run along x, a board's front and a cleat's wide face look up; legs stand as they
    do in the room.
    """

    part: Board | Member
    features: tuple[Feature, ...]


@dataclass(frozen=True, slots=True)
class PlacedShape:
    """A shape and where its frame lies in the room."""

    shape: Shape
    pose: Pose


@lru_cache(maxsize=4_000)
def placed_shape(part: Board | Member, features: tuple[Feature, ...]) -> PlacedShape:
    """Return the shape of a part, given with its features in the room, and where it stands.

    A board turned half round about its front is the same shape, and so is a cleat turned half round
    either way: of these ways to lie the one is taken whose cuts come first.
    """
    return min((_in_frame(part, features, frame) for frame in _frames(part)), key=_cuts)


def _frames(part: Board | Member) -> tuple[_Frame, ...]:
    """Return the frames that a part may be given in, all its own turns."""
    match part:
        case Board():
            frame = _Frame.at_low_corner(part.box, part.grain, part.facing)
            return frame, frame.turned_half(part.box)
        case Cleat():
            thin = min((axis for axis in Axis if axis is not part.along), key=part.box.size)
            ways = (Direction((thin, sign)) for sign in (1, -1))
            frames = [_Frame.at_low_corner(part.box, part.along, way) for way in ways]
            return (*frames, *(frame.turned_half(part.box) for frame in frames))
        case SteelAngle():
            return (_Frame.at_low_corner(part.box, part.along, Direction.Z_PLUS),)
        case WallPlate():
            along = Axis.X if part.out.axis is Axis.Y else Axis.Y
            return (_Frame.at_low_corner(part.box, along, Direction.Z_PLUS),)
        case Leg():
            return (_Frame.at_low_corner(part.box, Axis.X, Direction.Z_PLUS),)


def _cuts(placed: PlacedShape) -> str:
    shape = placed.shape
    outline = (shape.part.bands, shape.part.rounded) if isinstance(shape.part, Board) else ()
    return repr((shape.features, outline))


@dataclass(frozen=True, slots=True)
class _Frame:
    """A frame whose axes run along those of the room, one way or the other."""

    pose: Pose

    @classmethod
    def at_low_corner(cls, box: Box, length: Axis, up: Direction) -> _Frame:
        """Return the frame with its x axis along `length` and its z axis `up` in which the box
        starts at the origin.
        """
        return cls._around(box, unit_vector(length), up.vector)

    @classmethod
    def _around(cls, box: Box, x_axis: Point, z_axis: Point) -> _Frame:
        turned = cls(Pose(Point(0.0, 0.0, 0.0), x_axis, z_axis))
        return cls(Pose(turned.pose.to_room(turned.box(box).low), x_axis, z_axis))

    def turned_half(self, box: Box) -> _Frame:
        """Return the frame turned half round about its z axis, around the same box."""
        return self._around(box, reverse(self.pose.x_axis), self.pose.z_axis)

    def point(self, point: Point) -> Point:
        """Return a point of the room in the frame, free of noise."""
        away = tuple(a - b for a, b in zip(point, self.pose.origin, strict=True))
        axes = (self.pose.x_axis, self.pose.y_axis, self.pose.z_axis)
        return Point(*(round(dot(away, axis), DIGITS) + 0.0 for axis in axes))

    def box(self, box: Box) -> Box:
        """Return a box of the room in the frame."""
        low, high = self.point(box.low), self.point(box.high)
        return Box.spanning(*zip(low, high, strict=True))

    def direction(self, direction: Direction) -> Direction:
        """Return a direction of the room in the frame."""
        for axis, vector in zip(
            Axis, (self.pose.x_axis, self.pose.y_axis, self.pose.z_axis), strict=True
        ):
            along = round(dot(direction.vector, vector))
            if along:
                return Direction((axis, along))
        raise ValueError(f"{direction} lies along no axis of {self.pose}")

    def axis(self, axis: Axis) -> Axis:
        """Return an axis of the room in the frame."""
        return self.direction(Direction((axis, 1))).axis


def _in_frame(part: Board | Member, features: tuple[Feature, ...], frame: _Frame) -> PlacedShape:
    cuts = sorted((_feature(each, frame) for each in features), key=repr)
    return PlacedShape(Shape(_part(part, frame), tuple(cuts)), frame.pose)


def _feature(feature: Feature, frame: _Frame) -> Feature:
    match feature:
        case Hole():
            return replace(
                feature,
                start=frame.point(feature.start),
                direction=frame.direction(feature.direction),
                depth_mm=None if feature.depth_mm is None else round(feature.depth_mm, DIGITS),
            )
        case Cutout():
            return replace(
                feature,
                box=frame.box(feature.box),
                tool=frame.direction(feature.tool),
                overcut=None if feature.overcut is None else frame.axis(feature.overcut),
            )


def _part(part: Board | Member, frame: _Frame) -> Board | Member:
    """Return a part in the frame, without what does not belong to its shape."""
    match part:
        case Board():
            return replace(
                part,
                name="",
                unit="",
                description="",
                box=frame.box(part.box),
                grain=frame.axis(part.grain),
                facing=frame.direction(part.facing),
                bands=tuple(Band(frame.direction(band.edge), band.band) for band in part.bands),
                rounded=tuple(_corner(corner, frame) for corner in part.rounded),
                surface=None,
            )
        case Cleat():
            return replace(
                part,
                name="",
                unit="",
                description="",
                box=frame.box(part.box),
                along=frame.axis(part.along),
            )
        case SteelAngle():
            return replace(
                part,
                name="",
                unit="",
                description="",
                box=frame.box(part.box),
                along=frame.axis(part.along),
                upright=frame.direction(part.upright),
            )
        case WallPlate():
            return replace(
                part,
                name="",
                unit="",
                description="",
                box=frame.box(part.box),
                out=frame.direction(part.out),
            )
        case Leg():
            return replace(part, name="", unit="", description="", foot=frame.point(part.foot))


def _corner(corner: RoundedCorner, frame: _Frame) -> RoundedCorner:
    return replace(
        corner, first=frame.direction(corner.first), second=frame.direction(corner.second)
    )
