"""The sets that a job's rooms use, placed in the room; no solids yet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from casewright.errors import DoesNotFit
from casewright.job import Job
from parametric.geometry.hand import Hand
from parametric.primitives.deck import DeckTooLarge
from parametric.sets.composition import SetSizes
from parametric.sets.room_set import RoomSet, build_set
from parametric.stock.origin import told_at

PlacedSets = Mapping[tuple[str, Hand], RoomSet]
"""The sets in use, each in the room, by name and hand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UsedSet:
    """A set in one hand and how many rooms have it."""

    sizes: SetSizes
    hand: Hand
    rooms: int

    @property
    def where(self) -> str:
        """How messages name it."""
        return f"set {self.sizes.name}, {self.hand} hand"


def used_sets(job: Job) -> tuple[UsedSet, ...]:
    """Return the sets that rooms have, in the order of the job file, right hand first."""
    rooms = Counter((room.set_name, room.hand) for room in job.rooms)
    return tuple(
        UsedSet(sizes=sizes, hand=hand, rooms=rooms[sizes.name, hand])
        for sizes in job.sets
        for hand in Hand
        if rooms[sizes.name, hand]
    )


def placed_sets(job: Job) -> PlacedSets:
    """Return the sets that rooms have, placed in the room, in the order of `used_sets`.

    Raises:
        DoesNotFit: a deck cannot be cut from the stock, even in pieces.
    """
    return {(used.sizes.name, used.hand): placed(job, used) for used in used_sets(job)}


def placed(job: Job, used: UsedSet) -> RoomSet:
    """Return the set in the room.

    Raises:
        DoesNotFit: a deck cannot be cut from the stock, even in pieces.
    """
    trim_mm = job.machine.even_trim_mm
    try:
        return build_set(used.sizes, used.hand, job.construction, job.routing, trim_mm, job.walls)
    except DeckTooLarge as error:
        origin = error.material.stock_origin
        raise DoesNotFit(told_at(origin, f"{used.where}: {error}")) from error
