"""Where a part is seen in a picture: a point of it that nothing hides, for a leader to end at."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
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
    names, points, rims = [], [np.empty((0, 3))], [np.empty((0, 4, 3))]
    for name, own in boxes.items():
        for places, rim in _candidates(own, poses.get(name, AS_IT_STANDS), camera):
            names += [name] * len(places)
            points.append(places)
            rims.append(places[:, None, :] + rim[None, :, :])
    listed, round_it = np.concatenate(points), np.concatenate(rims)
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


def _candidates(boxes: Sequence[Box], pose: Pose, camera: Camera) -> Iterator[tuple[Array, Array]]:
    """Yield points of the faces that are turned to the viewer, the largest face first, a row for
    each, and how far from each the four are that lie round it.
    """
    faces = []
    for box, side in product(boxes, Direction):
        turned = dot(pose.turned(side.vector), camera.towards)
        one, other = (axis for axis in Axis if axis is not side.axis)
        if turned >= _FACING and min(box.size(one), box.size(other)) >= _LEAST_MM:
            faces.append((box.size(one) * box.size(other) * turned, box, side, one, other))
    for _, box, side, one, other in sorted(faces, key=lambda face: -face[0]):
        start = np.array(pose.to_room(box.low.at(side.axis, box.side(side))))
        ways = np.array([pose.turned(Direction((axis, 1)).vector) for axis in (one, other)])
        sizes = np.array([box.size(one), box.size(other)])
        yield start + (_SHARES * sizes) @ ways, np.concatenate([ways, -ways]) * _RIM_MM
