"""From the sets of a job to what the summary page lets people turn and search."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from casewright.job import Job
from casewright.stages.sets.set_stage import ModelledSet, SetsOfJob
from export.summary.content import SetKey, TurnedPart, TurnedSet
from parametric.geometry.hand import Hand
from parametric.meshes.mesh import Mesh
from parametric.meshes.plain_meshes import plain_meshes


def turned_sets(job: Job, sets: SetsOfJob) -> tuple[TurnedSet, ...]:
    """Return the sets in use with small meshes, in whole millimetres.

    Raises:
        ValueError: a part has no mesh though it has a solid, which is a bug; the text names it.
    """
    numbers = numbers_of(sets)
    return tuple(_turned(job, each, numbers) for each in sets.sets)


def sets_of_parts(sets: SetsOfJob) -> dict[str, tuple[SetKey, ...]]:
    """Return the sets and hands that have each part and bar, by its number."""
    found: dict[str, dict[SetKey, None]] = {}
    for (name, hand, _), number in numbers_of(sets).items():
        found.setdefault(number, {})[name, hand] = None
    return {number: tuple(keys) for number, keys in found.items()}


def numbers_of(sets: SetsOfJob) -> dict[tuple[str, Hand, str], str]:
    """Return the number of each board and bar by set, hand and its name there."""
    boards = {(use.set_name, use.hand, use.board): use.number for use in sets.cut_list.uses}
    return {**boards, **sets.bar_numbers}


def _turned(job: Job, each: ModelledSet, numbers: Mapping[tuple[str, Hand, str], str]) -> TurnedSet:
    name, hand = each.used.sizes.name, each.used.hand
    parts = []
    for plain in plain_meshes(each.model.room_set.assembly, job.routing):
        points, triangles = in_whole_mm(plain.mesh)
        number = numbers.get((name, hand, plain.part.name), "")
        parts.append(
            TurnedPart(number=number, name=plain.part.name, points=points, triangles=triangles)
        )
    return TurnedSet(set_name=name, hand=hand, parts=tuple(parts))


def in_whole_mm(mesh: Mesh) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Return corners and triangles of a mesh with its corners at whole millimetres, each once;
    triangles that have no area then are left out.
    """
    # The noise of floats, which differs between machines, must not decide about a half.
    whole = np.floor(mesh.points.round(6) + 0.5).astype(int)
    points, which = np.unique(whole, axis=0, return_inverse=True)
    corners = which.reshape(-1)[mesh.triangles]
    a, b, c = corners.T
    kept = corners[(a != b) & (b != c) & (c != a)]
    return tuple(points.reshape(-1).tolist()), tuple(kept.reshape(-1).tolist())
