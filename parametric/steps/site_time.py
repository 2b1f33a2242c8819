"""What a room asks of the installers: screws to drive, and hours."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from parametric.joints.assembly import Assembly
from parametric.joints.delivered import delivered
from parametric.joints.joints import Bonded, FixedToWall, Screwed
from parametric.steps.site_rates import SiteRates
from parametric.steps.step import Step


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteTime:
    """How many screws are driven on site, how long it takes all who work, and at most how many they
    are.
    """

    screws: int
    person_minutes: float
    people: int

    @property
    def words(self) -> str:
        """In words, to the half hour."""
        halves = max(1, round(self.person_minutes / 30))
        hours = f"{halves / 2:g} hour" + ("" if halves == 2 else "s")
        most = "1 person" if self.people == 1 else f"up to {self.people} people"
        return f"{self.screws} screws, about {hours} of work in all, {most}"


def site_time(assembly: Assembly, steps: Sequence[Step], rates: SiteRates) -> SiteTime:
    """Return what the steps of a set ask for."""
    pieces = [piece.main.name for piece in delivered(assembly)]
    minutes: list[float] = []
    screws = 0
    for step in steps:
        joints = [assembly.joints[at] for at in step.joints]
        brought = sum(name in step.parts for name in pieces)
        into_walls = sum(isinstance(joint, FixedToWall) for joint in joints)
        others = sum(isinstance(joint, Screwed) for joint in joints)
        beads = sum(len(joint.on) for joint in joints if isinstance(joint, Bonded))
        screws += into_walls + others
        minutes += [
            step.people * (rates.step_minutes + brought * rates.piece_minutes),
            into_walls * rates.wall_screw_minutes,
            others * rates.screw_minutes,
            beads * rates.bead_minutes,
        ]
    return SiteTime(
        screws=screws,
        person_minutes=fsum(minutes),
        people=max((step.people for step in steps), default=0),
    )
