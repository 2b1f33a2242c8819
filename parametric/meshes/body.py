"""Prisms put together and cut from one another: the only door to the mesh library."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import manifold3d
import numpy as np

from parametric.meshes.mesh import Mesh
from parametric.meshes.prism import Points, Prism, Triangles, triangles


def pieces(made_of: Iterable[Prism], less: Iterable[Prism] = ()) -> tuple[Mesh, ...]:
    """Return the separate pieces of what any of the first prisms takes and none of the others,
    ordered by where their centres are.
    """
    whole, cuts = tuple(made_of), tuple(less)
    if len(whole) == 1:
        cuts = tuple(cut for cut in cuts if not away(whole[0], cut))
        if not cuts:
            points, corners = _surface(whole)
            return (Mesh(points=points, triangles=corners),)
    body = _together(whole) - _together(cuts)
    parts = []
    for part in body.decompose():
        made = part.to_mesh64()
        points, corners = np.array(made.vert_properties), np.array(made.tri_verts, dtype=np.int32)
        parts.append(Mesh(points=points, triangles=corners))
    return tuple(sorted(parts, key=lambda part: part.centre))


def triangulated(rings: Sequence[Points]) -> Triangles:
    """Return the triangles, counter-clockwise, of what lies within rings that run counter-clockwise
    and not within those that run clockwise, as indices of their points one after the other.
    """
    return np.array(manifold3d.triangulate(list(rings)), dtype=np.int32)


def away(one: Prism, other: Prism) -> bool:
    """Return whether the boxes that bound two prisms have no point in common."""
    low, high = one.bounds.tolist()
    other_low, other_high = other.bounds.tolist()
    return any(a > d or c > b for a, b, c, d in zip(low, high, other_low, other_high, strict=True))


def _together(prisms: Iterable[Prism]) -> manifold3d.Manifold:
    """Return all that the prisms take, each on its own or one in the other."""
    apart: list[list[Prism]] = []  # prisms that do not meet are one body as they are
    for prism in prisms:
        fits = (group for group in apart if all(away(prism, other) for other in group))
        group = next(fits, None)
        if group is None:
            apart.append([prism])
        else:
            group.append(prism)
    bodies = [_body(group) for group in apart]
    return manifold3d.Manifold.batch_boolean(bodies, manifold3d.OpType.Add)


def _body(prisms: Sequence[Prism]) -> manifold3d.Manifold:
    points, corners = _surface(prisms)
    mesh = manifold3d.Mesh64(points, corners.astype(np.uint64, order="C"))
    return manifold3d.Manifold(mesh)


def _surface(prisms: Sequence[Prism]) -> tuple[Points, Triangles]:
    """Return the points and triangles of prisms that do not meet."""
    starts = np.cumsum([0, *(2 * len(prism.corners) for prism in prisms[:-1])]).tolist()
    faces = [
        face + np.int32(start)
        for prism, start in zip(prisms, starts, strict=True)
        for face in triangles(len(prism.corners))
    ]
    points = [prism.points(prism.low, prism.high) for prism in prisms]
    return np.concatenate(points), np.concatenate(faces)
