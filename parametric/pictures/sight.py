"""What of edges and points is seen, exactly, where all that hides is made of convex pieces.

The point at `t` on an edge is hidden by a piece if the ray from it towards the viewer meets the
inside of the piece. Each side of a piece bounds how far along the ray that is, by an expression
that is linear in `t`: from below, if the side is turned away from the viewer, or from above. The
line of the ray meets the piece if the point is inside its silhouette, that is, if for each edge of
the piece between two such sides the lower bound is not above the upper one; and it does so towards
the viewer if no upper bound is below 0. So the hidden stretch of an edge is an interval.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from parametric.geometry.space import Point
from parametric.pictures.bodies import Body, Edge, Piece
from parametric.pictures.camera import Camera, PicturePoint

SKIN_MM = 0.05
"""Pieces hide as if so much smaller all round: what lies in their sides is seen."""

_EDGE_ON = 1e-9  # a side that is seen edge on bounds the point, not how far the ray goes
SHORT_MM = 0.5  # stretches shorter than this are not drawn: finer than any print
DIGITS = 2

Line = tuple[PicturePoint, PicturePoint]
Array = NDArray[np.float64]


def seen_lines(
    groups: Sequence[Sequence[Edge]], bodies: Iterable[Body], camera: Camera
) -> tuple[tuple[Line, ...], ...]:
    """Return what is seen of each group of edges, in the picture's millimetres, sorted."""
    wanted = [
        (group, edge)
        for group, edges in enumerate(groups)
        for edge in edges
        if _drawn(edge, camera)
    ]
    pieces = [piece for body in bodies for piece in body.pieces]
    lines: list[set[Line]] = [set() for _ in groups]
    hidden = _hidden([edge for _, edge in wanted], pieces, camera)
    for (group, edge), covered in zip(wanted, hidden, strict=True):
        start, end = camera.seen(edge.start), camera.seen(edge.end)
        for low, high in _left(covered):
            ends = (_between(start, end, low), _between(start, end, high))
            if max(abs(a - b) for a, b in zip(*ends, strict=True)) >= SHORT_MM:
                lines[group].add((min(ends), max(ends)))
    return tuple(tuple(sorted(each)) for each in lines)


def seen_points(points: Sequence[Point], bodies: Iterable[Body], camera: Camera) -> list[bool]:
    """Return of each point whether nothing hides it."""
    places = np.array(points, dtype=np.float64).reshape(-1, 3)
    return [bool(seen) for seen in seen_places(places, bodies, camera)]


def seen_places(points: Array, bodies: Iterable[Body], camera: Camera) -> NDArray[np.bool_]:
    """Return of each of so many rows of x, y, z whether nothing hides the point."""
    seen = np.ones(len(points), dtype=np.bool_)
    if len(points):
        pieces = [piece for body in bodies for piece in body.pieces]
        for kind, distances in _alike(pieces):
            low, high = _hidden_by(points, np.zeros_like(points), kind, distances, camera.towards)
            seen &= ~(low <= high).any(axis=1)
    return seen


def _drawn(edge: Edge, camera: Camera) -> bool:
    if edge.sides is None:
        return True
    one, other = (
        sum_of_three(side, camera.towards) > 0  # a side that is seen edge on counts as turned away
        for side in edge.sides
    )
    return one is not other


def sum_of_three(a: Point, b: Point) -> float:
    """Return the scalar product, added in order."""
    return a.x * b.x + a.y * b.y + a.z * b.z


def _between(start: PicturePoint, end: PicturePoint, share: float) -> PicturePoint:
    x, y = (round(a + (b - a) * share, DIGITS) + 0.0 for a, b in zip(start, end, strict=True))
    return x, y


def _left(covered: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return what of 0 to 1 no interval covers."""
    left, reached = [], 0.0
    for low, high in sorted(covered):
        if low > reached:
            left.append((reached, low))
        reached = max(reached, high)
    return [*left, (reached, 1.0)] if reached < 1.0 else left


def _hidden(
    edges: Sequence[Edge], pieces: Sequence[Piece], camera: Camera
) -> list[list[tuple[float, float]]]:
    """Return for each edge the stretches that pieces hide, as shares of its length."""
    found: list[list[tuple[float, float]]] = [[] for _ in edges]
    if not edges:
        return found
    starts = np.array([edge.start for edge in edges], dtype=np.float64)
    runs = np.array([edge.end for edge in edges], dtype=np.float64) - starts
    for kind, distances in _alike(pieces):
        low, high = _hidden_by(starts, runs, kind, distances, camera.towards)
        for at, piece in zip(*np.nonzero(low <= high), strict=True):
            found[at].append((float(low[at, piece]), float(high[at, piece])))
    return found


def _alike(pieces: Sequence[Piece]) -> Iterator[tuple[_Kind, Array]]:
    """Yield pieces of one kind together, with how far out each side of each is."""
    alike: dict[_Kind, list[list[float]]] = {}
    for piece in pieces:
        kind = tuple(side.out for side in piece.sides), piece.meeting
        alike.setdefault(kind, []).append([side.distance - SKIN_MM for side in piece.sides])
    for kind, distances in alike.items():
        yield kind, np.array(distances)


_Kind = tuple[tuple[Point, ...], tuple[tuple[int, int], ...]]
"""The ways out of a piece's sides, and which of them meet."""


def _hidden_by(
    starts: Array, runs: Array, kind: _Kind, distances: Array, towards: Point
) -> tuple[Array, Array]:
    """Return from where to where pieces of one kind hide edges, a row for each edge and a column
    for each piece: nothing where the first is beyond the second.

    With `rise` along the ray, a side asks that rise * r + slope * t <= room.
    """
    outs, meeting = kind
    count = len(starts), len(distances)
    low, high = np.zeros(count), np.ones(count)
    rises = [sum_of_three(out, towards) for out in outs]
    bounds: list[tuple[Array, Array]] = []
    with np.errstate(divide="ignore", invalid="ignore"):
        for number, (out, rise) in enumerate(zip(outs, rises, strict=True)):
            slope = _products(runs, out)[:, None]
            room = distances[:, number][None, :] - _products(starts, out)[:, None]
            if abs(rise) < _EDGE_ON:
                _narrow(low, high, slope, room)
                bounds.append((slope, room))
                continue
            bounds.append((slope / rise, room / rise))
            if rise > 0:  # the piece is before the point, not behind it
                _narrow(low, high, *bounds[-1])
        for one, other in meeting:
            below, above = sorted((one, other), key=rises.__getitem__)
            if rises[below] <= -_EDGE_ON and rises[above] >= _EDGE_ON:
                (slope, room), (slope_below, room_below) = bounds[above], bounds[below]
                _narrow(low, high, slope - slope_below, room - room_below)
    return low, high


def _narrow(low: Array, high: Array, slope: Array, room: Array) -> None:
    """Keep of the intervals what has slope * t <= room, in place."""
    flat = np.abs(slope) < 1e-12
    ends = room / slope
    np.maximum(low, np.where(~flat & (slope < 0), ends, -np.inf), out=low)
    np.minimum(high, np.where(~flat & (slope > 0), ends, np.inf), out=high)
    low[flat & (room < 0)] = np.inf


def _products(vectors: Array, other: Point) -> Array:
    """Return scalar products, added in order: the same on every machine."""
    x, y, z = vectors[:, 0], vectors[:, 1], vectors[:, 2]
    made: Array = x * other.x + y * other.y + z * other.z
    return made
