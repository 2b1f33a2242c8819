"""Whether the steel angle bears what stands on it, and the boards bear the angle."""

from __future__ import annotations

from collections.abc import Iterator

from parametric.assembly import Assembly
from parametric.board import Board
from parametric.findings.finding import Basis, Finding
from parametric.findings.measure import borne
from parametric.joints import Passing, Seated
from parametric.mass import total_kg
from parametric.members import SteelAngle
from parametric.space import Axis
from parametric.strength.board_rules import BORROWED, Duration
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
        area = sum(table.box.size(Axis.X) * table.box.size(Axis.Y) for table in tables)
        yield from _bent(
            f"{where}: {angle.name}",
            angle,
            max(middles) - min(middles),
            resting_n,
            loads.on_shelf_n(area),
            loads,
        )
        end_n = (resting_n + loads.on_shelf_n(area)) / 2
        for panel in panels:
            yield _on_notch(f"{where}: {panel.name}", angle, panel, end_n, loads)


def _on_notch(place: str, angle: SteelAngle, panel: Board, end_n: float, loads: Loads) -> Finding:
    strength, safety = panel.material.strength, Duration.LONG.safety
    held = None if strength is None else strength.in_plane_n_mm2
    load = source_of(loads.spread_n_m2, SPREAD_N_M2, AWS_SHELVES)
    return borne(
        code="notch-bearing",
        where=place,
        what="pressure of the steel angle on the bottom of its notch",
        measured=end_n / (angle.section.thickness_mm * panel.box.size(angle.along)),
        allowed=None if held is None else held / safety,
        missing=f"{panel.material.key} has no in_plane_n_mm2 in its library file",
        unit="N/mm2",
        source=f"{'' if strength is None else strength.source}; load: {load}",
        advice="an angle with thicker legs, a thicker panel, or a steel plate under it",
        basis=Basis(
            "half of what the angle carries, on the toe of its upright leg",
            ("a load in the middle of the table, and nobody sits on it", BORROWED),
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
