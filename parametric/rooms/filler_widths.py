"""How wide the unit that fills an opening may be for a set to fill a measured one.

Of the pieces along the head wall one varies with the opening, such as a bench's deck: a bed and a
wall panel go by the mattress, a table by what it holds. What stands beyond it moves with its edge.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from parametric.geometry.space import SAME_MM
from parametric.rooms.fit import AT_FLOOR, far_gaps, refusal_at_any_width
from parametric.rooms.fitting import Fitting
from parametric.rooms.measured import Measured
from parametric.rooms.size_groups import SizeRange
from parametric.sets.room_set import RoomSet
from parametric.stock.lengths import MM_PER_INCH, SHOWN_INCH, Units, show_length

# Widths are whole steps of what a steel rule is read to, so that papers show them as they are.
STEP_MM = {Units.MM: 1.0, Units.INCH: float(SHOWN_INCH * MM_PER_INCH)}

NOT_MEASURED = "no opening measured at the seat or at the panel"


@dataclass(frozen=True, slots=True, kw_only=True)
class SizedRoom:
    """A room that a set can fill: the widths of deck for it, as measured and in whole steps."""

    room: str
    exact: SizeRange
    stepped: SizeRange


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """A room for which there is no width, and why."""

    room: str
    why: str


def room_widths(
    room: str,
    room_set: RoomSet,
    measured: Measured,
    buildable_mm: tuple[float, float],
    fitting: Fitting,
    units: Units,
) -> SizedRoom | LeftOut:
    """Return the widths in millimetres that the room's measured openings allow.

    The set must go in at every height measured, with `fitting.least_gap_mm` to spare, and at the
    seat and at the panel a filler must close the rest. At the floor the bases stand back under
    their decks and only have to go in. `buildable_mm` are the least and the most width that the
    set can be built with, for stepped widths. `flush_mm` is the width that leaves nothing where
    the filler is widest.

    Raises:
        ValueError: no unit of the set fills an opening.
    """
    filler = room_set.sizes.filler
    if filler is None:
        raise ValueError(f"set {room_set.name} has no unit that fills an opening")
    gaps = tuple(far_gaps(room_set, measured))
    closed_mm = [gap.gap_mm for gap in gaps if gap.where != AT_FLOOR]
    if not closed_mm:
        return LeftOut(room=room, why=NOT_MEASURED)
    refusal = refusal_at_any_width(room_set, measured, fitting, units)
    if refusal:
        return LeftOut(room=room, why=refusal)
    width_mm = float(filler.value)
    flush_mm = width_mm + max(closed_mm)
    exact = SizeRange(
        least_mm=flush_mm - fitting.most_filler_mm - SAME_MM,
        most_mm=width_mm + min(gap.gap_mm for gap in gaps) - fitting.least_gap_mm + SAME_MM,
        flush_mm=flush_mm,
    )
    step_mm = STEP_MM[units]
    stepped = SizeRange(
        least_mm=step_mm * math.ceil(max(exact.least_mm, buildable_mm[0] - SAME_MM) / step_mm),
        most_mm=step_mm * math.floor(min(exact.most_mm, buildable_mm[1] + SAME_MM) / step_mm),
        flush_mm=flush_mm,
    )
    if stepped.least_mm > stepped.most_mm:
        return LeftOut(room=room, why=_why_none(exact, buildable_mm, units))
    return SizedRoom(room=room, exact=exact, stepped=stepped)


def _why_none(exact: SizeRange, buildable_mm: tuple[float, float], units: Units) -> str:
    least, most, step, low, high = (
        show_length(mm, units)
        for mm in (exact.least_mm, exact.most_mm, STEP_MM[units], *buildable_mm)
    )
    if exact.most_mm - exact.least_mm < STEP_MM[units]:
        return (
            f"a deck of more than {most} does not go in and one of less than {least} leaves too"
            f" much; decks go by steps of {step}"
        )
    return f"asks for a deck of {least} to {most}; the set can be built with {low} to {high}"
