"""What is done at once on site, from the joints: tasks, before they are put in order.

Boards and bars that screws or grooves hold together make one task: a box is put together and set
down as one, with the deck and legs that are screwed to it; a carcass comes glued, and panels come
with the cleats that the shop put on. A steel angle
ties such groups and belongs to none, so its screws are a task of their own; so are those of cleats
that are put up on the wall by themselves, those up into a deck that is bonded on, and the screws of
each group into the wall.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from parametric.joints.assembly import Assembly
from parametric.joints.groups import (
    bonded_tops,
    butted_to,
    floating_groups,
    floating_tops,
    group_of_part,
    holds_down,
    standing_apart,
)
from parametric.joints.joints import (
    Bonded,
    FixedToWall,
    Housed,
    Hung,
    Joint,
    Passing,
    Screwed,
    parts_of,
)
from parametric.shapes.board import Board
from parametric.shapes.members import Cleat, Leg, SteelAngle, WallPlate
from parametric.stock.made_in import MadeIn


class Kind(StrEnum):
    """What a task is."""

    PLATES = "wall plates"
    CLEATS = "wall cleats"
    GROUP = "box or carcass"
    BOARD = "board"
    DECK = "deck with its legs"
    DRY = "dry fit"
    LAID = "laid dry"
    BOND = "bonding"
    HUNG = "hung panel"
    ANGLE = "steel angle"
    FIX = "fixing to the wall"
    TIE = "screws of the steel angle"


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """Parts that come in and joints that are made, by place in the assembly's tuple.

    `group` is the first part of the group, or the steel angle, that it is about; `about` is what a
    person calls that. `again` are parts that came in before and are lifted once more. In a task of
    `joining` pieces are only brought together, one at a time, and the whole is moved later.
    """

    kind: Kind
    group: str
    about: str
    parts: tuple[str, ...]
    joints: tuple[int, ...]
    again: tuple[str, ...] = ()
    joining: bool = False


def tasks_of(assembly: Assembly) -> tuple[Task, ...]:
    """Return the tasks of a set; each part and each joint that is not made in the shop is in
    exactly one of them.
    """
    groups = group_of_part(assembly)
    apart, bonded = standing_apart(assembly), bonded_tops(assembly)
    made: dict[str, list[int]] = {}
    fixed: dict[str, list[int]] = {}
    tied: dict[str, list[int]] = {}
    for at, joint in enumerate(assembly.joints):
        match joint:
            case Screwed() | Housed() | Bonded() if joint.made_in is MadeIn.SHOP:
                pass  # it comes like that
            case Screwed() if joint.through in apart:
                tied.setdefault(groups[joint.through], []).append(at)
            case Screwed() if holds_down(assembly, joint, bonded):
                tied.setdefault(groups[joint.into], []).append(at)
            case FixedToWall() if joint.through not in apart:
                fixed.setdefault(groups[joint.through], []).append(at)
            case _:
                made.setdefault(groups[done_with(joint)], []).append(at)
    members: dict[str, list[str]] = {}
    for name, group in groups.items():
        members.setdefault(group, []).append(name)
    return tuple(_tasks(assembly, members, made, fixed, tied, groups))


def done_with(joint: Joint) -> str:
    """Return the part whose coming makes the joint: what is held, laid on, hung or passed in."""
    return joint.member if isinstance(joint, Passing) else parts_of(joint)[0]


def _tasks(
    assembly: Assembly,
    members: dict[str, list[str]],
    made: dict[str, list[int]],
    fixed: dict[str, list[int]],
    tied: dict[str, list[int]],
    groups: dict[str, str],
) -> Iterator[Task]:
    called, floating = _called(assembly, members), floating_groups(assembly)
    laid_dry = _laid_dry(assembly, members, groups)
    for group, names in members.items():
        task = Task(
            kind=_kind(assembly, names),
            group=group,
            about=called[group],
            parts=tuple(names),
            joints=tuple(made.get(group, ())),
        )
        if laid_dry.issuperset(names):
            # What comes beside it is butted to it, so it lies there before it is glued down.
            yield replace(task, kind=Kind.LAID, joints=())
            yield replace(task, kind=Kind.BOND, parts=(), again=task.parts)
            continue
        bonds = {at: on for at in task.joints for on in _bonded_on(assembly, at)}
        if any(groups[name] in floating for on in bonds.values() for name in on):
            # What no corner holds is found by laying its deck dry; it is glued down once all is.
            others = tuple(at for at in task.joints if at not in bonds)
            yield replace(task, kind=Kind.DRY, joints=others)
            yield replace(task, kind=Kind.BOND, parts=(), joints=tuple(bonds), again=task.parts)
        else:
            yield task
        if group in fixed:
            yield Task(
                kind=Kind.FIX,
                group=group,
                about=called[group],
                parts=(),
                joints=tuple(fixed[group]),
            )
    for group, joints in tied.items():
        yield Task(kind=Kind.TIE, group=group, about=called[group], parts=(), joints=tuple(joints))


def _laid_dry(
    assembly: Assembly, members: Mapping[str, list[str]], groups: Mapping[str, str]
) -> set[str]:
    """Return the decks of one board that boxes and carcasses of other units are butted to, if they
    are glued down on site and do not float: what floats is laid dry to find its own place.
    """
    bonds = {joint.top: joint for joint in assembly.joints if isinstance(joint, Bonded)}
    decks = bonded_tops(assembly) - floating_tops(assembly)
    found = set()
    for group, names in members.items():
        boards = (part for part in map(assembly.part, names) if isinstance(part, Board))
        if _kind(assembly, names) is Kind.GROUP:
            butted = {other.name for board in boards for other in butted_to(assembly, board)}
            found |= {
                name
                for name in butted & decks
                if members.get(name) == [name] and all(groups[on] != group for on in bonds[name].on)
            }
    return found


def _bonded_on(assembly: Assembly, joint_at: int) -> Iterator[tuple[str, ...]]:
    joint = assembly.joints[joint_at]
    if isinstance(joint, Bonded):
        yield joint.on


def _kind(assembly: Assembly, names: list[str]) -> Kind:
    match assembly.part(names[0]):
        case WallPlate():
            return Kind.PLATES
        case SteelAngle():
            return Kind.ANGLE
        case Cleat(name=name) if name in assembly.on_walls():
            return Kind.CLEATS
        case Cleat() | Leg():
            return Kind.GROUP
        case _ if len(names) > 1:
            return Kind.GROUP if bonded_tops(assembly).isdisjoint(names) else Kind.DECK
        case board:
            hung = {joint.panel for joint in assembly.joints if isinstance(joint, Hung)}
            return Kind.HUNG if board.name in hung else Kind.BOARD


def _called(assembly: Assembly, members: dict[str, list[str]]) -> dict[str, str]:
    """Return what a person calls each group: its unit where it is the first box or carcass of that,
    else its first part.
    """
    called: dict[str, str] = {}
    boxes: set[str] = set()
    for group, names in members.items():
        first, kind = assembly.part(names[0]), _kind(assembly, names)
        another = kind is Kind.GROUP and first.unit in boxes
        alone = len(names) == 1 and kind is not Kind.CLEATS
        own_name = alone or another or kind is Kind.DECK
        called[group] = first.name if own_name else first.unit
        boxes |= {first.unit} if kind is Kind.GROUP else set()
    return called
