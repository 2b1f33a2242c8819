"""Round holes that meet nothing else, put straight into the flat sides of a mesh.

Most cuts are such holes, and most of the time of cutting bodies from one another would go to them.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from parametric.geometry.space import SAME_MM, Axis
from parametric.meshes.body import triangulated
from parametric.meshes.mesh import Mesh
from parametric.meshes.prism import Points, Prism, Triangles, plane_axes, triangles

Ring = NDArray[np.int32]  # indices of points, one after the other

CLEAR_MM = 0.01  # holes with less around them are left to the library


def meet_nothing(holes: Sequence[Prism], others: Sequence[Points], space: Points) -> list[Prism]:
    """Return the holes that keep clear of all other holes, of the `others` and of all sides but
    those they open, in a block that fills `space`. Spaces have shape (2, 3).
    """
    if not holes:
        return []
    bounds = np.array([*(hole.bounds for hole in holes), *others])
    low, high = bounds[:, 0] - CLEAR_MM / 2, bounds[:, 1] + CLEAR_MM / 2
    apart = (low[:, None] > high).any(axis=2)
    met = np.logical_or(apart, apart.T).sum(axis=1) < len(bounds) - 1  # none is apart from itself
    count = len(holes)
    room = np.stack((bounds[:count, 0] - space[0], space[1] - bounds[:count, 1]), axis=1)
    along = np.arange(3) == np.array([hole.axis for hole in holes])[:, None]
    inside = (room > CLEAR_MM).all(axis=1) | along
    # Each end lies well within or well beyond, and at least one beyond.
    ends = room.swapaxes(1, 2)[along]
    opens = (np.abs(ends) > CLEAR_MM).all(axis=1) & (ends.min(axis=1) < 0)
    free = inside.all(axis=1) & opens & ~met[:count]
    return [hole for hole, alone in zip(holes, free.tolist(), strict=True) if alone]


def drilled(mesh: Mesh, holes: Sequence[Prism]) -> Mesh:
    """Return the mesh with holes that meet nothing and open its outermost flat sides."""
    if not holes:
        return mesh
    low, high = mesh.points.min(axis=0).tolist(), mesh.points.max(axis=0).tolist()
    points, faces = [mesh.points], []
    mouths: dict[tuple[Axis, int], list[Ring]] = defaultdict(list)  # by axis and way of each side
    start = len(mesh.points)
    for hole in holes:
        axis, count = hole.axis, len(hole.corners)
        lower, upper, walls = triangles(count)
        inside = [walls]
        ring = np.arange(start, start + count, dtype=np.int32)
        if hole.low < low[axis]:
            mouths[axis, -1].append(ring)
        else:
            inside.append(lower)
        if hole.high > high[axis]:
            mouths[axis, 1].append((ring + np.int32(count))[::-1])
        else:
            inside.append(upper)
        points.append(hole.points(max(hole.low, low[axis]), min(hole.high, high[axis])))
        faces += [face[:, ::-1] + np.int32(start) for face in inside]  # seen from in the hole
        start += 2 * count
    drawn = np.concatenate(points)
    kept = np.ones(len(mesh.triangles), dtype=bool)
    for (axis, way), rings in mouths.items():
        level = (high if way > 0 else low)[axis]
        side = (np.abs(mesh.points[:, axis] - level) < SAME_MM)[mesh.triangles].all(axis=1)
        kept &= ~side
        faces.append(_side(drawn, [*_outlines(mesh.triangles[side]), *rings], axis, way))
    return Mesh(points=drawn, triangles=np.concatenate([mesh.triangles[kept], *faces]))


def _side(points: Points, outlines: list[Ring], axis: Axis, way: int) -> Triangles:
    """Return the triangles within the outlines of a flat side that looks `way` along `axis`."""
    plane = plane_axes(axis)[::way]  # seen from outside as x runs right and y up
    flat = [points[outline][:, plane] for outline in outlines]
    corners: Triangles = np.concatenate(outlines)[triangulated(flat)]
    return corners


def _outlines(face: Triangles) -> list[Ring]:
    """Return the closed rings that bound the triangles, run as the triangles do."""
    edges = {(a, b) for row in face.tolist() for a, b in zip(row, row[1:] + row[:1], strict=True)}
    onwards: dict[int, list[int]] = defaultdict(list)
    for a, b in sorted(edges):
        if (b, a) not in edges:
            onwards[a].append(b)
    rings = []
    while onwards:
        ring, at = [], next(iter(onwards))
        while at in onwards:
            ring.append(at)
            following = onwards[at].pop()
            if not onwards[at]:
                del onwards[at]
            at = following
        rings.append(np.array(ring, dtype=np.int32))
    return rings
