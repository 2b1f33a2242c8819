"""The order of the work: what must stand before what, from the joints."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from graphlib import CycleError, TopologicalSorter

from parametric.geometry.space import Direction
from parametric.joints.assembly import Assembly
from parametric.joints.groups import butted_to, floating_groups, group_of_part
from parametric.joints.joints import Bonded, FixedToWall, Hung, Passing, Screwed, Seated, parts_of
from parametric.shapes.board import Board
from parametric.steps.portions import steps_of_task
from parametric.steps.step import Step
from parametric.steps.tasks import Kind, Task, tasks_of

RANK = {Kind.PLATES: 0, Kind.CLEATS: 0, Kind.LAID: 2, Kind.DRY: 3, Kind.TIE: 5, Kind.HUNG: 6}
"""Where the joints leave a choice: plates while the wall is free, decks when they are wanted,
panels last (common practice, no source). All else has rank 1, and goes as built."""
BONDED_RANK = 4  # after what stands beside it was fixed: a bonded deck cannot give way any more

ALONG_HEAD_WALL: Mapping[str, Direction] = {}
"""Where nothing else is said, units stand along the head wall."""

Show = Callable[[float], str]
"""A length in millimetres as the job shows it."""


class NoOrder(Exception):
    """The joints ask for each of some tasks to come before another of them."""

    def __init__(self, tasks: tuple[str, ...]) -> None:
        """Keep what the tasks are about, in the order of the circle."""
        super().__init__(tasks)
        self.tasks = tasks

    def __str__(self) -> str:
        """Return the circle in words."""
        return " before ".join(self.tasks)


def steps_of(
    assembly: Assembly,
    show: Show,
    outwards: Mapping[str, Direction] = ALONG_HEAD_WALL,
    closely: Show | None = None,
) -> tuple[Step, ...]:
    """Return the steps in the order of the work; the same for both hands of a set.

    Lengths in texts go through `show`, as a tape is read, and through `closely` where what fits
    together is finer than that, the same where it is None; `outwards` is the way out from the wall
    that each unit stands along.

    Raises:
        NoOrder: there is no order that the joints allow.
    """
    steps = (
        step
        for task in ordered(assembly)
        for step in steps_of_task(assembly, task, show, outwards, closely or show)
    )
    return tuple(replace(step, number=number) for number, step in enumerate(steps, start=1))


def ordered(assembly: Assembly) -> tuple[Task, ...]:
    """Return the tasks in order; where the joints leave a choice, by rank, then as built.

    Raises:
        NoOrder: there is no order that the joints allow.
    """
    tasks = tasks_of(assembly)
    sorter = TopologicalSorter(dict.fromkeys(range(len(tasks)), ()))
    for first, then in before(assembly, tasks):
        sorter.add(then, first)
    try:
        sorter.prepare()
    except CycleError as error:
        raise NoOrder(tuple(tasks[at].about for at in error.args[1])) from None
    found: list[Task] = []
    ready = set(sorter.get_ready())
    while ready:
        at = min(ready, key=lambda each: (_rank(assembly, tasks[each]), each))
        ready.remove(at)
        found.append(tasks[at])
        sorter.done(at)
        ready.update(sorter.get_ready())
    return tuple(found)


def _rank(assembly: Assembly, task: Task) -> int:
    if any(isinstance(assembly.joints[at], Bonded) for at in task.joints):
        return BONDED_RANK
    return RANK.get(task.kind, 1)


def before(assembly: Assembly, tasks: tuple[Task, ...]) -> Iterator[tuple[int, int]]:
    """Yield pairs of tasks, by place: the first must be done before the second.

    A member that passes through a group slides in under what is screwed to it; so of the two only
    the passing orders them.
    """
    comes = {part: at for at, task in enumerate(tasks) for part in task.parts}
    fixings = {task.group: at for at, task in enumerate(tasks) if task.kind is Kind.FIX}
    tied = {
        joint: at for at, task in enumerate(tasks) if task.kind is Kind.TIE for joint in task.joints
    }
    glued = {
        joint.top: at
        for at, task in enumerate(tasks)
        for joint in (assembly.joints[number] for number in task.joints)
        if isinstance(joint, Bonded)
    }
    dry = [at for at, task in enumerate(tasks) if task.kind is Kind.DRY]
    floating = floating_groups(assembly)
    late = {group: at for group, at in fixings.items() if group in floating}
    early = {group: at for group, at in fixings.items() if group not in floating}
    yield from _found_dry(assembly, comes, late, glued)
    yield from _laid_first(assembly, tasks, comes, glued)
    # Nothing is bonded before all that floats was tried in its place.
    yield from ((tried, at) for at in glued.values() for tried in dry)
    passed = {
        (comes[joint.member], comes[joint.through])
        for joint in assembly.joints
        if isinstance(joint, Passing)
    }
    for number, joint in enumerate(assembly.joints):
        match joint:
            case Seated() | Bonded():
                for support in joint.on:
                    pair = comes[support], comes[joint.top]
                    if pair[0] != pair[1] and pair not in passed:
                        yield pair
                        yield from _fixed_first(tasks, early, pair)
            case Passing():
                pair = comes[joint.through], comes[joint.member]
                yield pair
                yield from _fixed_first(tasks, early, pair)
            case Hung():
                for plate in joint.plates:
                    yield comes[plate], comes[joint.panel]
            case FixedToWall() if tasks[comes[joint.through]].group in fixings:
                yield comes[joint.through], fixings[tasks[comes[joint.through]].group]
            case Screwed() if number in tied:
                for part in parts_of(joint):
                    yield glued.get(part, comes[part]), tied[number]
            case _:
                pass


def _found_dry(
    assembly: Assembly, comes: dict[str, int], fixings: dict[str, int], glued: dict[str, int]
) -> Iterator[tuple[int, int]]:
    """Yield that what floats is fixed to the wall when its deck, laid dry, has found its place, and
    before that is glued on: the screws are driven from inside.
    """
    groups = group_of_part(assembly)
    for joint in assembly.joints:
        if isinstance(joint, Bonded) and joint.top in glued:
            for group in {groups[name] for name in joint.on} & fixings.keys():
                yield comes[joint.top], fixings[group]
                yield fixings[group], glued[joint.top]


def _laid_first(
    assembly: Assembly, tasks: tuple[Task, ...], comes: dict[str, int], glued: dict[str, int]
) -> Iterator[tuple[int, int]]:
    """Yield that a deck which is laid dry lies there before boxes and carcasses of other units are
    butted to it, and is glued down after that.
    """
    laid = {name for task in tasks if task.kind is Kind.LAID for name in task.parts}
    yield from ((comes[name], glued[name]) for name in laid)
    for at, task in enumerate(tasks):
        if task.kind is Kind.GROUP:
            boards = (part for part in map(assembly.part, task.parts) if isinstance(part, Board))
            for other in (other for board in boards for other in butted_to(assembly, board)):
                if other.name in laid:
                    yield comes[other.name], at
                    yield at, glued[other.name]


def _fixed_first(
    tasks: tuple[Task, ...], fixings: dict[str, int], pair: tuple[int, int]
) -> Iterator[tuple[int, int]]:
    """Yield that a group is fixed to the wall before anything lies on it or runs into it: its
    screws are driven from inside.
    """
    fixing = fixings.get(tasks[pair[0]].group)
    if fixing is not None:
        yield fixing, pair[1]
