"""Prisms put together and cut from one another: the only door to the mesh library."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

import manifold3d
import numpy as np
from numpy.typing import NDArray

from parametric.meshes.facets import polygon
from parametric.meshes.mesh import Mesh
from parametric.meshes.prism import Prism, plane_axes


def pieces(made_of: Iterable[Prism], less: Iterable[Prism] = ()) -> tuple[Mesh, ...]:
    """Return the separate pieces of what any of the first prisms takes and none of the others,
    ordered by where their centres are.
    """
    body = _together(made_of) - _together(less)
    parts = [_mesh(part) for part in body.decompose()]
    return tuple(sorted(parts, key=lambda part: part.centre))


def _together(prisms: Iterable[Prism]) -> manifold3d.Manifold:
    """Return all that the prisms take, each on its own or one in the other."""
    apart: list[list[_Surface]] = []  # surfaces that do not meet are one body as they are
    for prism in prisms:
        surface = _surface(prism)
        fits = (group for group in apart if all(_away(surface, other) for other in group))
        group = next(fits, None)
        if group is None:
            apart.append([surface])
        else:
            group.append(surface)
    bodies = [_body(group) for group in apart]
    return manifold3d.Manifold.batch_boolean(bodies, manifold3d.OpType.Add)


class _Surface:
    """A prism's points and the box that bounds them."""

    def __init__(self, points: NDArray[np.float64]) -> None:
        self.points = points
        self.low = points.min(axis=0).tolist()
        self.high = points.max(axis=0).tolist()


def _away(one: _Surface, other: _Surface) -> bool:
    return any(
        a > d or c > b for a, b, c, d in zip(one.low, one.high, other.low, other.high, strict=True)
    )


def _surface(prism: Prism) -> _Surface:
    corners = np.array(polygon(prism.outline))
    count = len(corners)
    first, second = plane_axes(prism.axis)
    points = np.empty((2 * count, 3))
    points[:count, first] = points[count:, first] = corners[:, 0]
    points[:count, second] = points[count:, second] = corners[:, 1]
    points[:count, prism.axis] = prism.low
    points[count:, prism.axis] = prism.high
    return _Surface(points)


@lru_cache(maxsize=256)
def _triangles(count: int) -> NDArray[np.uint64]:
    """Return the triangles of a prism over a convex polygon, its lower corners first."""
    inner, corner = np.arange(1, count - 1), np.arange(count)
    following = (corner + 1) % count
    start = np.zeros_like(inner)
    faces = (
        (start, inner + 1, inner),
        (start + count, inner + count, inner + 1 + count),
        (corner, following, following + count),
        (corner, following + count, corner + count),
    )
    return np.concatenate([np.stack(face, axis=1) for face in faces]).astype(np.uint64)


def _body(surfaces: list[_Surface]) -> manifold3d.Manifold:
    counts = [len(surface.points) for surface in surfaces]
    starts = np.cumsum([0, *counts[:-1]]).astype(np.uint64)
    triangles = [
        _triangles(count // 2) + start for count, start in zip(counts, starts, strict=True)
    ]
    points = np.concatenate([surface.points for surface in surfaces])
    return manifold3d.Manifold(manifold3d.Mesh64(points, np.concatenate(triangles)))


def _mesh(body: manifold3d.Manifold) -> Mesh:
    made = body.to_mesh64()
    return Mesh(
        points=np.array(made.vert_properties), triangles=np.array(made.tri_verts, dtype=np.int32)
    )
