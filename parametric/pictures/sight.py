"""What of edges and points is seen, exactly, where all that hides is made of convex pieces.

The point at `t` on an edge is hidden by a piece if the ray from it towards the viewer meets the
inside of the piece. Each side of a piece bounds how far along the ray that is, by an expression
that is linear in `t`: from below, if the side is turned away from the viewer, or from above. The
line of the ray meets the piece if the point is inside its silhouette, that is, if for each edge of
the piece between two such sides the lower bound is not above the upper one; and it does so towards
the viewer if no upper bound is below 0. So the hidden stretch of an edge is an interval.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np
from numpy.typing import NDArray

from parametric.geometry.space import Point
from parametric.pictures.bodies import Body, Edge
from parametric.pictures.camera import Camera, PicturePoint
from parametric.pictures.stretches import Pieces, write_seen

SKIN_MM = 0.05
"""Pieces hide as if so much smaller all round: what lies in their sides is seen."""

SHORT_MM = 0.5  # stretches shorter than this are not drawn: finer than any print
DIGITS = 2
_TIE = 1e-6  # nearer than this to the middle between two decimals, floats do not say which is next

Line = tuple[PicturePoint, PicturePoint]
Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Hiders:
    """What may hide something: the pieces of bodies. To be looked at from several sides it is made
    once.
    """

    pieces: Pieces

    @classmethod
    def of(cls, bodies: Iterable[Body]) -> Hiders:
        """Return what bodies hide with."""
        pieces = [piece for body in bodies for piece in body.pieces]
        sides = [side for piece in pieces for side in piece.sides]
        first = _starts_of([len(piece.sides) for piece in pieces])
        pairs = [len(piece.meeting) for piece in pieces]
        meeting = np.array([pair for piece in pieces for pair in piece.meeting], dtype=np.int64)
        return cls(
            Pieces(
                out=_points([side.out for side in sides]),
                distance=np.array([side.distance for side in sides]) - SKIN_MM,
                side=first,
                meeting=meeting.reshape(-1, 2) + np.repeat(first[:-1], pairs)[:, None],
                pair=_starts_of(pairs),
            )
        )


def _starts_of(counts: Sequence[int]) -> NDArray[np.int64]:
    """Return where each of so many begins, one after another, and where the last one ends."""
    return np.cumsum([0, *counts], dtype=np.int64)


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
    starts = _points([edge.start for _, edge in wanted])
    ends = _points([edge.end for _, edge in wanted])
    edges, shares = _seen(starts, ends - starts, bodies, camera)
    start, end = (_projected(points, camera)[edges] for points in (starts, ends))
    lows, highs = (_rounded(start + (end - start) * share[:, None]) for share in shares.T)
    long = np.flatnonzero(np.abs(lows - highs).max(axis=1, initial=0.0) >= SHORT_MM)
    lines: list[set[Line]] = [set() for _ in groups]
    for edge, (x, y), (x_end, y_end) in zip(
        edges[long].tolist(), lows[long].tolist(), highs[long].tolist(), strict=True
    ):
        one, other = (x, y), (x_end, y_end)
        lines[wanted[edge][0]].add((one, other) if one < other else (other, one))
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
    seen = np.zeros(len(places), dtype=np.bool_)
    seen[_seen(places, np.zeros_like(places), bodies, camera)[0]] = True
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


def _projected(points: Array, camera: Camera) -> Array:
    """Return where points lie in the picture."""
    return _products(points, _points((camera.right, camera.up)))


def _rounded(values: Array) -> Array:
    """Return values to so many digits, each as `round` does; no larger than 1e8."""
    steps = values * 10**DIGITS
    whole = np.rint(steps)
    made: Array = whole / 10**DIGITS + 0.0
    ties = np.abs(steps - whole) > 0.5 - _TIE
    made[ties] = [round(value, DIGITS) + 0.0 for value in values[ties].tolist()]
    return made


def _seen(
    starts: Array, runs: Array, bodies: Iterable[Body] | Hiders, camera: Camera
) -> tuple[NDArray[np.int64], Array]:
    """Return each stretch that no piece hides: of which edge it is, and the shares of its length
    from and to which it goes.
    """
    pieces = (bodies if isinstance(bodies, Hiders) else Hiders.of(bodies)).pieces
    rises = _products(pieces.out, _points((camera.towards,))).reshape(-1)
    left, seen = np.empty((len(pieces.side), 2)), np.empty((2 * len(starts), 3))
    while (found := write_seen(starts, runs, pieces, rises, left, seen)) > len(seen):
        seen = np.empty((found, 3))
    return seen[:found, 0].astype(np.int64), seen[:found, 1:]


def _products(vectors: Array, others: Array) -> Array:
    """Return the scalar product of each vector with each other one, added in order: the same on
    every machine.
    """
    x, y, z = vectors.T[:, :, None]
    made: Array = x * others[:, 0] + y * others[:, 1] + z * others[:, 2]
    return made
