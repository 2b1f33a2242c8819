"""From the bodies of a set and its steps to the lines of the step pictures."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from casewright.stages.site.bought_words import short_label
from casewright.stages.site.room_lines import NOTHING, RULES, Named, RoomDrawn, room_lines
from export.site.content import Callout, DrivenScrew, StepPicture
from parametric.geometry.hand import Hand
from parametric.geometry.outline import Bounds
from parametric.geometry.space import Axis, Point
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Bonded, FixedToWall, Screwed
from parametric.joints.machining import Machining
from parametric.kit.count import bead_lines
from parametric.pictures.apart import way_in
from parametric.pictures.bodies import AS_IT_STANDS, Body, Edge, body_of
from parametric.pictures.camera import Camera, PicturePoint
from parametric.pictures.frame import around, cut_off
from parametric.pictures.scene import Drive, Scene, drawn, near
from parametric.pictures.sight import Hiders, Line, seen_lines
from parametric.pictures.views import View, cameras, told, views
from parametric.sets.room_set import RoomSet
from parametric.steps.step import Mark, Step

WALLS_MM = 8000.0  # beyond what any frame shows
_RIM_SHARE, _CLOSE_SHARE = 0.06, 0.3
_MUCH_LARGER = 1.5
_LEAST_MM = 700.0  # of what is shown around few screws: to see where they are
_HOME = 0.55  # how much of its way home an arrow of a part takes


@dataclass(frozen=True, slots=True)
class _Shot:
    """One picture of a step in the making, with the marks that are shown in it."""

    assembly: Assembly
    step: Step
    scene: Scene
    bodies: Mapping[str, Body]
    hiders: Hiders
    view: View
    marks: tuple[Mark, ...]
    room: tuple[Named, ...] = ()

    @property
    def camera(self) -> Camera:
        return self.view[0]


def step_pictures(
    room_set: RoomSet,
    worked: Machining,
    steps: Sequence[Step],
    scenes: Sequence[Scene],
    numbers: Mapping[str, str],
    letters: Mapping[str, str],
    around_it: RoomDrawn = NOTHING,
) -> tuple[tuple[StepPicture, ...], ...]:
    """Return the pictures of each step: as many views as its screws ask for, with all that stands
    by then. `numbers` are what delivered pieces are marked with, by the part that each goes by,
    `letters` those of articles, `around_it` what most rooms have.
    """
    assembly = room_set.assembly
    bodies = {part.name: body_of(part, worked) for part in (*assembly.boards, *assembly.members)}
    made = []
    for step, scene in zip(steps, scenes, strict=True):
        shown = drawn(bodies, scene)
        usual_first = cameras(room_set.hand, upside_down=scene.upside_down)
        hiders = Hiders.of(shown.values())
        seen_from = views(scene.drives, hiders, usual_first)
        closing = not step.joints and not scene.poses
        room: tuple[Named, ...] = ()
        if scene.in_room:
            lines = room_lines(assembly, room_set.hand, scene.poses, closing, around_it)
            room = tuple(lines)
        shots = [
            _Shot(assembly, step, scene, shown, hiders, view, step.marks, room)
            for view in seen_from
        ]
        if step.marks and scene.drives:
            # What is marked is marked on the bare wall, before anything is held to it.
            bare = replace(scene, coming=(), drives=())
            usual: View = (next(cameras(room_set.hand)), {})
            shots = [replace(each, marks=()) for each in shots]
            stands = drawn(bodies, bare)
            hiders = Hiders.of(stands.values())
            shots.insert(0, _Shot(assembly, step, bare, stands, hiders, usual, step.marks))
        made.append(tuple(_picture(shot, room_set.hand, numbers, letters) for shot in shots))
    return tuple(made)


def _picture(
    shot: _Shot, hand: Hand, numbers: Mapping[str, str], letters: Mapping[str, str]
) -> StepPicture:
    scene, camera = shot.scene, shot.camera
    # Where nothing comes, what is screwed through stands out.
    coming = list(scene.poses) or _held(shot)
    walls = [*_walls(shot.assembly, hand), *shot.room] if scene.in_room else []
    beads = list(_beads(shot))
    listed = [*coming, *(name for name in scene.there if name not in coming)]
    groups = [shot.bodies[name].edges for name in listed]
    lines = seen_lines([*groups, beads, *([edge] for _, edge in walls)], shot.hiders, camera)
    of_part = dict(zip(listed, lines, strict=False))
    of_bead, *of_walls = lines[len(listed) :]
    screws = tuple(driven_screws(shot.assembly, scene.drives, shot.view, letters))
    lengths = tuple((camera.seen(mark.start), camera.seen(mark.end)) for mark in shot.marks)
    homes = [pair for each in scene.coming if (pair := way_in(shot.assembly, each))]
    ways = tuple((camera.seen(start), camera.seen(end)) for start, end in homes)
    frame = _frame(shot, of_part, screws, (*lengths, *ways))
    named = [
        (name, kept)
        for (name, _), wall in zip(walls, of_walls, strict=True)
        if (kept := tuple(cut_off(wall, frame)))
    ]
    return StepPicture(
        new=tuple(line for name in coming for line in of_part[name]),
        earlier=tuple(line for name in listed[len(coming) :] for line in of_part[name]),
        room=tuple(line for wall in of_walls for line in wall),
        names=tuple(
            (name, at) for name, kept in named if name and (at := longest(kept)) is not None
        ),
        beads=of_bead,
        marks=lengths,
        ways=tuple((start, on_its_way(start, end)) for start, end in ways),
        threads=(*ways, *(screw.thread for screw in screws if screw.thread)),
        screws=screws,
        callouts=(
            *_part_callouts(shot, of_part, numbers, frame),
            *(Callout(label=mark_label(at), at=end) for at, (_, end) in enumerate(lengths)),
        ),
        caption=told(camera, scene, hand) + _told_room(shot.room),
        frame=frame,
    )


def _told_room(room: Sequence[Named]) -> str:
    listed = dict.fromkeys(name for name, _ in room if name)
    return f"; {', '.join(listed)} {RULES}" if listed else ""


def _frame(
    shot: _Shot,
    of_part: Mapping[str, Sequence[Line]],
    screws: Sequence[DrivenScrew],
    pairs: Iterable[Line],
) -> Bounds:
    """Return what is shown: what moves and what is driven, with all that it belongs to where that
    is not much larger.
    """
    moved = [
        name
        for name, pose in shot.scene.poses.items()
        if shot.scene.in_room or pose != AS_IT_STANDS
    ]
    core = _ends(of_part, moved or _held(shot))
    core += [screw.at for screw in screws]
    core += [point for pair in pairs for point in pair]
    belongs = [*shot.scene.poses, *near(shot.assembly, shot.step, shot.scene)]
    wide = around([*core, *_ends(of_part, belongs or list(of_part))], _RIM_SHARE)
    if not core:
        return wide
    close = around(core, _CLOSE_SHARE, _LEAST_MM)
    return wide if _longer(wide) <= _MUCH_LARGER * _longer(close) else close


def _held(shot: _Shot) -> list[str]:
    """Return the parts that stand and are screwed through in a step."""
    joints = (shot.assembly.joints[at] for at in shot.step.joints)
    through = [each.through for each in joints if isinstance(each, Screwed | FixedToWall)]
    return [name for name in shot.scene.there if name in through]


def _ends(of_part: Mapping[str, Sequence[Line]], names: Iterable[str]) -> list[PicturePoint]:
    return [point for name in names for line in of_part[name] for point in line]


def _longer(bounds: Bounds) -> float:
    return max(bounds.x1 - bounds.x0, bounds.y1 - bounds.y0)


def driven_screws(
    assembly: Assembly, drives: Sequence[Drive], view: View, letters: Mapping[str, str]
) -> Iterator[DrivenScrew]:
    """Yield the screws that are shown in a view."""
    camera, seen = view
    for at_drive, is_seen in sorted(seen.items()):
        drive = drives[at_drive]
        joint = assembly.joints[drive.at]
        assert isinstance(joint, Screwed | FixedToWall)
        label = letters[joint.screw.key]
        if isinstance(joint, FixedToWall) and joint.cap is not None:
            label = f"{label}+{letters[joint.cap.key]}"
        at = camera.seen(drive.head)
        yield DrivenScrew(
            label=label,
            at=at,
            way=camera.seen(drive.way),
            seen=is_seen,
            thread=None if drive.to is None else (at, camera.seen(drive.to)),
        )


def article_letters(assembly: Assembly, steps: Iterable[Step]) -> dict[str, str]:
    """Return a capital letter for each screw and cap by its key, in the order that the steps take
    them.
    """
    return letters_of(assembly, (at for step in steps for at in step.joints))


def letters_of(assembly: Assembly, joints: Iterable[int]) -> dict[str, str]:
    """Return a capital letter for each screw and cap by its key, in the order of the joints: A and
    B to Z, then A1.
    """
    keys: dict[str, None] = {}
    for joint in (assembly.joints[at] for at in joints):
        if isinstance(joint, Screwed | FixedToWall):
            keys.setdefault(joint.screw.key)
        if isinstance(joint, FixedToWall) and joint.cap is not None:
            keys.setdefault(joint.cap.key)
    return {key: mark_label(at).upper() for at, key in enumerate(keys)}


def _walls(assembly: Assembly, hand: Hand) -> Iterator[tuple[str, Edge]]:
    """Yield where walls meet the floor and each other, with the name of what is named there."""
    corner = Point(0.0, 0.0, 0.0)
    away = -1.0 if hand is Hand.RIGHT else 1.0
    yield "head wall", Edge(corner, Point(away * WALLS_MM, 0.0, 0.0))
    yield "side wall", Edge(corner, Point(0.0, -WALLS_MM, 0.0))
    yield "corner", Edge(corner, Point(0.0, 0.0, WALLS_MM))
    beyond = dict.fromkeys(
        (joint.direction.axis, joint.wall_mm)
        for joint in assembly.joints
        if isinstance(joint, FixedToWall) and joint.wall_mm
    )
    for axis, at in beyond:
        along = Axis.X if axis is Axis.Y else Axis.Y
        start = corner.at(axis, at)
        reach = away * WALLS_MM if along is Axis.X else -WALLS_MM
        yield "foot wall" if axis is Axis.Y else "far wall", Edge(start, start.at(along, reach))


def _beads(shot: _Shot) -> Iterator[Edge]:
    for at in shot.step.joints:
        joint = shot.assembly.joints[at]
        if isinstance(joint, Bonded):
            for start, end in bead_lines(shot.assembly, joint):
                yield Edge(start, end)


def _part_callouts(
    shot: _Shot,
    of_part: Mapping[str, Sequence[Line]],
    numbers: Mapping[str, str],
    frame: Bounds,
) -> Iterator[Callout]:
    """Yield for each number a label that ends on an edge of one of its parts: the middle of the
    longest line that is seen of them.
    """
    for number, names in by_number(tuple(shot.scene.poses) or _held(shot), numbers).items():
        at = longest(list(cut_off((l for name in names for l in of_part[name]), frame)))
        if at is not None:
            yield Callout(label=short_label(number), at=at)


def by_number(parts: Sequence[str], numbers: Mapping[str, str]) -> dict[str, list[str]]:
    """Return the names of the parts by their number, in the order of the parts; those that have
    none come with others.
    """
    found: dict[str, list[str]] = {}
    for name in parts:
        if name in numbers:
            found.setdefault(numbers[name], []).append(name)
    return found


def mark_label(index: int) -> str:
    """Return how a step's mark is called in its picture: a, b and so on, then a1, b1."""
    turn, place = divmod(index, 26)
    return chr(ord("a") + place) + (str(turn) if turn else "")


def longest(lines: Sequence[Line]) -> PicturePoint | None:
    """Return the middle of the longest of the lines, None of none; of equal ones the same in both
    hands.
    """
    return _middle(max(lines, key=_length)) if lines else None


def on_its_way(start: PicturePoint, end: PicturePoint) -> PicturePoint:
    """Return where the arrow of a part that goes from start to end ends."""
    x, y = (a + (b - a) * _HOME for a, b in zip(start, end, strict=True))
    return x, y


def _middle(line: Line) -> PicturePoint:
    x, y = ((a + b) / 2 for a, b in zip(*line, strict=True))
    return x, y


def _length(line: Line) -> tuple[float, float, float]:
    x, y = _middle(line)
    return round(math.dist(*line)), round(y), round(abs(x))
