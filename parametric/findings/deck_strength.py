"""Whether decks bear a seat load anywhere, sag little after years, and stay down where they do."""

from __future__ import annotations

from collections.abc import Iterator

from parametric.assembly import Assembly
from parametric.board import Board
from parametric.findings.deck_strips import AtPlace, DeckStrips, deck_strips
from parametric.findings.finding import Basis, Finding
from parametric.findings.measure import borne
from parametric.joints import Bonded, Screwed, Seated
from parametric.strength.board_rules import (
    BORROWED,
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


def deck_strength_findings(where: str, assembly: Assembly, loads: Loads) -> Iterator[Finding]:
    """Yield bending, sag and hold of every deck that rests on boards standing under it."""
    for deck in decks_of(assembly):
        place = f"{where}: {deck.name}"
        strips = deck_strips(assembly, deck)
        under_seat = list(strips.at_places())
        yield _under_seat(place, deck, under_seat, loads)
        yield from _under_spread(place, deck, strips, loads)
        worst = max(under_seat, key=lambda each: each.uplift)
        if loads.seat_n * worst.uplift > NO_PULL_N:
            yield _held_down(place, assembly, deck, worst, loads)


def decks_of(assembly: Assembly) -> list[Board]:
    """Return the boards that are sat or lain on: those seated on boards, not only on an angle."""
    boards = {board.name for board in assembly.boards}
    tops = {
        joint.top
        for joint in assembly.joints
        if isinstance(joint, Seated) and not boards.isdisjoint(joint.on)
    }
    return [board for board in assembly.boards if board.name in tops]


def _under_seat(place: str, deck: Board, places: list[AtPlace], loads: Loads) -> Finding:
    worst = max(places, key=lambda each: each.moment_per_width)
    moment_nmm = loads.seat_n * worst.moment_mm
    strength, safety = deck.material.strength, Duration.SHORT.safety
    load = source_of(loads.seat_n, SEAT_N, ADA_903_6)
    return borne(
        code="deck-bending",
        where=place,
        what=f"bending stress under {loads.seat_n:.0f} N, worst for {worst.how}",
        measured=bending_stress_n_mm2(moment_nmm, worst.width_mm, deck.thickness_mm),
        allowed=None if strength is None else strength.bending_n_mm2 / safety,
        missing=_no_strength(deck),
        unit="N/mm2",
        source=f"{'' if strength is None else strength.source}; load: {load}",
        advice="a thicker deck, less overhang, or another support under it",
        basis=Basis(_STRIPS, (*_ASSUMED, BORROWED), safety),
    )


def _no_strength(deck: Board) -> str:
    return f"{deck.material.key} has no strength in its library file"


def _under_spread(place: str, deck: Board, strips: DeckStrips, loads: Loads) -> Iterator[Finding]:
    """Yield stress and sag where each place is carried by the strip that bears it more easily; the
    sag only of boards whose stiffness is known.
    """
    pressure = loads.spread_n_m2 * 1e-6
    places = list(strips.spreads())
    what = f"under {loads.spread_n_m2:.0f} N/m2"
    strength, safety = deck.material.strength, Duration.MEDIUM.safety
    source = source_of(loads.spread_n_m2, SPREAD_N_M2, AWS_SHELVES)
    taken = (*_ASSUMED[1:2], BORROWED)
    worst = max(min(way.moment for way in ways) for ways in places)
    yield borne(
        code="deck-bending",
        where=place,
        what=f"bending stress {what}",
        measured=bending_stress_n_mm2(pressure * worst, 1.0, deck.thickness_mm),
        allowed=None if strength is None else strength.bending_n_mm2 / safety,
        missing=_no_strength(deck),
        unit="N/mm2",
        source=f"{'' if strength is None else strength.source}; load: {source}",
        advice="a thicker deck, or another support under it",
        basis=Basis(_STRIPS, taken, safety),
    )
    if strength is None:
        return
    stiffness = strength.elasticity_n_mm2 * deck.thickness_mm**3 / 12
    easier = [min(ways, key=lambda way: way.sag / way.span_mm) for ways in places]
    most = max(easier, key=lambda way: way.sag / way.span_mm)
    yield borne(
        code="deck-sag",
        where=place,
        what=f"sag {what}, {loads.lasting:.0%} of it for years, over {most.span_mm:.0f} mm",
        measured=with_creep(pressure * most.sag / stiffness, strength.creep_factor, loads.lasting),
        allowed=most.span_mm / SAG_SPAN,
        missing="",
        unit="mm",
        source=f"{source}; creep: {EN_1995_CREEP}",
        advice="a thicker or stiffer deck, or another support under it",
        basis=Basis(_STRIPS, (*taken, "an overhang counts as half of its span")),
    )


def _held_down(
    place: str, assembly: Assembly, deck: Board, worst: AtPlace, loads: Loads
) -> Finding:
    """Return whether adhesive or screws hold the deck where a load beyond a support lifts it."""
    pull_n = loads.seat_n * worst.uplift
    strength, safety = deck.material.strength, Duration.SHORT.safety
    glued_to = [
        assembly.board(name).thickness_mm
        for joint in assembly.joints
        if isinstance(joint, Bonded) and joint.top == deck.name
        for name in joint.on
    ]
    if glued_to:
        held = None if strength is None else strength.internal_bond_n_mm2
        method = f"pull on the adhesive over {worst.width_mm:.0f} mm of a board's edge"
        taken = "adhesive over the whole edge, as the step's sheet asks for"
        unit, what = "N/mm2", "pull across the face of the deck where it is glued on"
        missing = f"{deck.material.key} has no internal_bond_n_mm2 in its library file"
        measured = pull_n / (worst.width_mm * min(glued_to))
    else:
        screws = [j for j in assembly.joints if isinstance(j, Screwed) and j.into == deck.name]
        sharing = max(1, min(SHARING_SCREWS, len(screws)))
        held = None if strength is None else strength.screw_face_n
        method = f"shared by the {sharing} nearest of {len(screws)} screws"
        taken = "cleats hold to their panels: no formula covers these screws in board"
        unit, what = "N", "pull on a screw of the deck from below"
        missing = f"NDS covers solid wood only, and {deck.material.key} has no screw_face_n"
        measured = pull_n / sharing
    load = source_of(loads.seat_n, SEAT_N, ADA_903_6)
    return borne(
        code="deck-hold",
        where=place,
        what=what,
        measured=measured,
        allowed=None if held is None else held / safety,
        missing=missing,
        unit=unit,
        source="" if strength is None else strength.source,
        advice="less overhang, a wider base under it, or more to hold it down",
        basis=Basis(
            method, (taken, "the deck's own weight left out", f"load: {load}", BORROWED), safety
        ),
    )
