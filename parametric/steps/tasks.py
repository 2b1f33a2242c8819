"""What is done at once on site, from the joints: tasks, before they are put in order.

Boards and bars that screws or grooves hold together make one task: a box is put together and set
down as one, with the deck and legs that are screwed to it; a carcass comes glued. A steel angle
ties such groups and belongs to none, so its screws are a task of their own, and so are the screws
of each group into the wall.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from parametric.joints.assembly import Assembly
from parametric.joints.joints import (
    FixedToWall,
    Housed,
    Hung,
    Joint,
    Passing,
    Screwed,
    parts_of,
)
from parametric.shapes.members import Cleat, Leg, SteelAngle, WallPlate


class Kind(StrEnum):
    """What a task is."""

    PLATES = "wall plates"
    GROUP = "box or carcass"
    BOARD = "board"
    HUNG = "hung panel"
    ANGLE = "steel angle"
    FIX = "fixing to the wall"
    TIE = "screws of the steel angle"


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """Parts that come in and joints that are made, by place in the assembly's tuple.

    `group` is the first part of the group, or the steel angle, that it is about; `about` is what a
    person calls that.
    """

    kind: Kind
    group: str
    about: str
    parts: tuple[str, ...]
    joints: tuple[int, ...]


def tasks_of(assembly: Assembly) -> tuple[Task, ...]:
    """Return the tasks of a set; each part and each joint is in exactly one of them."""
    groups = group_of_part(assembly)
    angles = {angle.name for angle in assembly.angles}
    plates = {plate.name for plate in assembly.wall_plates}
    made: dict[str, list[int]] = {}
    fixed: dict[str, list[int]] = {}
    tied: dict[str, list[int]] = {}
    for at, joint in enumerate(assembly.joints):
        match joint:
            case Screwed() if joint.through in angles:
                tied.setdefault(joint.through, []).append(at)
            case FixedToWall() if joint.through not in plates:
                fixed.setdefault(groups[joint.through], []).append(at)
            case _:
                made.setdefault(groups[done_with(joint)], []).append(at)
    members: dict[str, list[str]] = {}
    for name, group in groups.items():
        members.setdefault(group, []).append(name)
    return tuple(_tasks(assembly, members, made, fixed, tied))


def done_with(joint: Joint) -> str:
    """Return the part whose coming makes the joint: what is held, laid on, hung or passed in."""
    return joint.member if isinstance(joint, Passing) else parts_of(joint)[0]


def group_of_part(assembly: Assembly) -> dict[str, str]:
    """Return for each part the first part of its group.

    Screws and grooves hold a group together, except the screws of a steel angle; all wall plates
    that one panel hangs on are a group.
    """
    names = [part.name for part in (*assembly.boards, *assembly.members)]
    group = {name: name for name in names}
    angles = {angle.name for angle in assembly.angles}

    def join(first: str, second: str) -> None:
        kept, gone = sorted((group[first], group[second]), key=names.index)
        for name in names:
            if group[name] == gone:
                group[name] = kept

    for joint in assembly.joints:
        if isinstance(joint, Screwed | Housed) and not angles & set(parts_of(joint)):
            join(*parts_of(joint))
        if isinstance(joint, Hung):
            for plate in joint.plates[1:]:
                join(joint.plates[0], plate)
    return group


def _tasks(
    assembly: Assembly,
    members: dict[str, list[str]],
    made: dict[str, list[int]],
    fixed: dict[str, list[int]],
    tied: dict[str, list[int]],
) -> Iterator[Task]:
    for group, names in members.items():
        yield Task(
            kind=_kind(assembly, names),
            group=group,
            about=_about(assembly, names),
            parts=tuple(names),
            joints=tuple(made.get(group, ())),
        )
        if group in fixed:
            yield Task(
                kind=Kind.FIX,
                group=group,
                about=_about(assembly, names),
                parts=(),
                joints=tuple(fixed[group]),
            )
    for angle, joints in tied.items():
        yield Task(kind=Kind.TIE, group=angle, about=angle, parts=(), joints=tuple(joints))


def _kind(assembly: Assembly, names: list[str]) -> Kind:
    match assembly.part(names[0]):
        case WallPlate():
            return Kind.PLATES
        case SteelAngle():
            return Kind.ANGLE
        case Cleat() | Leg():
            return Kind.GROUP
        case _ if len(names) > 1:
            return Kind.GROUP
        case board:
            hung = {joint.panel for joint in assembly.joints if isinstance(joint, Hung)}
            return Kind.HUNG if board.name in hung else Kind.BOARD


def _about(assembly: Assembly, names: list[str]) -> str:
    first = assembly.part(names[0])
    return first.unit if len(names) > 1 else first.name
