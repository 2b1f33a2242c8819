"""Whether decks bear a seat load anywhere, sag little after years, and stay down where they do."""

from __future__ import annotations

from collections.abc import Iterator

from parametric.assembly import Assembly
from parametric.board import Board
from parametric.findings.deck_strips import AtPlace, DeckStrips, deck_strips
from parametric.findings.finding import Basis, Finding
from parametric.findings.measure import at_most, not_known
from parametric.joints import Bonded, Screwed, Seated
from parametric.materials import BoardStrength
from parametric.strength.board_rules import (
    EN_1995,
    EN_1995_CREEP,
    PATCH_MM,
    Duration,
    bending_stress_n_mm2,
    with_creep,
)
from parametric.strength.loads import (
    ADA_903_6,
    AWS_SHELVES,
    SAG_SPAN,
    SEAT_N,
    SPREAD_N_M2,
    Loads,
    source_of,
)

NEAR_LIMIT = 0.9
"""Above so much of what is allowed, a warning; common practice, no source."""
SHARING_SCREWS = 2
"""Screws that hold a deck down where it is levered up: the nearest ones; common practice."""
NO_PULL_N = 1.0
_STRIPS = (
    "each place carried by the easier of two strips, continuous beams over what the deck rests on,"
    " solved by a beam program"
)
_ASSUMED = (
    f"a pad of {PATCH_MM:.0f} mm within the deck",
    "the board equally strong both ways, as weak as in its weaker one",
    "width that shares the load by IS 456 24.3.2.1 (from memory)",
)
_BORROWED = f"safety and creep by {EN_1995}, borrowed for boards that are no structural ones"


def deck_strength_findings(where: str, assembly: Assembly, loads: Loads) -> Iterator[Finding]:
    """Yield bending, sag and hold of every deck that rests on boards standing under it."""
    for deck in decks_of(assembly):
        place = f"{where}: {deck.name}"
        strips = deck_strips(assembly, deck)
        under_seat = list(strips.at_places())
        strength = deck.material.strength
        if strength is None:
            yield not_known(
                code="deck-bending",
                where=place,
                what="bending strength",
                measured=max(_stress(deck, each, loads) for each in under_seat),
                unit="N/mm2",
                missing=f"{deck.material.key} has no strength in its library file",
                basis=Basis(_STRIPS, _ASSUMED),
            )
        else:
            yield _under_seat(place, deck, under_seat, strength, loads)
            yield from _under_spread(place, deck, strips, strength, loads)
        yield from _held_down(place, assembly, deck, under_seat, loads)


def decks_of(assembly: Assembly) -> list[Board]:
    """Return the boards that are sat or lain on: those seated on boards, not only on an angle."""
    boards = {board.name for board in assembly.boards}
    tops = {
        joint.top
        for joint in assembly.joints
        if isinstance(joint, Seated) and not boards.isdisjoint(joint.on)
    }
    return [board for board in assembly.boards if board.name in tops]


def _stress(deck: Board, at: AtPlace, loads: Loads) -> float:
    return bending_stress_n_mm2(loads.seat_n * at.moment_mm, at.width_mm, deck.thickness_mm)


def _under_seat(
    place: str, deck: Board, places: list[AtPlace], strength: BoardStrength, loads: Loads
) -> Finding:
    worst = max(places, key=lambda each: each.moment_per_width)
    allowed = strength.bending_n_mm2 / Duration.SHORT.safety
    return at_most(
        code="deck-bending",
        where=place,
        what=f"bending stress under {loads.seat_n:.0f} N, worst for {worst.how}",
        measured=_stress(deck, worst, loads),
        warn_above=NEAR_LIMIT * allowed,
        fail_above=allowed,
        unit="N/mm2",
        source=f"{strength.source}; load: {source_of(loads.seat_n, SEAT_N, ADA_903_6)}",
        advice="a thicker deck, less overhang, or another support under it",
        basis=Basis(_STRIPS, (*_ASSUMED, _BORROWED), Duration.SHORT.safety),
    )


