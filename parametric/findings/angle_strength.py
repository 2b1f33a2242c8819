"""Whether the steel angle bears what stands on it, and the boards bear the angle."""

from __future__ import annotations

from collections.abc import Iterator
from math import fsum

from parametric.assembly import Assembly
from parametric.board import Board
from parametric.findings.finding import Basis, Finding
from parametric.findings.measure import borne
from parametric.joints import Passing, Seated
from parametric.mass import total_kg
from parametric.members import SteelAngle
from parametric.space import Axis
from parametric.strength.board_rules import ACCIDENT_SAFETY, BORROWED, PAD_MM, Duration
from parametric.strength.loads import (
    ADA_903_6,
    AWS_SHELVES,
    SAG_SPAN,
    SEAT_N,
    SPREAD_N_M2,
    STANDARD_GRAVITY,
    Loads,
    source_of,
)
from parametric.strength.spans import (
    middle_moment_nmm,
    middle_sag_mm,
    spread_moment_nmm,
    spread_sag_mm,
)
from parametric.strength.steel_angle import (
    AISC_F10,
    SAFETY,
    STEEL_N_MM2,
    allowable_moment_nmm,
    second_moment_mm4,
    section_modulus_mm3,
)

_STRAIGHT = "what lies on it, fixed to the wall, keeps it from twisting"
_SPAN = "from middle to middle of the panels it bears on, resting, not clamped"


def angle_strength_findings(where: str, assembly: Assembly, loads: Loads) -> Iterator[Finding]:
    """Yield bending, sag and bearing on the notches of each steel angle that carries a table."""
    for angle in assembly.angles:
        panels = [
            assembly.board(joint.through)
            for joint in assembly.joints
            if isinstance(joint, Passing) and joint.member == angle.name
        ]
        tables = [
            assembly.board(joint.top)
            for joint in assembly.joints
            if isinstance(joint, Seated) and joint.on == (angle.name,)
        ]
        if len(panels) < 2 or not tables:
            continue
        middles = [panel.box.centre[angle.along] for panel in panels]
        units = {table.unit for table in tables}
        resting_n = STANDARD_GRAVITY * total_kg(
            [board for board in assembly.boards if board.unit in units]
        )
        area = fsum(table.box.size(Axis.X) * table.box.size(Axis.Y) for table in tables)
        yield from _bent(
            f"{where}: {angle.name}",
            angle,
            max(middles) - min(middles),
            resting_n,
            loads.on_shelf_n(area),
            loads,
        )
        for panel in panels:
            place = f"{where}: {panel.name}"
            yield _on_notch(
                place,
                angle,
                panel,
                (resting_n + loads.on_shelf_n(area)) / 2,
                under=f"what lies on it, {loads.on_shelf_n(area):.0f} N",
                load=source_of(loads.spread_n_m2, SPREAD_N_M2, AWS_SHELVES),
                taken="a load in the middle of the table",
                safety=Duration.LONG.safety,
            )
            away = min(_to_pad_mm(panel, table, angle.along) for table in tables)
            share = 1 - away / (max(middles) - min(middles))
            yield _on_notch(
                place,
                angle,
                panel,
                resting_n / 2 + loads.seat_n * share,
                under=f"somebody who sits down beside it, {loads.seat_n:.0f} N",
                load=source_of(loads.seat_n, SEAT_N, ADA_903_6),
                taken="a table is no seat: who sits on it is an accident, EN 1990 6.4.3.3 (from"
                " memory)",
                safety=ACCIDENT_SAFETY,
            )


def _to_pad_mm(panel: Board, table: Board, along: Axis) -> float:
    """Return how far from the middle of a panel a seat load on the table comes nearest to it."""
    middle = panel.box.centre[along]
    inset = min(PAD_MM, table.box.size(along)) / 2
    nearest = max(table.box.low[along] + inset - middle, middle - table.box.high[along] + inset)
    return max(0.0, nearest)


def _on_notch(
    place: str,
    angle: SteelAngle,
    panel: Board,
    end_n: float,
    *,
    under: str,
    load: str,
    taken: str,
    safety: float,
) -> Finding:
    strength = panel.material.strength
    held = None if strength is None else strength.in_plane_n_mm2
    return borne(
        code="notch-bearing",
        where=place,
        what=f"pressure of the steel angle on the bottom of its notch under {under}",
        measured=end_n / (angle.section.thickness_mm * panel.box.size(angle.along)),
        allowed=None if held is None else held / safety,
        missing=f"{panel.material.key} has no in_plane_n_mm2 in its library file",
        unit="N/mm2",
        source=f"{'' if strength is None else strength.source}; load: {load}",
        advice="an angle with thicker legs, a thicker panel, or a steel plate under it",
        basis=Basis(
            "its end of a simple beam, on the toe of its upright leg",
            (taken, BORROWED),
            safety,
        ),
    )


def _bent(
    place: str, angle: SteelAngle, span_mm: float, resting_n: float, shelf_n: float, loads: Loads
) -> Iterator[Finding]:
    """Yield stress under somebody who sits down on the table, and sag under what lies on it."""
    moment = middle_moment_nmm(loads.seat_n, span_mm) + spread_moment_nmm(resting_n, span_mm)
    modulus = section_modulus_mm3(angle.section)
    allowed = allowable_moment_nmm(angle.section, span_mm) / modulus
    yield borne(
        code="angle-bending",
        where=place,
        what=f"bending stress, {loads.seat_n:.0f} N in the middle of {span_mm:.0f} mm",
        measured=moment / modulus,
        allowed=allowed,
        missing="",
        unit="N/mm2",
        source=f"{AISC_F10}; load: {source_of(loads.seat_n, SEAT_N, ADA_903_6)}",
        advice="a larger angle",
        basis=Basis(
            "simple beam in closed form, PL/4 + WL/8",
            (
                _SPAN,
                _STRAIGHT,
                "square corners",
                f"yield strength {angle.section.yield_n_mm2:.0f} N/mm2",
            ),
            SAFETY,
        ),
    )
    stiffness = STEEL_N_MM2 * second_moment_mm4(angle.section)
    yield borne(
        code="angle-sag",
        where=place,
        what=f"sag under the table and {shelf_n:.0f} N on it",
        measured=spread_sag_mm(resting_n, span_mm, stiffness)
        + middle_sag_mm(shelf_n, span_mm, stiffness),
        allowed=span_mm / SAG_SPAN,
        missing="",
        unit="mm",
        source=source_of(loads.spread_n_m2, SPREAD_N_M2, AWS_SHELVES),
        advice="a larger angle",
        basis=Basis("simple beam in closed form, 5WL3/384EI + PL3/48EI", (_SPAN,)),
    )
