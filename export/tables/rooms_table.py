"""The rooms as measured: what each asks of the installer, and the wall screws that find no wood."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from export.tables.csv_text import csv_text
from parametric.geometry.hand import Hand
from parametric.rooms.fitting import Fitting
from parametric.rooms.room_fit import HandedFit, Packing, RoomFit, SideGap
from parametric.stock.lengths import Units, show_on_tape

ROOM_COLUMNS = (
    "room",
    "set",
    "hand",
    "fits",
    "why_not",
    "would_fit",
    "beyond_the_set",
    "side_wall_wedge",
    "further_from_corner",
    "shims",
    "levelling",
    "wall_base_to_cut",
    "screws_without_wood",
    "no_floor_to_turn",
    "not_measured",
)
THINNEST_MM = 0.5
"""Nobody packs less than that; common practice, no source."""
FIXING_COLUMNS = (
    "room",
    "set",
    "hand",
    "screw",
    "corner_with",
    "from_corner",
    "above_floor",
    "why",
)


def rooms_csv(fits: Iterable[HandedFit], fitting: Fitting, units: Units) -> str:
    """Return a row for each room, lengths as people read them in the job's units."""
    return csv_text(ROOM_COLUMNS, (_row(hand, fit, fitting, units) for hand, fit in fits))


def room_fixings_csv(fits: Iterable[HandedFit], units: Units) -> str:
    """Return a row for each wall screw that finds no wood."""
    rows = (row for hand, fit in fits for row in _missed(hand, fit, units))
    return csv_text(FIXING_COLUMNS, rows)


def _row(hand: Hand, fit: RoomFit, fitting: Fitting, units: Units) -> tuple[object, ...]:
    base = fit.wall_base_cut_mm
    return (
        fit.room,
        fit.set_name,
        hand,
        _answer(fit),
        fit.refusal,
        fit.nearest,
        "; ".join(_gap(gap, fitting, units) for gap in (*fit.gaps, *fit.side_gaps)),
        "" if fit.wedge is None else f"{show_on_tape(fit.wedge.gap_mm, units)} {fit.wedge.where}",
        show_on_tape(fit.shift_mm, units) if fit.shift_mm else "",
        _packings(fit.shims, units),
        _packings(fit.levelling, units),
        "" if base is None else show_on_tape(base, units),
        len(fit.missed),
        "; ".join(each.about for each in fit.turned if not each.clear),
        "; ".join(fit.unknown),
    )


def _answer(fit: RoomFit) -> str:
    if fit.refusal:
        return "no"
    return "yes" if fit.measured else "not measured"


def _gap(gap: SideGap, fitting: Fitting, units: Units) -> str:
    told = fitting.closing(gap.gap_mm)
    return f"{show_on_tape(gap.gap_mm, units)} {gap.where} ({told})"


def _packings(packings: Sequence[Packing], units: Units) -> str:
    return "; ".join(f"{places}: {told}" for told, places in packed_alike(packings, units).items())


def packed_alike(packings: Iterable[Packing], units: Units) -> dict[str, str]:
    """Return the places of all that is packed as much, by how much: each once, with how many there
    are.
    """
    places: dict[str, dict[str, list[int]]] = {}
    for packing in packings:
        if packing.most_mm >= THINNEST_MM:
            most = show_on_tape(packing.most_mm, units)
            told = most if packing.least_mm == packing.most_mm else f"up to {most}"
            places.setdefault(told, {}).setdefault(packing.where, []).append(packing.screw)
    return {
        told: ", ".join(_place(where, screws) for where, screws in of.items())
        for told, of in places.items()
    }


def _place(where: str, screws: Sequence[int]) -> str:
    """Return a place with its screws, or with how many it has."""
    if not all(screws):
        return f"{len(screws)} x {where}" if len(screws) > 1 else where
    low, high = min(screws), max(screws)
    if low == high:
        return f"{where}, screw {low} from the corner"
    if len(screws) == high - low + 1 > 2:
        return f"{where}, screws {low} to {high} from the corner"
    return f"{where}, screws {', '.join(map(str, sorted(screws)))} from the corner"


def _missed(hand: Hand, fit: RoomFit, units: Units) -> Iterator[tuple[object, ...]]:
    for missed in fit.missed:
        yield (
            fit.room,
            fit.set_name,
            hand,
            missed.where,
            missed.corner_with,
            show_on_tape(missed.across_mm, units),
            show_on_tape(missed.height_mm, units),
            missed.reason,
        )
