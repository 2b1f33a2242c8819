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
from dataclasses import dataclass
from itertools import chain

import numpy as np
from numpy.typing import NDArray

from parametric.geometry.space import Point
from parametric.pictures.bodies import Body, Edge
from parametric.pictures.camera import Camera, PicturePoint

SKIN_MM = 0.05
"""Pieces hide as if so much smaller all round: what lies in their sides is seen."""

_EDGE_ON = 1e-9  # a side that is seen edge on bounds the point, not how far the ray goes
_FLAT = 1e-12  # a slope that is none
SHORT_MM = 0.5  # stretches shorter than this are not drawn: finer than any print
DIGITS = 2

Line = tuple[PicturePoint, PicturePoint]
Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Hiders:
    """What may hide something: pieces of bodies, those of one kind together, with how far out each
    side of each of them is. To be looked at from several sides it is made once.
    """

    kinds: tuple[tuple[_Kind, Array], ...]

    @classmethod
    def of(cls, bodies: Iterable[Body]) -> Hiders:
        """Return what bodies hide with."""
        alike: dict[_Kind, list[list[float]]] = {}
        for piece in (piece for body in bodies for piece in body.pieces):
            kind = tuple(side.out for side in piece.sides), piece.meeting
            alike.setdefault(kind, []).append([side.distance for side in piece.sides])
        return cls(
            tuple((kind, np.array(distances) - SKIN_MM) for kind, distances in alike.items())
        )


def seen_lines(
    groups: Sequence[Sequence[Edge]], bodies: Iterable[Body] | Hiders, camera: Camera
) -> tuple[tuple[Line, ...], ...]:
    """Return what is seen of each group of edges, in the picture's millimetres, sorted."""
    wanted = [
        (group, edge)
        for group, edges in enumerate(groups)
        for edge in edges
        if edge.sides is None or _drawn(edge.sides, camera)
    ]
    lines: list[set[Line]] = [set() for _ in groups]
    starts = _points([edge.start for _, edge in wanted])
    ends = _points([edge.end for _, edge in wanted])
    hidden = _hidden(starts, ends - starts, bodies, camera)
    projected = zip(_projected(starts, camera), _projected(ends, camera), strict=True)
    for (group, _), covered, (start, end) in zip(wanted, hidden, projected, strict=True):
        for low, high in _left(covered):
            one, other = _between(start, end, low), _between(start, end, high)
            if max(abs(one[0] - other[0]), abs(one[1] - other[1])) >= SHORT_MM:
                lines[group].add((one, other) if one < other else (other, one))
    return tuple(tuple(sorted(each)) for each in lines)


def seen_points(
    points: Sequence[Point], bodies: Iterable[Body] | Hiders, camera: Camera
) -> list[bool]:
    """Return of each point whether nothing hides it."""
    return [bool(seen) for seen in seen_places(_points(points), bodies, camera)]


def seen_places(
    places: Array, bodies: Iterable[Body] | Hiders, camera: Camera
) -> NDArray[np.bool_]:
    """Return of each of so many rows of x, y, z whether nothing hides the point."""
    seen = np.ones(len(places), dtype=np.bool_)
    hiders = bodies if isinstance(bodies, Hiders) else Hiders.of(bodies)
    for kind, distances in hiders.kinds if len(places) else ():
        for at, _, _ in _hidden_by(places, np.zeros_like(places), kind, distances, camera.towards):
            seen[at] = False
    return seen


def _drawn(sides: tuple[Point, Point], camera: Camera) -> bool:
    one, other = (
        sum_of_three(side, camera.towards) > 0  # a side that is seen edge on counts as turned away
        for side in sides
    )
    return one is not other


def sum_of_three(a: Point, b: Point) -> float:
    """Return the scalar product, added in order."""
    return a.x * b.x + a.y * b.y + a.z * b.z


def _points(points: Sequence[Point]) -> Array:
    values = np.fromiter(chain.from_iterable(points), np.float64, 3 * len(points))
    return values.reshape(-1, 3)


