"""Whether the steel angle bears what stands on it, and the boards bear the angle."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from math import fsum

from parametric.findings.angle_bearing import AngleBearing, angle_bearing
from parametric.findings.borne_by_board import stress_borne
from parametric.findings.deck_plate import Fineness, deck_plate
from parametric.findings.finding import Basis, Finding
from parametric.findings.measure import borne
from parametric.geometry.space import Axis
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Seated
from parametric.shapes.board import Board
from parametric.shapes.mass import total_kg
from parametric.shapes.members import SteelAngle
from parametric.stock.amounts import MM, N_MM2, Words, force, length, stress
from parametric.strength.board_rules import PAD_MM, Duration, Strength
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
_SPAN = "span between the middles of the panels it bears on, resting, not clamped"


def angle_strength_findings(
    where: str, assembly: Assembly, loads: Loads, fineness: Fineness
) -> Iterator[Finding]:
    """Yield bending and sag of each steel angle that carries a table, and bearing on the notches of
    each that carries anything.
    """
    for angle in assembly.angles:
        bearing = angle_bearing(assembly, angle)
        tables = [
            assembly.board(joint.top)
            for joint in assembly.joints
            if isinstance(joint, Seated) and joint.on == (angle.name,)
        ]
        if bearing is None:
            continue
        units = {table.unit for table in tables}
        resting_n = STANDARD_GRAVITY * total_kg(
            [board for board in assembly.boards if board.unit in units]
        )
        area = fsum(table.box.size(Axis.X) * table.box.size(Axis.Y) for table in tables)
        shelf_n = loads.on_shelf_n(area)
        if tables:
            yield from _bent(f"{where}: {angle.name}", bearing, resting_n, shelf_n, loads)
        decks = [
            assembly.board(joint.top)
            for joint in assembly.joints
            if isinstance(joint, Seated) and angle.name in joint.on and len(joint.on) > 1
        ]
        for panel in bearing.panels:
            away_mm = min((_to_pad_mm(panel, each, angle.along) for each in tables), default=None)
            shares = [_of_deck(assembly, bearing, deck, panel, fineness) for deck in decks]
            yield from _on_panel(
                partial(_on_notch, f"{where}: {panel.name}", angle, panel, loads=loads),
                resting_n,
                shelf_n,
                loads,
                of_seat=None if away_mm is None else 1 - away_mm / bearing.span_mm,
                of_deck=max(shares, default=0.0),
            )


def _on_panel(
    on_notch: Callable[..., Finding],
    resting_n: float,
    shelf_n: float,
    loads: Loads,
    *,
    of_seat: float | None,
    of_deck: float,
) -> Iterator[Finding]:
    """Yield what presses on the notch of one panel: half of what rests on the angle and lies on it,
    and the shares of a seat load beside it on a table (None: it carries none), and on a deck (0: on
    none).
    """
    seat = source_of(loads.seat_n, SEAT_N, ADA_903_6)
    if of_seat is not None:
        yield on_notch(
            (resting_n + shelf_n) / 2,
            under=(force(shelf_n), " lying on the table"),
            load=source_of(loads.spread_n_m2, SPREAD_N_M2, AWS_SHELVES),
            taken="a load in the middle of the table",
            duration=Duration.LONG,
        )
        yield on_notch(
            resting_n / 2 + loads.seat_n * of_seat,
            under=("somebody who sits down beside it, ", force(loads.seat_n)),
            load=seat,
            taken="a table is no seat: who sits on it is an accident, EN 1990 6.4.3.3 (from"
            " memory)",
            duration=Duration.ACCIDENT,
        )
    if of_deck > 0:
        yield on_notch(
            resting_n / 2 + loads.seat_n * of_deck,
            under=("somebody who sits on a deck that rests on it, ", force(loads.seat_n)),
            load=seat,
            taken="the deck an elastic plate on all that it rests on, the load wherever it can"
            " stand; the table empty",
            duration=Duration.SHORT,
        )


def _of_deck(
    assembly: Assembly, bearing: AngleBearing, deck: Board, panel: Board, fineness: Fineness
) -> float:
    """Return the most that a notch bears of one newton anywhere on a deck: what the deck puts on
    the angle, carried to the two panels as by a simple beam that may reach beyond them.
    """
    plate = deck_plate(assembly, deck)
    answers = plate.solved(fineness)
    if answers.tips:
        return 0.0  # that is a failure of its own
    along = bearing.angle.along
    start = deck.box.low[along]
    levers = [
        bearing.share(panel, start + (support.x if along is Axis.X else support.y))
        if held.by == bearing.angle.name
        else 0.0
        for support, held in zip(plate.supports, plate.held, strict=True)
    ]
    return max(
        fsum(lever * force for lever, force in zip(levers, forces, strict=True))
        for forces in answers.forces
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
    under: Words,
    load: str,
    taken: str,
    duration: Duration,
    loads: Loads,
) -> Finding:
    return stress_borne(
        code="notch-bearing",
        where=place,
        what="pressure of",
        under=(" on the bottom of the notch of the steel angle, under ", under),
        stress_n_mm2=end_n / (angle.section.thickness_mm * panel.box.size(angle.along)),
        material=panel.material,
        asked=Strength.IN_PLANE,
        duration=duration,
        loads=loads,
        load=load,
        advice="use an angle with thicker legs, a thicker panel, or a steel plate under it",
        method="its end of a simple beam, on the toe of its upright leg",
        taken=(taken,),
        at=angle.upright_leg.centre.at(Axis.Z, angle.box.low.z).at(
            angle.along, panel.box.centre[angle.along]
        ),
    )


def _bent(
    place: str, bearing: AngleBearing, resting_n: float, shelf_n: float, loads: Loads
) -> Iterator[Finding]:
    """Yield stress under somebody who sits down on the table, and sag under what lies on it."""
    angle, span_mm = bearing.angle, bearing.span_mm
    half_way = fsum(bearing.middle_mm(panel) for panel in bearing.panels) / 2
    middle = angle.upright_leg.centre.at(angle.along, half_way)
    moment = middle_moment_nmm(loads.seat_n, span_mm) + spread_moment_nmm(resting_n, span_mm)
    modulus = section_modulus_mm3(angle.section)
    allowed = allowable_moment_nmm(angle.section, span_mm) / modulus
    yield borne(
        code="angle-bending",
        where=place,
        what="bending stress of",
        under=(" under ", force(loads.seat_n), " in the middle of ", length(span_mm)),
        measured=moment / modulus,
        allowed=allowed,
        missing="",
        unit=N_MM2,
        source=f"{AISC_F10}; load: {source_of(loads.seat_n, SEAT_N, ADA_903_6)}",
        advice="use a larger angle",
        basis=Basis(
            "simple beam in closed form, PL/4 + WL/8",
            (
                _SPAN,
                _STRAIGHT,
                "square corners",
                ("yield strength ", stress(angle.section.yield_n_mm2)),
            ),
            SAFETY,
        ),
        at=middle,
    )
    stiffness = STEEL_N_MM2 * second_moment_mm4(angle.section)
    yield borne(
        code="angle-sag",
        where=place,
        what="sag of",
        under=(" under the table and ", force(shelf_n), " on it"),
        measured=spread_sag_mm(resting_n, span_mm, stiffness)
        + middle_sag_mm(shelf_n, span_mm, stiffness),
        allowed=span_mm / SAG_SPAN,
        missing="",
        unit=MM,
        source=source_of(loads.spread_n_m2, SPREAD_N_M2, AWS_SHELVES),
        advice="use a larger angle",
        basis=Basis("simple beam in closed form, 5WL3/384EI + PL3/48EI", (_SPAN,)),
        at=middle,
    )