def _under_spread(
    place: str, deck: Board, strips: DeckStrips, strength: BoardStrength, loads: Loads
) -> Iterator[Finding]:
    pressure = loads.spread_n_m2 * 1e-6
    stiffness = strength.elasticity_n_mm2 * deck.thickness_mm**3 / 12
    places = list(strips.spreads())
    what = f"under {loads.spread_n_m2:.0f} N/m2"
    source = source_of(loads.spread_n_m2, SPREAD_N_M2, AWS_SHELVES)
    basis = Basis(_STRIPS, (*_ASSUMED[1:2], _BORROWED), Duration.MEDIUM.safety)
    allowed = strength.bending_n_mm2 / Duration.MEDIUM.safety
    worst = max(min(way.moment for way in ways) for ways in places)
    yield at_most(
        code="deck-bending",
        where=place,
        what=f"bending stress {what}",
        measured=bending_stress_n_mm2(pressure * worst, 1.0, deck.thickness_mm),
        warn_above=NEAR_LIMIT * allowed,
        fail_above=allowed,
        unit="N/mm2",
        source=f"{strength.source}; load: {source}",
        advice="a thicker deck, or another support under it",
        basis=basis,
    )
    easier = [min(ways, key=lambda way: way.sag / way.span_mm) for ways in places]
    most = max(easier, key=lambda way: way.sag / way.span_mm)
    limit = most.span_mm / SAG_SPAN
    yield at_most(
        code="deck-sag",
        where=place,
        what=f"sag {what}, {loads.lasting:.0%} of it for years, over {most.span_mm:.0f} mm",
        measured=with_creep(pressure * most.sag / stiffness, strength.creep_factor, loads.lasting),
        warn_above=NEAR_LIMIT * limit,
        fail_above=limit,
        source=f"{source}; creep: {EN_1995_CREEP}",
        advice="a thicker or stiffer deck, or another support under it",
        basis=Basis(_STRIPS, (*basis.assumptions, "an overhang counts as half of its span")),
    )


def _held_down(
    place: str, assembly: Assembly, deck: Board, places: list[AtPlace], loads: Loads
) -> Iterator[Finding]:
    """Yield whether adhesive or screws hold the deck where a load beyond a support levers it up."""
    worst = max(places, key=lambda each: each.uplift)
    pull_n = loads.seat_n * worst.uplift
    if pull_n <= NO_PULL_N:
        return
    strength = deck.material.strength
    load = source_of(loads.seat_n, SEAT_N, ADA_903_6)
    assumed = ("the deck's own weight left out", f"load: {load}")
    supports = {
        name
        for joint in assembly.joints
        if isinstance(joint, Bonded) and joint.top == deck.name
        for name in joint.on
    }
    if supports:
        thickness = min(assembly.board(name).thickness_mm for name in supports)
        stress = pull_n / (worst.width_mm * thickness)
        held = None if strength is None else strength.internal_bond_n_mm2
        method = f"pull on the adhesive over {worst.width_mm:.0f} mm of a board's edge"
        unit, what = "N/mm2", "pull across the face of the deck where it is glued on"
        missing = f"{deck.material.key} has no internal_bond_n_mm2 in its library file"
        measured = stress
    else:
        screws = [j for j in assembly.joints if isinstance(j, Screwed) and j.into == deck.name]
        held = None if strength is None else strength.screw_face_n
        method = f"shared by the {SHARING_SCREWS} nearest of {len(screws)} screws"
        unit, what = "N", "pull on a screw of the deck from below"
        missing = f"NDS covers solid wood only, and {deck.material.key} has no screw_face_n"
        measured = pull_n / SHARING_SCREWS if screws else pull_n
    if held is None:
        yield not_known(
            code="deck-hold",
            where=place,
            what=what,
            measured=measured,
            unit=unit,
            missing=missing,
            basis=Basis(method, assumed),
        )
        return
    safety = Duration.SHORT.safety
    source = "" if strength is None else strength.source
    yield at_most(
        code="deck-hold",
        where=place,
        what=what,
        measured=measured,
        warn_above=NEAR_LIMIT * held / safety,
        fail_above=held / safety,
        unit=unit,
        source=source,
        advice="less overhang, a wider base under it, or more to hold it down",
        basis=Basis(method, (*assumed, _BORROWED), safety),
    )