def _projected(points: Array, camera: Camera) -> list[PicturePoint]:
    """Return where points lie in the picture."""
    made = _products(points, _points((camera.right, camera.up)))
    return [(x, y) for x, y in made.tolist()]


def _between(start: PicturePoint, end: PicturePoint, share: float) -> PicturePoint:
    (x, y), (x_end, y_end) = start, end
    return (
        round(x + (x_end - x) * share, DIGITS) + 0.0,
        round(y + (y_end - y) * share, DIGITS) + 0.0,
    )


def _left(covered: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return what of 0 to 1 no interval covers."""
    left, reached = [], 0.0
    for low, high in sorted(covered):
        if low > reached:
            left.append((reached, low))
        if high > reached:
            reached = high
            if reached >= 1.0:
                return left
    return [*left, (reached, 1.0)]


def _hidden(
    starts: Array, runs: Array, bodies: Iterable[Body] | Hiders, camera: Camera
) -> list[list[tuple[float, float]]]:
    """Return for each edge the stretches that pieces hide, as shares of its length."""
    found: list[list[tuple[float, float]]] = [[] for _ in starts]
    if not found:
        return found
    hiders = bodies if isinstance(bodies, Hiders) else Hiders.of(bodies)
    for kind, distances in hiders.kinds:
        for at, low, high in _hidden_by(starts, runs, kind, distances, camera.towards):
            found[at].append((low, high))
    return found


_Kind = tuple[tuple[Point, ...], tuple[tuple[int, int], ...]]
"""The ways out of a piece's sides, and which of them meet."""


def _hidden_by(
    starts: Array, runs: Array, kind: _Kind, distances: Array, towards: Point
) -> Iterator[tuple[int, float, float]]:
    """Yield each edge with each stretch of it that pieces of one kind hide.

    With `rise` along the ray, a side asks that rise * r + slope * t <= room.
    """
    outs, meeting = _points(kind[0]), kind[1]
    rises = [sum_of_three(out, towards) for out in kind[0]]
    slopes, depths = _products(runs, outs), _products(starts, outs)
    count = len(starts), len(distances)
    low, high = np.zeros(count), np.ones(count)
    with np.errstate(divide="ignore", invalid="ignore"):
        for side, rise in enumerate(rises):
            slope, room = slopes[:, side, None], distances[:, side] - depths[:, side, None]
            if abs(rise) < _EDGE_ON:
                _narrow(low, high, slope, room)
            elif rise > 0:  # the piece is before the point, not behind it
                _narrow(low, high, slope / rise, room / rise)
        # Of most edges and pieces that is all: the rest is asked of those that are left.
        edges, pieces = np.nonzero(low <= high)
        low, high = low[edges, pieces], high[edges, pieces]
        for one, other in meeting:
            below, above = sorted((one, other), key=rises.__getitem__)
            if rises[below] > -_EDGE_ON or rises[above] < _EDGE_ON or not edges.size:
                continue
            slope = slopes[:, above] / rises[above] - slopes[:, below] / rises[below]
            room_above = (distances[pieces, above] - depths[edges, above]) / rises[above]
            room_below = (distances[pieces, below] - depths[edges, below]) / rises[below]
            _narrow(low, high, slope[edges], room_above - room_below)
            kept = np.nonzero(low <= high)
            edges, pieces, low, high = edges[kept], pieces[kept], low[kept], high[kept]
    yield from zip(edges.tolist(), low.tolist(), high.tolist(), strict=True)


def _narrow(low: Array, high: Array, slope: Array, room: Array) -> None:
    """Keep of the intervals what has slope * t <= room, in place."""
    ends = room / slope
    np.maximum(low, ends, out=low, where=slope <= -_FLAT)
    np.minimum(high, ends, out=high, where=slope >= _FLAT)
    low[(np.abs(slope) < _FLAT) & (room < 0)] = np.inf


def _products(vectors: Array, others: Array) -> Array:
    """Return the scalar product of each vector with each other one, added in order: the same on
    every machine.
    """
    x, y, z = vectors.T[:, :, None]
    made: Array = x * others[:, 0] + y * others[:, 1] + z * others[:, 2]
    return made
