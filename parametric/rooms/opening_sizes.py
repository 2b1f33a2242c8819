"""What each choice of widths for measured openings takes of the stock."""

from __future__ import annotations

from dataclasses import dataclass
from math import fsum

from parametric.rooms.opening_choices import SetOpenings, SizeChoice


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialSheets:
    """Sheets of one material, their cost in the job's currency, and the least it can be."""

    material: str
    sheets: int
    cost: float
    cost_bound: float


@dataclass(frozen=True, slots=True, kw_only=True)
class JobSheets:
    """The sheets of the whole job by material; none, and why not, if it cannot be cut."""

    materials: tuple[MaterialSheets, ...]
    why_not: str = ""

    @property
    def sheets(self) -> int:
        """All sheets."""
        return sum(each.sheets for each in self.materials)

    @property
    def cost(self) -> float:
        """Price of all sheets, in the job's currency."""
        return fsum(each.cost for each in self.materials)

    @property
    def cost_bound(self) -> float:
        """Price that no nests go below."""
        return fsum(each.cost_bound for each in self.materials)

    @property
    def gap(self) -> float:
        """The share (0 to 1) of the cost that better nests could save at most."""
        return max(0.0, self.cost - self.cost_bound) / self.cost if self.cost > 0 else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CountedChoice:
    """A choice for one set with the sheets of the whole job, its other sets as they are."""

    openings: SetOpenings
    choice: SizeChoice
    sheets: JobSheets


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningSizes:
    """All choices, the job as it is, and the job with the fewest sizes of every set.

    `all_fewest` is None where only one set has rooms to group.
    """

    sets: tuple[SetOpenings, ...]
    as_it_is: JobSheets
    choices: tuple[CountedChoice, ...]
    all_fewest: JobSheets | None


def left_out_rooms(openings: SetOpenings) -> dict[str, list[str]]:
    """Return the rooms that are left out, by the reason why."""
    rooms: dict[str, list[str]] = {}
    for each in openings.left_out:
        rooms.setdefault(each.why, []).append(each.room)
    return rooms
