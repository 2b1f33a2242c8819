"""What to mind in a step: what is lifted and turned over, walls, tools and adhesive.

Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from parametric.joints.assembly import Assembly
from parametric.joints.into_wall import wall_cautions
from parametric.joints.joints import Bonded, FixedToWall, Screwed
from parametric.joints.standing import to_tipping_mm
from parametric.shapes.mass import total_kg
from parametric.steps.carrying import (
    MOST_PEOPLE,
    edge_by_edge,
    is_turned_over,
    lifted_kg,
    people_for,
)
from parametric.steps.tasks import Kind, Task
from parametric.steps.turning import turning_floor_mm
from parametric.stock.amounts import Words, length, mass


def cautions_of(assembly: Assembly, task: Task) -> Iterator[Words]:
    """Yield what to mind in a task."""
    joints = [assembly.joints[at] for at in task.joints]
    yield from _lifting(assembly, task)
    if is_turned_over(assembly, task):
        yield _turning(assembly, task)
    if task.kind is Kind.GROUP and to_tipping_mm(assembly, task.parts) < 0:
        yield "It can tip over until its screws are in: one person holds it"
    if task.kind is Kind.ANGLE:
        yield "Wear gloves: cut ends may be sharp; keep fingers out of the notches as it goes in"
    if any(isinstance(joint, FixedToWall) for joint in joints):
        yield "Find pipes and cables before drilling. Wear eye protection; keep the dust down"
        yield from wall_cautions(into_walls(assembly, task))
    elif any(isinstance(joint, Screwed) for joint in joints):
        yield "Wear eye protection"
    if any(isinstance(joint, Bonded) for joint in joints):
        yield (
            "Wear gloves and let in fresh air for the adhesive; no load until it has set, as its"
            " maker says"
        )
    if task.kind not in {Kind.FIX, Kind.PLATES, Kind.CLEATS, Kind.TIE}:
        yield "Not secure until it is fixed: nobody leans, sits or climbs on it"


def _lifting(assembly: Assembly, task: Task) -> Iterator[Words]:
    """Yield what is lifted, whole and by each, where that takes more than one."""
    lifted = lifted_kg(assembly, task)
    people = people_for(lifted)
    whole: Words = ""
    total = total_kg(assembly.part(name) for name in task.parts)
    if edge_by_edge(assembly, task) and lifted < total:
        how = "turned over on one edge" if is_turned_over(assembly, task) else "one edge at a time"
        whole = (" (", mass(total), f" in all, {how})")
    if people > MOST_PEOPLE:
        yield (mass(lifted), " to lift", whole, ": too much by hand, use a lifting aid")
    elif people > 1:
        shared = (f": {people} people, ", mass(lifted / people), " each, or a lifting aid")
        yield (mass(lifted), " to lift", whole, shared)


def _turning(assembly: Assembly, task: Task) -> Words:
    """Return how what lies upside down is turned over, and the floor that this takes."""
    long, wide = turning_floor_mm(assembly, task.parts)
    floor = (length(long), " x ", length(wide))
    return (
        "Turn it over on its long edge, hands and feet clear of it; keep ",
        floor,
        " of floor clear for that",
    )


def into_walls(assembly: Assembly, task: Task) -> list[FixedToWall]:
    """Return the joints of a task that go into walls."""
    joints = [assembly.joints[at] for at in task.joints]
    return [joint for joint in joints if isinstance(joint, FixedToWall)]
