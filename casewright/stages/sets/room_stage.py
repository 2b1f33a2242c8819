"""Every room of the schedule against its set."""

from __future__ import annotations

from casewright.job import Job
from casewright.stages.sets.used_sets import PlacedSets
from parametric.rooms.fit import fit_room
from parametric.rooms.room_fit import HandedFit


def fits_of(job: Job, sets: PlacedSets) -> tuple[HandedFit, ...]:
    """Return how each room's set goes in, in the order of the schedule. No solids are needed."""
    others = {
        (name, hand): tuple(s for s in sets.values() if s.hand is hand and s.name != name)
        for name, hand in sets
    }
    fits = []
    for room in job.rooms:
        key = room.set_name, room.hand
        fit = fit_room(room.number, sets[key], room.measured, others[key], job.fitting, job.units)
        fits.append((room.hand, fit))
    return tuple(fits)
