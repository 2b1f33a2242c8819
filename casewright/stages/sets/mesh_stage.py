"""From the job to the triangles of its sets, for screens; no solids are made."""

from __future__ import annotations

from functools import partial

from casewright.errors import CannotBeMade
from casewright.job import Job
from casewright.progress import Progress
from casewright.stages.sets.set_memory import Made, SetMemory
from casewright.stages.sets.used_sets import UsedSet, used_sets
from parametric.geometry.hand import Hand
from parametric.meshes.set_meshes import PlacedMesh, set_meshes
from parametric.sets.room_set import RoomSet

SetMeshes = dict[tuple[str, Hand], tuple[PlacedMesh, ...]]
"""The mesh and place of each board and member, by the name and hand of the set."""


def meshes_of(job: Job, progress: Progress, memory: SetMemory) -> SetMeshes:
    """Return the meshes of each set and hand in use, in the room frame, in millimetres.

    Raises:
        DoesNotFit: a deck cannot be cut from the stock, even in pieces.
        CannotBeMade: cuts of a part run into each other.
        Cancelled: the work was cancelled.
    """
    used = used_sets(job)
    progress.stage("meshes", len(used))
    found: SetMeshes = {}
    for each in used:
        make = partial(_of_set, job, each, memory.placed(each))
        found[each.sizes.name, each.hand] = memory.of(Made.MESHES, each, make)
        progress.step(f"{each.sizes.name}, {each.hand} hand")
    return found


def _of_set(job: Job, used: UsedSet, room_set: RoomSet) -> tuple[PlacedMesh, ...]:
    try:
        return set_meshes(room_set.assembly, job.routing)
    except ValueError as error:
        raise CannotBeMade(f"{used.where}: {error}") from error
