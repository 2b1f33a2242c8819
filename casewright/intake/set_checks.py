"""Checks across the sizes of a set: sets that could not be built at all.

Limits are wide on purpose: whether a set is comfortable, strong or safe is left to the findings.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from casewright.intake.misfit import Misfit
from casewright.intake.set_schema import BENCH_WIDTH
from parametric.geometry.space import SAME_MM
from parametric.primitives.hung_panel import (
    PLATE_END_MM,
    PLATE_FROM_TOP_MM,
    SCREW_FROM_EDGE_MM,
)
from parametric.stock.construction import Construction
from parametric.stock.lengths import MM_PER_INCH, SHOWN_INCH, Units, show_length
from parametric.units.sizes import AngleSizes, BedSizes, BenchSizes, SetSizes, TableSizes

# A box's corner stays under a deck's rounded corner up to this multiple of the overhang.
_RADIUS_PER_OVERHANG = 1 / (1 - math.sqrt(0.5))
# Under a deck beside its base box, for the screws up through the angle; common practice, no source.
ANGLE_ROOM_MM = 30.0
_LEG_CLEAR_MM = 1.0  # between a leg's plate and the base box, or the next plate


def missing_units(sizes: SetSizes) -> Iterator[Misfit]:
    """Yield the units of a set that others need and that are not there."""
    present = {
        name: getattr(sizes, name) is not None
        for name in ("bench", "table", "bed", "wall_panel", "angle")
    }
    if not present["bench"] and not present["bed"]:
        yield Misfit((), "a set without bench and bed", "a set with a bench, a bed or both")
    for unit, needs in (
        ("table", ("bench", "bed", "angle")),
        ("angle", ("bench", "bed")),
        ("wall_panel", ("bed",)),
    ):
        lacking = [need for need in needs if not present[need]]
        if present[unit] and lacking:
            yield Misfit((unit,), f"{unit} without {' and '.join(lacking)}", _needed(needs))


def set_misfits(sizes: SetSizes, construction: Construction, units: Units) -> Iterator[Misfit]:
    """Yield the sizes of a set that do not go together, lengths shown in `units`."""
    for keys, value_mm, least_mm, most_mm, reason in _limits(sizes, construction):
        if not least_mm - SAME_MM <= value_mm <= most_mm + SAME_MM:
            yield Misfit(
                keys, show_length(value_mm, units), _allowed(least_mm, most_mm, reason, units)
            )


def bench_width_limits_mm(sizes: SetSizes, construction: Construction) -> tuple[float, float]:
    """Return the least and the most width of the bench's deck with which the set can be built, its
    other sizes as they are and in order.

    Raises:
        ValueError: the set has no bench.
    """
    bench = sizes.bench
    if bench is None:
        raise ValueError(f"set {sizes.name} has no bench")
    least_mm = max(
        BENCH_WIDTH.least_mm,
        bench.overhang_mm + least_box_mm(construction),
        2 * bench.corner_radius_mm,
    )
    if sizes.angle is not None:
        ends_mm = bench.overhang_mm + 2 * thickest_side_mm(construction)
        least_mm = max(least_mm, sizes.angle.bearing_mm + ends_mm)
    return least_mm, BENCH_WIDTH.most_mm


# keys, the value, the least and the most it may be, and why
_Limit = tuple[tuple[str, ...], float, float, float, str]


def _limits(sizes: SetSizes, construction: Construction) -> Iterator[_Limit]:
    leg_mm = construction.angle.leg_mm
    least_mm, reason = (0.0, _BOX) if sizes.angle is None else (ANGLE_ROOM_MM, _BOX_AND_ANGLE)
    if sizes.bench is not None:
        yield from _bench(sizes.bench, least_mm, reason, construction)
    if sizes.bed is not None:
        yield from _bed(sizes.bed, least_mm, reason, construction)
    if sizes.table is not None:
        yield from _table(sizes.table, construction)
    if sizes.bed is not None and sizes.wall_panel is not None:
        plate = construction.wall_plate
        least_mm = PLATE_FROM_TOP_MM + plate.height_mm + 2 * SCREW_FROM_EDGE_MM
        reason = "for plates and screws one above the other"
        yield (("wall_panel", "height"), sizes.wall_panel.height_mm, least_mm, math.inf, reason)
        most = (sizes.bed.deck_width_mm - 2 * PLATE_END_MM) / plate.length_mm
        if sizes.wall_panel.plates > most:
            widest_mm = sizes.wall_panel.plates * plate.length_mm + 2 * PLATE_END_MM
            reason = f"for {sizes.wall_panel.plates} wall plates side by side"
            yield (("bed", "deck_width"), sizes.bed.deck_width_mm, widest_mm, math.inf, reason)
    if sizes.angle is not None:
        least_mm = leg_mm + construction.angle_clearance_mm
        yield (("base_height",), sizes.base_height_mm, least_mm, math.inf, "for the steel angle")
        if sizes.bench is not None and sizes.bed is not None:
            yield from _angle(sizes, sizes.angle, sizes.bench, sizes.bed, construction)


def _bench(
    bench: BenchSizes, least_mm: float, reason: str, construction: Construction
) -> Iterator[_Limit]:
    side_mm = min(bench.deck_width_mm, bench.deck_depth_mm)
    most_mm = side_mm - least_box_mm(construction)
    yield (("bench", "overhang"), bench.overhang_mm, least_mm, most_mm, reason)
    most_mm = min(side_mm / 2, bench.overhang_mm * _RADIUS_PER_OVERHANG)
    yield (("bench", "corner_radius"), bench.corner_radius_mm, 0.0, most_mm, _CORNER)


def _bed(
    bed: BedSizes, least_mm: float, reason: str, construction: Construction
) -> Iterator[_Limit]:
    box_mm = least_box_mm(construction)
    most_mm = (bed.deck_width_mm - box_mm) / 2
    yield (("bed", "side_overhang"), bed.side_overhang_mm, least_mm, most_mm, reason)
    most_mm = bed.deck_length_mm - bed.wall_clearance_mm - box_mm
    yield (("bed", "foot_overhang"), bed.foot_overhang_mm, 0.0, most_mm, _BOX)
    half_mm = construction.leg.plate_mm / 2
    most_mm = min(bed.foot_overhang_mm, bed.deck_width_mm / 2) - half_mm - _LEG_CLEAR_MM
    reason = "so that the plates lie under the deck, clear of the base box and of each other"
    yield (("bed", "leg_inset"), bed.leg_inset_mm, half_mm, most_mm, reason)
    overhang_mm = min(bed.side_overhang_mm, bed.foot_overhang_mm)
    most_mm = min(bed.deck_width_mm / 2, overhang_mm * _RADIUS_PER_OVERHANG)
    yield (("bed", "corner_radius"), bed.corner_radius_mm, 0.0, most_mm, _CORNER)


def _table(table: TableSizes, construction: Construction) -> Iterator[_Limit]:
    if table.shelf_height_mm is not None:
        board_mm = construction.carcass.thickness_mm
        most_mm = table.height_mm - 2 * board_mm
        reason = "between bottom and top"
        yield (("table", "shelf_height"), table.shelf_height_mm, board_mm, most_mm, reason)


def _angle(
    sizes: SetSizes,
    angle: AngleSizes,
    bench: BenchSizes,
    bed: BedSizes,
    construction: Construction,
) -> Iterator[_Limit]:
    board_mm = thickest_side_mm(construction)
    corner_mm = board_mm + construction.cleat.thickness_mm + construction.angle_clearance_mm
    most_mm = min(
        bench.deck_depth_mm - bench.overhang_mm - corner_mm - construction.angle.leg_mm,
        bed.deck_length_mm - bed.foot_overhang_mm - corner_mm - construction.angle.leg_mm,
    )
    reason = "so that it passes inside both base boxes, clear of the cleats in their corners"
    if sizes.table is not None:
        most_mm = min(most_mm, sizes.table.depth_mm - construction.angle.leg_mm)
        reason = f"{reason}, and under the table"
    least_mm = bed.wall_clearance_mm + corner_mm
    yield (("angle", "from_wall"), angle.from_wall_mm, least_mm, most_mm, reason)
    most_mm = min(
        bench.deck_width_mm - bench.overhang_mm - 2 * board_mm,
        bed.deck_width_mm - 2 * bed.side_overhang_mm - 2 * board_mm,
    )
    reason = "so that it ends inside both base boxes"
    yield (("angle", "bearing"), angle.bearing_mm, 0.0, most_mm, reason)


def least_box_mm(construction: Construction) -> float:
    """Return the least outside width of a base box: its panels and a cleat on each of them."""
    return 2 * (thickest_side_mm(construction) + construction.cleat.width_mm)


def thickest_side_mm(construction: Construction) -> float:
    """Return the thickness of the thickest board that a base box has for a side."""
    return max(construction.rail.thickness_mm, construction.base_panel.thickness_mm)


def _needed(names: tuple[str, ...]) -> str:
    return f"only in a set that has {', '.join(names)}"


def _allowed(least_mm: float, most_mm: float, reason: str, units: Units) -> str:
    if most_mm < max(least_mm, 0.0):
        return f"nothing: the other sizes of the set leave no room ({reason})"
    # Rounded inwards, so that a shown limit is itself allowed.
    step_mm = _SHOWN_STEP_MM[units]
    least = show_length(math.ceil(least_mm / step_mm - SAME_MM) * step_mm, units)
    if math.isinf(most_mm):
        return f"at least {least}, {reason}"
    most = show_length(math.floor(most_mm / step_mm + SAME_MM) * step_mm, units)
    return f"from {least} to {most}, {reason}"


_SHOWN_STEP_MM = {Units.MM: 0.1, Units.INCH: float(SHOWN_INCH * MM_PER_INCH)}
_BOX = "so that a base box remains under the deck"
_BOX_AND_ANGLE = f"{_BOX}, and room for the angle's screws beside it"
_CORNER = "so that the rounded corner covers that of the base box"
