"""From where a step is looked at: so that every screw's face is turned to the viewer and free."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from parametric.geometry.hand import Hand
from parametric.geometry.space import dot
from parametric.pictures.bodies import Body
from parametric.pictures.camera import Camera
from parametric.pictures.scene import Drive, Scene
from parametric.pictures.sight import Hiders, seen_points

TURNED = 0.2
"""Cosine between the way back out of a screw's hole and that to the viewer, at least: a hole that
is seen at a flatter angle shows little (common practice, no source)."""

MOST_VIEWS = 4
_SLANTING, _IN_FRONT, _HEAD_ON = (0.62, 0.78), (0.34, 0.94), (0.16, 0.99)
_STRAIGHT = (0.0, 1.0)
_STANDS = (
    *((*_SLANTING, degrees) for degrees in (30.0, 45.0, 60.0)),
    *((*_IN_FRONT, degrees) for degrees in (30.0, 12.0)),  # into what is open in front
    (*_HEAD_ON, 5.0),
    (*_STRAIGHT, 3.0),  # into what is narrow too
    (*_IN_FRONT, -12.0),
    *((*_SLANTING, degrees) for degrees in (-30.0, -60.0)),
)
"""Where cameras stand: how far to a side and out from the wall, and by how many degrees up."""

View = tuple[Camera, dict[int, bool]]
"""A camera, and of each screw that is shown in it whether its head is seen."""


def cameras(hand: Hand, *, upside_down: bool = False) -> Iterator[Camera]:
    """Yield cameras, the usual one first: in the room, looking into the corner, from above. Those
    of the hands mirror each other.
    """
    # In the room frame a right hand's corner is at the right: the room lies towards -x and -y.
    away = -1.0 if hand is Hand.RIGHT else 1.0
    for sideways, outwards, degrees in _STANDS:
        for x, y in ((away, -1.0), (-away, -1.0), (away, 1.0), (-away, 1.0)):
            camera = Camera.slanting(sideways * x, outwards * y, degrees)
            yield camera.upside_down if upside_down else camera


def views(
    drives: Sequence[Drive],
    bodies: Mapping[str, Body] | Hiders,
    usual_first: Iterable[Camera],
) -> tuple[View, ...]:
    """Return the fewest views found that show each screw once, by its place among them; what no
    view shows is in the first one. Without screws it is the first of the cameras.
    """
    listed = list(usual_first)
    if not drives:
        return ((listed[0], {}),)
    shown: list[tuple[bool, ...]] = []
    hiders = bodies if isinstance(bodies, Hiders) else Hiders.of(bodies.values())
    for camera in listed:
        shown.append(_shown(drives, hiders, camera))
        if all(shown[-1]):
            break
    left = set(range(len(drives)))
    found: list[View] = []
    while left and len(found) < MOST_VIEWS:
        gains = [sum(each[at] for at in left) for each in shown]
        best = max(range(len(shown)), key=lambda at: (gains[at], -at))
        if found and not gains[best]:
            break
        found.append((listed[best], {at: True for at in sorted(left) if shown[best][at]}))
        left -= found[-1][1].keys()
    found[0][1].update(dict.fromkeys(sorted(left), False))
    return tuple(found)


def _shown(drives: Sequence[Drive], hiders: Hiders, camera: Camera) -> tuple[bool, ...]:
    turned = [at for at, drive in enumerate(drives) if -dot(drive.way, camera.towards) >= TURNED]
    free = seen_points([drives[at].head for at in turned], hiders, camera)
    seen = {at for at, is_free in zip(turned, free, strict=True) if is_free}
    return tuple(at in seen for at in range(len(drives)))


def told(camera: Camera, scene: Scene, hand: Hand) -> str:
    """Return from where a camera looks, in words."""
    if scene.upside_down:
        return "upside down"
    to_corner = (camera.towards.x < 0) is (hand is Hand.RIGHT)
    side = "from the room" if camera.towards.y < 0 else "from the head wall"
    if not camera.towards.x:
        return f"seen {side}, straight on"
    whither = "corner at the back" if to_corner else "corner nearest you"
    return f"seen {'from below, ' if camera.towards.z < 0 else ''}{side}, {whither}"
