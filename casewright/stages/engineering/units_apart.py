"""A set with its parts numbered, and its units taken apart."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence

from casewright.stages.engineering.set_apart import set_apart
from casewright.stages.engineering.set_views import all_seen
from casewright.stages.site.bought_words import short_label
from export.papers.blocks import Row
from export.set_drawing.content import NumberedView, UnitApart
from export.site.content import Callout
from parametric.geometry.hand import Hand
from parametric.geometry.space import Point
from parametric.joints.assembly import Assembly
from parametric.joints.machining import Machining
from parametric.pictures.bodies import Body, Edge
from parametric.pictures.camera import Camera
from parametric.pictures.sight import seen_lines
from parametric.pictures.spots import seen_spots
from parametric.shapes.board import Board
from parametric.shapes.members import Member
from parametric.steps.part_boxes import boxes_of

ISOMETRIC_DEG = 35.264
"""How far up one looks from where all three axes are shortened alike (ISO 5456-3)."""

_RAISED = (1.0, 1.5, 2.2, 3.2)  # how far what lies on top is raised, until all is seen


def isometric(hand: Hand) -> Camera:
    """Return the camera in the room that looks into the corner; those of the hands mirror."""
    return Camera.slanting(-1.0 if hand is Hand.RIGHT else 1.0, -1.0, ISOMETRIC_DEG)


def numbered_set(
    assembly: Assembly,
    worked: Machining,
    bodies: Mapping[str, Body],
    hand: Hand,
    numbers: Mapping[str, str],
) -> NumberedView:
    """Return the whole set as it stands, with the numbers of the parts that are seen."""
    camera = isometric(hand)
    boxes = {part.name: boxes_of(part, worked) for part in (*assembly.boards, *assembly.members)}
    spots = seen_spots(boxes, {}, bodies, camera)
    return NumberedView(
        title="isometric view",
        lines=all_seen(bodies, camera),
        numbers=_callouts(spots, camera, numbers),
    )


def unit_apart(
    name: str,
    assembly: Assembly,
    worked: Machining,
    bodies: Mapping[str, Body],
    hand: Hand,
    numbers: Mapping[str, str],
    shown: Collection[str],
    row_of: Callable[[str, Sequence[str]], Row],
) -> UnitApart | None:
    """Return a unit taken apart, every number of its parts seen; None of one with a single part
    that has its number already. `row_of` makes the line of the list for a number and what its
    parts are called.
    """
    parts = [part for part in (*assembly.boards, *assembly.members) if part.unit == name]
    if len(parts) == 1 and numbers[parts[0].name] in shown:
        return None
    listed: dict[str, list[str]] = {}
    for part in parts:
        listed.setdefault(numbers[part.name], []).append(part.description)
    camera = isometric(hand)
    for raised in _RAISED:
        view = _apart(name, assembly, worked, parts, bodies, camera, numbers, raised)
        if len(view.numbers) == len(listed):
            break
    return UnitApart(
        name=name,
        view=view,
        parts=tuple(row_of(number, names) for number, names in listed.items()),
    )


def _apart(
    name: str,
    assembly: Assembly,
    worked: Machining,
    parts: Sequence[Board | Member],
    bodies: Mapping[str, Body],
    camera: Camera,
    numbers: Mapping[str, str],
    raised: float,
) -> NumberedView:
    places = set_apart(assembly, parts, raised)
    poses = {part: place.pose for part, place in places.items()}
    drawn = {part.name: bodies[part.name].placed(poses[part.name]) for part in parts}
    boxes = {part.name: boxes_of(part, worked) for part in parts}
    spots = seen_spots(boxes, poses, drawn, camera)
    threads = [Edge(place.start, place.end) for place in places.values()]
    groups = seen_lines([*(body.edges for body in drawn.values()), threads], drawn.values(), camera)
    lines = dict.fromkeys(line for group in groups[:-1] for line in group)
    return NumberedView(
        title=f"{name}, taken apart",
        lines=tuple(lines),
        numbers=_callouts(spots, camera, numbers),
        threads=groups[-1],
    )


def _callouts(
    spots: Mapping[str, Point], camera: Camera, numbers: Mapping[str, str]
) -> tuple[Callout, ...]:
    """Return a callout for each number that is seen, at the first of its parts."""
    found: dict[str, Point] = {}
    for part, spot in spots.items():
        found.setdefault(numbers[part], spot)
    return tuple(
        Callout(label=short_label(number), at=camera.seen(spot)) for number, spot in found.items()
    )
