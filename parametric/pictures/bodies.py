"""Parts as pictures take them: convex pieces that hide what is behind them, and edges to draw.

Boards are their boxes less what is cut out of them, with round corners as chords; tubes are prisms.
Screw holes are left out: pictures show those that a step is about by marks of their own.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, product
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from parametric.geometry.pose import Pose
from parametric.geometry.space import Axis, Box, Direction, Point, dot
from parametric.joints.machining import Machining
from parametric.shapes.board import Board
from parametric.shapes.members import Leg, Member
from parametric.steps.part_boxes import boxes_of

CHORDS = 6
"""Chords of a quarter of a circle."""

_DIGITS = 6
AS_IT_STANDS = Pose(Point(0.0, 0.0, 0.0), Point(1.0, 0.0, 0.0), Point(0.0, 0.0, 1.0))


class Plane(NamedTuple):
    """A side of a piece: what lies inside has a scalar product with `out` of `distance` or less."""

    out: Point
    distance: float


class Edge(NamedTuple):
    """A line to draw; of one between two of the `sides` of something round, only where one of them
    is turned to the viewer and the other one away.
    """

    start: Point
    end: Point
    sides: tuple[Point, Point] | None = None


class Piece(NamedTuple):
    """A convex piece: the sides that bound it, and which two of them meet in an edge."""

    sides: tuple[Plane, ...]
    meeting: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Body:
    """A part in the room: its pieces together, and its edges."""

    pieces: tuple[Piece, ...]
    edges: tuple[Edge, ...]

    def placed(self, pose: Pose) -> Body:
        """Return the body where the pose puts it."""
        if pose == AS_IT_STANDS:
            return self
        if (pose.x_axis, pose.z_axis) == (AS_IT_STANDS.x_axis, AS_IT_STANDS.z_axis):
            return self._moved(pose.origin)
        return Body(
            tuple(
                Piece(tuple(_placed_plane(side, pose) for side in piece.sides), piece.meeting)
                for piece in self.pieces
            ),
            tuple(_placed_edge(edge, pose) for edge in self.edges),
        )

    def _moved(self, by: Point) -> Body:
        dx, dy, dz = by
        pieces = tuple(
            Piece(tuple(Plane(out, at + dot(out, by)) for out, at in piece.sides), piece.meeting)
            for piece in self.pieces
        )
        edges = tuple(
            Edge(Point(dx + x, dy + y, dz + z), Point(dx + x_end, dy + y_end, dz + z_end), sides)
            for (x, y, z), (x_end, y_end, z_end), sides in self.edges
        )
        return Body(pieces, edges)


class Block(NamedTuple):
    """A box, or what of it a convex outline square to `axis` leaves: its `corners` run round it, at
    the low side.
    """

    box: Box
    axis: Axis | None = None
    corners: tuple[Point, ...] = ()


def blocks_of(part: Board | Member, worked: Machining) -> tuple[Block, ...]:
    """Return the blocks that a part is where it ends up."""
    # Without the noise of floats, where boxes touch there is no seam.
    boxes = tuple(_rounded(box) for box in boxes_of(part, worked))
    if isinstance(part, Leg):
        plate, tube = boxes
        return Block(plate), Block(tube, Axis.Z, _ring(tube))
    if isinstance(part, Board) and part.rounded and len(boxes) == 1:
        return (Block(part.box, part.facing.axis, _outline(part)),)
    return tuple(map(Block, boxes))


def _rounded(box: Box) -> Box:
    low, high = (Point(*(round(v, _DIGITS) + 0.0 for v in end)) for end in (box.low, box.high))
    return Box(low, high)


def body_of(part: Board | Member, worked: Machining) -> Body:
    """Return the body of a part where it ends up."""
    return of_blocks(blocks_of(part, worked))


def of_blocks(blocks: Sequence[Block]) -> Body:
    """Return the body of blocks that touch or lie apart."""
    boxes = tuple(block.box for block in blocks if block.axis is None)
    rounds = (_round(box, axis, corners) for box, axis, corners in blocks if axis is not None)
    bodies = (*((of_boxes(boxes),) if boxes else ()), *rounds)
    return bodies[0] if len(bodies) == 1 else together(bodies)


def together(bodies: Iterable[Body]) -> Body:
    """Return several bodies as one; edges where they touch stay."""
    listed = tuple(bodies)
    return Body(
        tuple(piece for body in listed for piece in body.pieces),
        tuple(edge for body in listed for edge in body.edges),
    )


_BOX_EDGES = tuple(
    (at, other)
    for (at, one), (other, two) in combinations(enumerate(Direction), 2)
    if one.axis is not two.axis
)


@lru_cache(maxsize=4096)
def of_boxes(boxes: tuple[Box, ...]) -> Body:
    """Return the body of boxes that touch or lie apart; seams between them are no edges."""
    pieces = tuple(
        Piece(
            tuple(Plane(side.vector, side.sign * box.side(side)) for side in Direction), _BOX_EDGES
        )
        for box in _grown(boxes)
    )
    return Body(pieces, tuple(_edges(boxes)))


def _grown(boxes: tuple[Box, ...]) -> tuple[Box, ...]:
    """Return boxes of the same union, each as large as it can be: they overlap, so that no ray
    slips between two that only touch.
    """
    if len(boxes) < 2:
        return boxes
    levels, spans, full = _cells(boxes)
    for span, axis in product(spans, Axis):
        across = tuple(slice(*ends) for ends in (*span[:axis], *span[axis + 1 :]))
        layers = np.moveaxis(full, axis, 0)
        low, high = span[axis]
        while low > 0 and layers[low - 1][across].all():
            low -= 1
        while high < len(layers) and layers[high][across].all():
            high += 1
        span[axis] = low, high
    found = (
        Box(*(Point(*(levels[a][span[a][end]] for a in Axis)) for end in (0, 1))) for span in spans
    )
    return tuple(dict.fromkeys(found))


def _cells(
    boxes: Sequence[Box],
) -> tuple[list[list[float]], list[list[tuple[int, int]]], NDArray[np.bool_]]:
    """Return the levels at which boxes begin and end along each axis, between which of these each
    box lies, and which of the cells between levels are full.
    """
    levels = [sorted({end[axis] for box in boxes for end in (box.low, box.high)}) for axis in Axis]
    places = [{at: index for index, at in enumerate(listed)} for listed in levels]
    spans = [[(places[a][box.low[a]], places[a][box.high[a]]) for a in Axis] for box in boxes]
    full = np.zeros([len(listed) - 1 for listed in levels], dtype=np.bool_)
    for span in spans:
        full[tuple(slice(*ends) for ends in span)] = True
    return levels, spans, full


def _edges(boxes: Sequence[Box]) -> Iterator[Edge]:
    """Yield the edges of a union of boxes, axis by axis: where of the four quarters around a line
    one or three are full, or two that only meet in it.
    """
    levels, _, full = _cells(boxes)
    for along in Axis:
        across = [axis for axis in Axis if axis is not along]
        # Cells that are empty all round, and one beyond the end of each line.
        cells = np.pad(np.moveaxis(full, along, -1), 1)
        lows, highs = cells[:-1], cells[1:]
        quarters = lows[:, :-1], lows[:, 1:], highs[:, :-1], highs[:, 1:]
        count = np.sum(quarters, axis=0)
        drawn = (count % 2 == 1) | ((count == 2) & (quarters[0] == quarters[3]))
        changes = np.nonzero(drawn[:, :, 1:] != drawn[:, :, :-1])
        first, second = across
        ends = [
            Point(0.0, 0.0, 0.0)
            .at(first, levels[first][one])
            .at(second, levels[second][other])
            .at(along, levels[along][at])
            for one, other, at in zip(*(each.tolist() for each in changes), strict=True)
        ]
        yield from map(Edge, ends[::2], ends[1::2])


@lru_cache(maxsize=4096)
def _round(box: Box, axis: Axis, corners: tuple[Point, ...]) -> Body:
    """Return the prism over an outline at the low side of a box; `corners` run round it, and what
    turns by less than half a right angle between two of its sides is drawn as round.
    """
    low, high = Direction((axis, -1)), Direction((axis, 1))
    planes = [Plane(side.vector, side.sign * box.side(side)) for side in (low, high)]
    middle = box.centre
    sides = []
    for start, end in zip(corners, [*corners[1:], corners[0]], strict=True):
        out = _across(start, end, axis)
        if dot(out, start) < dot(out, middle):
            out = Point(*(0.0 - value for value in out))
        sides.append(Plane(out, dot(out, start)))
    edges = []
    for at, corner in enumerate(corners):
        following = corners[(at + 1) % len(corners)]
        for level in (box.low[axis], box.high[axis]):
            edges.append(Edge(corner.at(axis, level), following.at(axis, level)))
        pair = sides[at - 1].out, sides[at].out
        turned = None if dot(*pair) < math.cos(math.pi / 4) else pair
        edges.append(Edge(corner.at(axis, box.low[axis]), corner.at(axis, box.high[axis]), turned))
    count = len(sides)
    meeting = [(2 + at, 2 + (at + 1) % count) for at in range(count)]
    meeting += [(cap, 2 + at) for cap in (0, 1) for at in range(count)]
    return Body((Piece((*planes, *sides), tuple(meeting)),), tuple(edges))


def _across(start: Point, end: Point, axis: Axis) -> Point:
    first, second = (each for each in Axis if each is not axis)
    run, rise = end[first] - start[first], end[second] - start[second]
    size = math.hypot(run, rise)
    return Point(0.0, 0.0, 0.0).at(first, rise / size).at(second, -run / size)


def _ring(box: Box) -> tuple[Point, ...]:
    """Return the corners of an upright tube, seen as a prism."""
    radius = box.size(Axis.X) / 2
    x, y, _ = box.centre
    turns = [math.pi / 2 * step / CHORDS for step in range(4 * CHORDS)]
    return tuple(
        Point(x + radius * math.cos(t), y + radius * math.sin(t), box.low.z) for t in turns
    )


def _outline(board: Board) -> tuple[Point, ...]:
    """Return the corners of a board with rounded corners, arcs as chords, round its outline."""
    first, second = (axis for axis in Axis if axis is not board.facing.axis)
    radii = {frozenset((corner.first, corner.second)): corner.radius_mm for corner in board.rounded}
    found = []
    for at, signs in enumerate(((1, 1), (-1, 1), (-1, -1), (1, -1))):
        one, other = (
            Direction((axis, sign)) for axis, sign in zip((first, second), signs, strict=True)
        )
        radius = radii.get(frozenset((one, other)), 0.0)
        corner = board.box.low.at(first, board.box.side(one)).at(second, board.box.side(other))
        centre = corner.along(one, -radius).along(other, -radius)
        turns = [(at + step / CHORDS) * math.pi / 2 for step in range(CHORDS + 1)]
        for turn in turns if radius else turns[:1]:
            away = (radius * math.cos(turn), radius * math.sin(turn))
            found.append(
                centre.at(first, centre[first] + away[0]).at(second, centre[second] + away[1])
            )
    return tuple(found)


def _placed_plane(plane: Plane, pose: Pose) -> Plane:
    out = pose.turned(plane.out)
    return Plane(out, plane.distance + dot(out, pose.origin))


def _placed_edge(edge: Edge, pose: Pose) -> Edge:
    sides = edge.sides and (pose.turned(edge.sides[0]), pose.turned(edge.sides[1]))
    return Edge(pose.to_room(edge.start), pose.to_room(edge.end), sides)
