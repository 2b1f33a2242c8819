"""Findings of one room: whether its set goes in, and whether its wall screws find wood."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from parametric.findings.finding import Finding, Sense, Severity
from parametric.findings.measure import at_least, at_most
from parametric.geometry.space import SAME_MM
from parametric.rooms.fitting import Fitting
from parametric.rooms.room_fit import RoomFit, SideGap
from parametric.rooms.wall_fixings import TOO_LITTLE_THREAD
from parametric.stock.amounts import Words, joined, length
from parametric.stock.sources import COMMON_PRACTICE

MOST_NAMED = 6
"""Rooms that a finding names."""


def room_findings(fit: RoomFit, fitting: Fitting) -> Iterator[Finding]:
    """Yield what was measured against the limits; nothing for what nobody has measured."""
    where = f"room {fit.room}: {fit.set_name}"
    take = f"use set {fit.nearest}, which fits" if fit.nearest else "make a set for this room"
    if fit.gaps or fit.side_gaps:
        tight = min((*fit.gaps, *fit.side_gaps), key=lambda gap: gap.gap_mm)
        yield at_least(
            code="room-fit",
            where=where,
            what=f"gap beyond the set {tight.where}",
            says=_too_long(tight, fitting) if tight.gap_mm < -SAME_MM else (),
            measured=tight.gap_mm,
            warn_below=fitting.tight_gap_mm,
            fail_below=fitting.least_gap_mm,
            advice=f"measure again, or {take}",
        )
    if fit.wedge is not None:
        yield at_most(
            code="room-corner",
            where=where,
            what=f"wedge {fit.wedge.where}:",
            measured=fit.wedge.gap_mm,
            fail_above=fitting.most_scribe_mm,
            advice="have the wall straightened, or allow a wider scribe (fitting: most_scribe)",
        )
    if fit.width_off_mm is not None:
        yield at_most(
            code="room-width",
            where=where,
            what="room wider or narrower than room_width by",
            measured=abs(fit.width_off_mm),
            fail_above=fitting.most_scribe_mm,
            advice="measure again, or give the set the room_width that was measured",
        )
    if fit.floor_fall_mm is not None:
        yield at_most(
            code="room-floor",
            where=where,
            what="floor falls by",
            measured=fit.floor_fall_mm,
            fail_above=fitting.most_levelling_mm,
            advice="have the floor levelled, or allow more shims (fitting: most_levelling)",
        )
    if fit.wood_known:
        yield missed_finding(where, fit)


def missed_finding(where: str, fit: RoomFit) -> Finding:
    """Return a warning if wall screws find no wood: the wall can still be opened or blocked."""
    number = len(fit.missed)
    return Finding(
        code="wall-fixing-missed",
        severity=Severity.WARN if fit.missed else Severity.OK,
        where=where,
        message=_missed_in_words(fit),
        measured=float(number),
        sense=Sense.AT_MOST,
        limit=0.0,
        unit="screws",
        source=COMMON_PRACTICE,
        advice="add blocking at the heights in site/room-fixings.csv" if number else "",
    )


def unmeasured_finding(fits: Sequence[RoomFit]) -> Finding:
    """Return a warning that names the rooms of which nobody knows whether their sets go in."""
    missing = [fit.room for fit in fits if not fit.measured]
    named = ", ".join(missing[:MOST_NAMED])
    more = f" and {len(missing) - MOST_NAMED} more" if len(missing) > MOST_NAMED else ""
    rooms = "1 room" if len(fits) == 1 else f"{len(fits)} rooms"
    told = f"{len(missing)} of {rooms} not measured: {named}{more}"
    return Finding(
        code="room-measured",
        severity=Severity.WARN if missing else Severity.OK,
        where="the room schedule",
        message=told if missing else "an opening was measured in every room",
        measured=float(len(missing)),
        sense=Sense.AT_MOST,
        limit=0.0,
        unit="rooms",
        source=COMMON_PRACTICE,
        advice="measure their openings: nobody knows yet whether their sets go in"
        if missing
        else "",
    )


def turning_finding(fits: Sequence[RoomFit]) -> Finding | None:
    """Return a warning that names the rooms without the floor on which their decks and boxes are
    turned over; None where nothing is, or no floor was measured.
    """
    asked = [fit for fit in fits if fit.turned]
    short = [fit for fit in asked if not all(each.clear for each in fit.turned)]
    if not asked:
        return None
    return Finding(
        code="turn-room",
        severity=Severity.WARN if short else Severity.OK,
        where="the room schedule",
        message=_no_floor_in_words(short) if short else "floor to turn over what is turned over",
        measured=float(len(short)),
        sense=Sense.AT_MOST,
        limit=0.0,
        unit="rooms",
        source=COMMON_PRACTICE,
        advice="turn it over outside the room, or before what stands in its way" if short else "",
    )


def _no_floor_in_words(fits: Sequence[RoomFit]) -> Words:
    """Return what finds no floor: what asks for as much in the same rooms together."""
    rooms: dict[tuple[str, float, float], list[str]] = {}
    for fit in fits:
        for each in fit.turned:
            if not each.clear:
                key = each.about, round(each.long_mm, 3), round(each.wide_mm, 3)
                rooms.setdefault(key, []).append(fit.room)
    together: dict[tuple[float, float, tuple[str, ...]], list[str]] = {}
    for (about, long, wide), named in rooms.items():
        together.setdefault((long, wide, tuple(named)), []).append(f"the {about}")
    return joined(
        "; ",
        (
            (
                *("no clear floor of ", length(long), " x ", length(wide)),
                f" to turn over {' and '.join(abouts)} in {_named(named)}",
            )
            for (long, wide, named), abouts in together.items()
        ),
    )


def _named(rooms: Sequence[str]) -> str:
    more = f" and {len(rooms) - MOST_NAMED} more" if len(rooms) > MOST_NAMED else ""
    return f"room{'s' if len(rooms) > 1 else ''} {', '.join(rooms[:MOST_NAMED])}{more}"


def _too_long(gap: SideGap, fitting: Fitting) -> Words:
    too_long = ("set too long by ", length(-gap.gap_mm), " ", gap.where)
    return (too_long, " (min gap ", length(fitting.least_gap_mm), ")")


def _missed_in_words(fit: RoomFit) -> str:
    reasons = tuple(dict.fromkeys(missed.reason for missed in fit.missed))
    number = len(fit.missed)
    if not number:
        return "no wall screw misses stud and blocking"
    screws = "1 wall screw" if number == 1 else f"{number} wall screws"
    if TOO_LITTLE_THREAD in reasons:
        return f"{screws} without enough hold: {', '.join(reasons)}"
    return f"{screws} {'misses' if number == 1 else 'miss'} stud and blocking: {', '.join(reasons)}"
