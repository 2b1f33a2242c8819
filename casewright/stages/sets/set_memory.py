"""What was made of the sets of a job, for the next job that has some of them as they were."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from enum import Enum
from typing import Any, TypeVar, cast

from casewright.job import Job
from casewright.stages.sets.used_sets import PlacedSets, UsedSet, placed, used_sets
from parametric.geometry.hand import Hand
from parametric.kit.supplies import Supplies
from parametric.sets.composition import SetSizes
from parametric.sets.room_set import RoomSet
from parametric.steps.site_rates import SiteRates

T = TypeVar("T")


class Made(Enum):
    """What is made of a set in one hand; what is found of it is found for both at once."""

    PLACED = "placed in the room"
    MESHES = "meshes"
    MODEL = "solids"
    OVERLAPS = "overlaps of its solids"
    FAST_FINDINGS = "fast findings"
    FINDINGS = "findings"
    MENDS = "what would mend it"


# These depend on more than what the set is built from: on loads, limits, rooms that have it. They
# are the same in both hands.
_CHECKED = {Made.FAST_FINDINGS, Made.FINDINGS, Made.MENDS}

_Key = tuple[Made, str]


class SetMemory:
    """Remembers what is made of the sets of one job, on any thread.

    It takes over what an earlier memory has of sets that are the same in this job, no more: what
    belongs to no set of a job goes with the last memory of a job that had it.
    """

    def __init__(self, job: Job, earlier: SetMemory | None = None) -> None:
        self._job = job
        self._keys = {
            (made, name, hand): (made, checked if made in _CHECKED else f"{built}{hand}")
            for name, sizes in {used.sizes.name: used.sizes for used in used_sets(job)}.items()
            for built, checked in [_texts(job, sizes)]
            for made in Made
            for hand in Hand
        }
        taken = {} if earlier is None else earlier._made.copy()  # another thread may add to it
        own = set(self._keys.values())
        self._made: dict[_Key, Any] = {key: each for key, each in taken.items() if key in own}

    def of(self, made: Made, used: UsedSet, make: Callable[[], T]) -> T:
        """Return what was made of a set of the job, or make it; errors are not remembered."""
        key = self._keys[made, used.sizes.name, used.hand]
        if key not in self._made:
            self._made[key] = make()
        return cast("T", self._made[key])

    def placed(self, used: UsedSet) -> RoomSet:
        """Return the set in the room.

        Raises:
            DoesNotFit: a deck cannot be cut from the stock, even in pieces.
        """
        return self.of(Made.PLACED, used, lambda: placed(self._job, used))

    def placed_sets(self) -> PlacedSets:
        """Return the sets that rooms have, placed in the room, in the order of `used_sets`.

        Raises:
            DoesNotFit: a deck cannot be cut from the stock, even in pieces.
        """
        return {(used.sizes.name, used.hand): self.placed(used) for used in used_sets(self._job)}


def _texts(job: Job, sizes: SetSizes) -> tuple[str, str]:
    """Return all that a set in the room and its solids are made from, but for the hand, and all
    that its findings depend on. Places in files are among it, since messages tell them.
    """
    built = sizes, job.construction, job.routing, job.machine.even_trim_mm, job.walls
    rooms = tuple(room for room in job.rooms if room.set_name == sizes.name)
    rest = replace(
        job,
        name="",
        currency="",
        sets=(),
        rooms=rooms,
        supplies=Supplies(),
        site_rates=SiteRates(),
        paper=None,
        files=(),
        panels=(),
        panel_materials=(),
    )
    return repr(built), repr((sizes, rest))
