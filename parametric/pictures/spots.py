"""Where a part is seen in a picture: a point of it that nothing hides, for a leader to end at."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import product

import numpy as np

from parametric.geometry.pose import Pose
from parametric.geometry.space import Axis, Box, Direction, Point, dot
from parametric.pictures.bodies import AS_IT_STANDS, Body
from parametric.pictures.camera import Camera
from parametric.pictures.sight import Array, Hiders, seen_places

_ACROSS = (0.5, 0.3, 0.7, 0.15, 0.85)
_SHARES = np.array(sorted(product(_ACROSS, _ACROSS), key=lambda at: math.dist(at, (0.5, 0.5)))[:17])
"""Of length and width of a face, the middle first."""

_FACING = 0.1  # cosine between a face and the way to the viewer: flatter ones show nothing
_LEAST_MM, _RIM_MM = 4.0, 2.0  # of a face that a dot has room on, and round it
_Face = tuple[Point, Point, Point, tuple[float, float]]
"""A corner of a face, the two ways along it from there, and its size each way."""

_TRIED = 8  # points of a part whose surroundings are looked at


def seen_spots(
    boxes: Mapping[str, Sequence[Box]],
    poses: Mapping[str, Pose],
    bodies: Mapping[str, Body],
    camera: Camera,
) -> dict[str, Point]:
    """Return of each part that is seen a point on a face of it, as near to the middle of its
    largest face as any that is seen with what is round it; `boxes` are those of parts, drawn where
    `poses` put them.
    """
    faces = [
        (name, face)
        for name, own in boxes.items()
        for face in _faces(own, poses.get(name, AS_IT_STANDS), camera)
    ]
    names = [name for name, _ in faces for _ in _SHARES]
    listed, round_it = _candidates([face for _, face in faces])
    tried: dict[str, list[int]] = {}
    hiders = Hiders.of(bodies.values())
    for at in np.flatnonzero(seen_places(listed, hiders, camera)).tolist():
        if len(tried.setdefault(names[at], [])) < _TRIED:
            tried[names[at]].append(at)
    wanted = [at for places in tried.values() for at in places]
    clear = seen_places(round_it[wanted].reshape(-1, 3), hiders, camera)
    free = set(np.array(wanted)[clear.reshape(-1, 4).all(axis=1)].tolist()) if wanted else set()
    best = {name: next(filter(free.__contains__, own), own[0]) for name, own in tried.items()}
    return {name: Point(*listed[at].tolist()) for name, at in best.items()}


def _faces(boxes: Sequence[Box], pose: Pose, camera: Camera) -> list[_Face]:
    """Return the faces that are turned to the viewer, the largest as it is seen first."""
    facing = [
        (side, turned)
        for side in Direction
        if (turned := dot(pose.turned(side.vector), camera.towards)) >= _FACING
    ]
    ways = {axis: pose.turned(Direction((axis, 1)).vector) for axis in Axis}
    found: list[tuple[float, _Face]] = []
    for box, (side, turned) in product(boxes, facing):
        one, other = (axis for axis in Axis if axis is not side.axis)
        sizes = box.size(one), box.size(other)
        if min(sizes) >= _LEAST_MM:
            start = pose.to_room(box.low.at(side.axis, box.side(side)))
            found.append((sizes[0] * sizes[1] * turned, (start, ways[one], ways[other], sizes)))
    return [face for _, face in sorted(found, key=lambda each: -each[0])]


def _candidates(faces: Sequence[_Face]) -> tuple[Array, Array]:
    """Return points of the faces, a row for each, and in as many rows the four that lie round
    each.
    """
    starts, ones, others = (
        np.array([face[at] for face in faces]).reshape(-1, 1, 3) for at in (0, 1, 2)
    )
    sizes = np.array([face[3] for face in faces]).reshape(-1, 1, 2)
    along, across = np.moveaxis(_SHARES * sizes, 2, 0)[..., None]
    points = starts + (along * ones + across * others)
    ways = np.concatenate([ones, others, -ones, -others], axis=1) * _RIM_MM
    return points.reshape(-1, 3), (points[:, :, None] + ways[:, None]).reshape(-1, 4, 3)
