"""What has to be lifted at a step, and how many people that takes.

Pieces come into the room one at a time, as the shop delivers them. A box whose deck is screwed on
from below is put together upside down where it will stand, and turned over: one edge stays on the
floor, so that half of its mass is lifted at the other. So it is when a box that was put together
where it stands is moved and levelled: shims go under one edge at a time. Common practice, no
source; the mass that one person lifts is from the lifting equation.
"""

from __future__ import annotations

import math

from parametric.findings.lifting import ONE_PERSON_KG
from parametric.geometry.space import Direction
from parametric.joints.assembly import Assembly
from parametric.joints.delivered import delivered
from parametric.joints.joints import Screwed
from parametric.shapes.mass import total_kg
from parametric.steps.tasks import Kind, Task

MOST_PEOPLE = 4
"""People who can get hold of one thing in a room; common practice, no source."""


def is_turned_over(assembly: Assembly, task: Task) -> bool:
    """Return whether a box is put together upside down: a board of it is screwed on from below."""
    boards = {board.name for board in assembly.boards}
    joints = (assembly.joints[at] for at in task.joints)
    return task.kind in {Kind.GROUP, Kind.DECK, Kind.DRY} and any(
        isinstance(joint, Screwed)
        and joint.direction is Direction.Z_PLUS
        and joint.into in boards
        and joint.through in task.parts
        for joint in joints
    )


def is_screwed(assembly: Assembly, task: Task) -> bool:
    """Return whether the task has screws from part to part; what has none comes in one piece."""
    return any(isinstance(assembly.joints[at], Screwed) for at in task.joints)


def lifted_kg(assembly: Assembly, task: Task) -> float:
    """Return the most that is lifted at once; 0 where nothing comes in. What was put together and
    is lifted off again is lifted whole, and so is a deck with its legs, which goes onto its box.
    """
    if task.again:
        return total_kg(map(assembly.part, task.again))
    parts = [assembly.part(name) for name in task.parts]
    pieces = (each for each in delivered(assembly) if not set(task.parts).isdisjoint(each.names))
    heaviest = max((piece.mass_kg for piece in pieces), default=0.0)
    if edge_by_edge(assembly, task):
        return max(heaviest, total_kg(parts) / 2)
    return total_kg(parts) if is_turned_over(assembly, task) else heaviest


def edge_by_edge(assembly: Assembly, task: Task) -> bool:
    """Return whether a box that was put together in the room is turned over or levelled: one edge
    stays on the floor.
    """
    return task.kind is Kind.GROUP and not task.joining and is_screwed(assembly, task)


def people_for(lifted: float) -> int:
    """Return how many people lift so many kilograms, each their share."""
    return max(1, math.ceil(lifted / ONE_PERSON_KG - 1e-9))


def who_lifts(lifted: float) -> str:
    """Return who lifts so many kilograms, in words.

    >>> who_lifts(10.0), who_lifts(25.0), who_lifts(100.0)
    ('1 person', '2 people', 'lifting aid')
    """
    people = people_for(lifted)
    if people > MOST_PEOPLE:
        return "lifting aid"
    return "1 person" if people == 1 else f"{people} people"
