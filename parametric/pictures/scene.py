"""The scene of a step: what comes and from where, what stands, which screws are driven."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from parametric.geometry.pose import Pose
from parametric.geometry.space import Box, Direction, Point
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Bonded, FixedToWall, Screwed, parts_of
from parametric.joints.machining import Machining
from parametric.pictures.apart import Coming, apart, off_the_wall, on_their_way
from parametric.pictures.bodies import AS_IT_STANDS, Body
from parametric.shapes.board import Board
from parametric.steps.part_boxes import boxes_of
from parametric.steps.step import Step
from parametric.steps.straight_way import FROM_THE_ROOM


@dataclass(frozen=True, slots=True, kw_only=True)
class Drive:
    """A screw as it is driven: its `head` where the part that it goes through is drawn, the `way`
    it goes, and where it ends up, `to`, if that is drawn somewhere else. `at` is its joint.
    """

    at: int
    head: Point
    way: Point
    to: Point | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """What is drawn of a step: `coming` new or moved parts, `there` those that stand by then.

    `in_room` says whether walls and floor are drawn with it: what is put together upside down is
    drawn alone.
    """

    coming: tuple[Coming, ...]
    there: tuple[str, ...]
    drives: tuple[Drive, ...]
    upside_down: bool
    in_room: bool

    @property
    def poses(self) -> dict[str, Pose]:
        """Where each new or moved part is drawn."""
        return {name: each.pose for each in self.coming for name in each.names}


def scenes_of(
    assembly: Assembly,
    worked: Machining,
    steps: Collection[Step],
    outwards: Mapping[str, Direction],
) -> Iterator[Scene]:
    """Yield the scene of each step, in order."""
    boxes = {part.name: boxes_of(part, worked) for part in (*assembly.boards, *assembly.members)}
    listed = list(steps)
    there: list[str] = []
    for at, step in enumerate(listed):
        joining = _joins(assembly, step)
        there = [name for name in there if name not in step.again]
        stands = {name: boxes[name] for name in there}
        if joining:
            coming = apart(assembly, boxes, step.parts, step.beside)
        elif step.again and not _is_lifted(assembly, step, listed[:at]):
            coming = (Coming(names=step.again),)
        elif moved := (*step.parts, *step.again):
            coming = _brought(assembly, boxes, moved, stands, outwards)
        else:
            coming = ()
        poses = {name: each.pose for each in coming for name in each.names}
        yield Scene(
            coming=coming,
            there=() if joining else tuple(there),
            drives=tuple(drives(assembly, step.joints, poses)),
            upside_down=step.upside_down,
            in_room=not joining,
        )
        later = {name for other in listed[at + 1 :] for name in other.again}
        moved_in = (*step.parts, *step.again)
        there += [name for name in moved_in if step.stays or name not in later]


def drives(assembly: Assembly, joints: Iterable[int], poses: Mapping[str, Pose]) -> Iterator[Drive]:
    """Yield the screws among joints, given by their places, with the parts where they are drawn."""
    for at in joints:
        joint = assembly.joints[at]
        if not isinstance(joint, Screwed | FixedToWall):
            continue
        pose = poses.get(joint.through, AS_IT_STANDS)
        ends_at = (
            poses.get(joint.into, AS_IT_STANDS) if isinstance(joint, Screwed) else AS_IT_STANDS
        )
        mouth = joint.mouth if isinstance(joint, FixedToWall) else joint.head
        yield Drive(
            at=at,
            head=pose.to_room(joint.head),
            way=pose.turned(joint.direction.vector),
            to=None if pose == ends_at else ends_at.to_room(mouth),
        )


def _joins(assembly: Assembly, step: Step) -> bool:
    """Return whether parts are screwed to each other that come in this step or are held by it."""
    at_hand = {*step.parts, *step.beside}
    return step.upside_down or any(
        isinstance(joint, Screwed) and {joint.through, joint.into} <= at_hand
        for joint in (assembly.joints[at] for at in step.joints)
    )


def _is_lifted(assembly: Assembly, step: Step, earlier: Sequence[Step]) -> bool:
    """Return whether what comes again is lifted to its place: not what was put together there."""
    if any(isinstance(assembly.joints[at], Bonded) for at in step.joints):
        return True
    last = next(each for each in reversed(earlier) if not set(each.parts).isdisjoint(step.again))
    return last.upside_down or not _joins(assembly, last)


def _brought(
    assembly: Assembly,
    boxes: Mapping[str, tuple[Box, ...]],
    moved: tuple[str, ...],
    there: Mapping[str, tuple[Box, ...]],
    outwards: Mapping[str, Direction],
) -> tuple[Coming, ...]:
    if set(moved) <= assembly.on_walls():
        fixings = assembly.wall_fixings()
        return tuple(off_the_wall(name, fixings[name][0].direction.opposite) for name in moved)
    units = dict.fromkeys(assembly.part(name).unit for name in moved)
    from_room = dict.fromkeys(outwards.get(unit, FROM_THE_ROOM) for unit in units)
    return (on_their_way(assembly, boxes, moved, there, tuple(from_room)),)


def drawn(bodies: Mapping[str, Body], scene: Scene) -> dict[str, Body]:
    """Return the bodies of all that a scene shows, where they are drawn."""
    poses = scene.poses
    return {
        name: bodies[name].placed(poses.get(name, AS_IT_STANDS)) for name in (*scene.there, *poses)
    }


def near(assembly: Assembly, step: Step, scene: Scene) -> tuple[str, ...]:
    """Return the parts that stand and matter to a step: those that its joints hold, and all of
    their units.
    """
    held = {name for at in step.joints for name in parts_of(assembly.joints[at])}
    held |= {name for each in scene.coming for name in each.names}
    units = {
        part.unit for part in map(assembly.part, held) if isinstance(part, Board) or len(held) == 1
    }
    return tuple(name for name in scene.there if name in held or assembly.part(name).unit in units)
