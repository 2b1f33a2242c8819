"""Whether decks bear a seat load anywhere, sag little after years, and stay down where they do."""

from __future__ import annotations

import math
from collections.abc import Iterator

from parametric.findings.borne_by_board import pull_borne, stress_borne
from parametric.findings.deck_plate import (
    POINT_MM,
    SCREW_N_MM,
    DeckAnswers,
    DeckPlate,
    Fineness,
    deck_plate,
)
from parametric.findings.finding import Basis, Finding, Sense, Severity
from parametric.findings.measure import borne
from parametric.geometry.space import Point
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Seated
from parametric.shapes.board import Board, Surface
from parametric.stock.amounts import (
    MM,
    N_MM,
    NEWTONS,
    Amount,
    Words,
    force,
    joined,
    length,
    mass,
    spread,
)
from parametric.strength.board_rules import (
    EN_1995_CREEP,
    PAD_MM,
    Duration,
    Strength,
    bending_stress_n_mm2,
    creep_factor,
    rule,
    with_creep,
)
from parametric.strength.board_screws import ECKELMAN, withdrawal_n
from parametric.strength.loads import (
    ADA_903_6,
    AWS_SHELVES,
    DROPPED_KG,
    SAG_SPAN,
    SEAT_N,
    SEAT_TESTS,
    SPREAD_N_M2,
    Loads,
    source_of,
)
from parametric.strength.plate import POISSON

NO_PULL_N = 1.0
_PLATE = (
    "the deck as a thin elastic plate, in finite elements, on all its supports, which only push"
    " where nothing holds it down"
)
_WEIGHTLESS = "without the deck's own weight"
_TO_HOLD = "reduce the overhang, widen the base under it, or hold it down better"


def deck_strength_findings(
    where: str, assembly: Assembly, loads: Loads, fineness: Fineness, only: str = ""
) -> Iterator[Finding]:
    """Yield bending, sag and hold of every deck that rests on boards standing under it, or `only`
    of the one of that name.
    """
    for deck in decks_of(assembly):
        if only not in ("", deck.name):
            continue
        place = f"{where}: {deck.name}"
        plate = deck_plate(assembly, deck)
        found = plate.solved(fineness)
        if found.tips:
            yield _tips(place, deck, loads)
            continue
        yield _under_one(place, deck, plate, found, loads)
        if deck.surface is not Surface.LEANING:
            if len(found.two_at) > 1:
                yield _under_two(place, deck, plate, found, loads)
            yield _under_test(place, deck, plate, found, loads)
        yield from _under_spread(place, deck, plate, found, loads)
        yield from _held_down(place, deck, plate, found, loads)


def _assumed(plate: DeckPlate) -> tuple[Words, ...]:
    return (
        (
            "a round pad of ",
            length(PAD_MM),
            " wherever it can stand, the deck's corners taken as square",
        ),
        "the board as strong both ways as in its weaker one",
        (
            "stress averaged over ",
            length(plate.mean_mm),
            ", twice the deck's thickness, over which the load of a narrow support spreads",
        ),
        "boards under it as springs, as stiff as their edges",
    )


def _tips(place: str, deck: Board, loads: Loads) -> Finding:
    load_n, source = loads.anywhere_on(deck.surface)
    return Finding(
        code="deck-hold",
        severity=Severity.FAIL,
        where=place,
        message=("the deck lifts off somewhere under ", force(load_n), ": nothing keeps it down"),
        measured=load_n,
        sense=Sense.AT_MOST,
        limit=0.0,
        unit=NEWTONS,
        source=source,
        advice="reduce the overhang, hold it down better, or put another support under it",
        basis=Basis(_PLATE, (_WEIGHTLESS,)),
    )


def decks_of(assembly: Assembly) -> list[Board]:
    """Return the boards that something is set down on: those with a surface of their own, and those
    seated on boards, not only on an angle.
    """
    boards = {board.name for board in assembly.boards}
    seated = [joint for joint in assembly.joints if isinstance(joint, Seated)]
    tops = {joint.top for joint in seated if not boards.isdisjoint(joint.on)}
    tops |= {board.name for board in assembly.boards if board.surface is not None} & {
        joint.top for joint in seated
    }
    return [board for board in assembly.boards if board.name in tops]


def _under_one(
    place: str, deck: Board, plate: DeckPlate, found: DeckAnswers, loads: Loads
) -> Finding:
    load_n, source = loads.anywhere_on(deck.surface)
    inset = joined(" by ", map(length, _inset_mm(plate, found.one_at)))
    return _bent(
        place,
        deck,
        under=(" under ", force(load_n), ", ", inset, " in from the nearest corner"),
        moment_n=load_n * found.one.moment,
        duration=Duration.SHORT,
        loads=loads,
        load=source,
        advice="use a thicker deck, reduce the overhang, or put another support under it",
        taken=_assumed(plate),
        at=plate.in_room(found.one_at),
    )


def _under_two(
    place: str, deck: Board, plate: DeckPlate, found: DeckAnswers, loads: Loads
) -> Finding:
    apart_mm = math.dist(found.two_at[0], found.two_at[-1])
    return _bent(
        place,
        deck,
        under=(" under two loads of ", force(loads.seat_n), ", ", length(apart_mm), " apart"),
        moment_n=loads.seat_n * found.two.moment,
        duration=Duration.SHORT,
        loads=loads,
        load=source_of(loads.seat_n, SEAT_N, ADA_903_6),
        advice="use a thicker deck, reduce the overhang, or put another support under it",
        taken=("one where it does most alone, the other wherever it adds most", *_assumed(plate)),
        at=plate.in_room(found.two_at[0]),
    )


def _under_test(
    place: str, deck: Board, plate: DeckPlate, found: DeckAnswers, loads: Loads
) -> Finding:
    test = SEAT_TESTS[loads.use]
    test_n = max(test.seat_n, test.drop_n)
    return _bent(
        place,
        deck,
        code="deck-test",
        under=(f" under the test of seats for {loads.use} use, ", force(test_n)),
        moment_n=test_n * found.one.moment,
        duration=Duration.ACCIDENT,
        loads=loads,
        load=test.source,
        advice="use a thicker deck, reduce the overhang, or put another support under it",
        taken=(
            "a test has no factor of safety: a sample passes it once",
            (
                mass(DROPPED_KG),
                " dropped from ",
                length(test.drop_mm),
                " onto springs press with ",
                force(test.drop_n),
                " on a stiff deck",
            ),
            *_assumed(plate),
        ),
        at=plate.in_room(found.one_at),
    )


def _inset_mm(plate: DeckPlate, at: tuple[float, float]) -> tuple[float, float]:
    """Return how far a place is from the nearest edges, along the deck's sides."""
    length, width = plate.sides_mm
    return min(at[0], length - at[0]), min(at[1], width - at[1])


def _bent(
    place: str,
    deck: Board,
    *,
    code: str = "deck-bending",
    under: Words,
    moment_n: float,
    duration: Duration,
    loads: Loads,
    load: str,
    advice: str,
    taken: tuple[Words, ...],
    at: Point,
) -> Finding:
    return stress_borne(
        code=code,
        where=place,
        what="bending stress of",
        under=under,
        stress_n_mm2=bending_stress_n_mm2(moment_n, deck.thickness_mm),
        material=deck.material,
        asked=Strength.BENDING,
        duration=duration,
        loads=loads,
        load=load,
        advice=advice,
        method=_PLATE,
        taken=taken,
        at=at,
    )


def _under_spread(
    place: str, deck: Board, plate: DeckPlate, found: DeckAnswers, loads: Loads
) -> Iterator[Finding]:
    """Yield stress and sag under an even load; the sag only of boards whose stiffness is known."""
    pressure = loads.spread_n_m2 * 1e-6
    source = source_of(loads.spread_n_m2, SPREAD_N_M2, AWS_SHELVES)
    under: Words = (" under ", spread(loads.spread_n_m2))
    yield _bent(
        place,
        deck,
        under=under,
        moment_n=pressure * found.even.moment,
        duration=Duration.MEDIUM,
        loads=loads,
        load=source,
        advice="use a thicker deck, or put another support under it",
        taken=_assumed(plate)[1:],
        at=plate.in_room(found.even.moment_at),
    )
    strength = deck.material.strength
    if strength is None:
        return
    stiffness = strength.elasticity_n_mm2 * deck.thickness_mm**3 / 12 / (1 - POISSON**2)
    span_mm = 2 * plate.to_support_mm(found.even.sag_at)
    yield borne(
        code="deck-sag",
        where=place,
        what="sag of",
        under=(under, f", {loads.lasting:.0%} of it for years, over ", length(span_mm)),
        measured=with_creep(
            pressure * found.even.sag / stiffness,
            creep_factor(deck.material, loads.climate),
            loads.lasting,
        ),
        allowed=span_mm / SAG_SPAN,
        missing="",
        unit=MM,
        source=f"{source}; creep: {EN_1995_CREEP}",
        advice="use a thicker or stiffer deck, or put another support under it",
        basis=Basis(
            _PLATE,
            (
                *_assumed(plate)[1:],
                *rule(deck.material, loads.climate),
                "the span is twice the distance to the nearest support",
            ),
        ),
        at=plate.in_room(found.even.sag_at),
    )


def _held_down(
    place: str, deck: Board, plate: DeckPlate, found: DeckAnswers, loads: Loads
) -> Iterator[Finding]:
    """Yield whether adhesive and screws hold the deck where a load beyond a support lifts it."""
    load_n, load = loads.anywhere_on(deck.surface)
    bond, bond_at = plate.bond_pull_n_mm2(found)
    bond_n_mm2 = bond * load_n
    if bond_n_mm2 * POINT_MM * deck.thickness_mm > NO_PULL_N:
        yield stress_borne(
            code="deck-hold",
            where=place,
            what="pull of",
            under=" on the face of the deck where it is glued on",
            stress_n_mm2=bond_n_mm2,
            material=deck.material,
            asked=Strength.BOND,
            duration=Duration.SHORT,
            loads=loads,
            load=load,
            advice=_TO_HOLD,
            method=f"{_PLATE}; adhesive that pulls as elastically as the boards push",
            taken=(
                (
                    "averaged over ",
                    length(POINT_MM),
                    " of a board's edge, at a corner over both boards; adhesive all along them, as"
                    " the step's sheet asks for",
                ),
                _WEIGHTLESS,
            ),
            at=bond_at,
        )
    yield from _screwed_down(place, deck, plate, found, loads)


def _screwed_down(
    place: str, deck: Board, plate: DeckPlate, found: DeckAnswers, loads: Loads
) -> Iterator[Finding]:
    """Yield whether the screw that comes nearest to what it holds does hold the deck; with no
    figure, the one that is pulled most.
    """
    load_n, load = loads.anywhere_on(deck.surface)
    tested = None if deck.material.strength is None else deck.material.strength.screw
    screwed = [
        (
            pull * load_n,
            None if tested is None else withdrawal_n(tested, *held.screwed),
            held.screwed,
            plate.in_room((support.x, support.y)),
        )
        for held, support, pull in zip(plate.held, plate.supports, found.pulls, strict=True)
        if held.screwed is not None
    ]
    if not screwed:
        return
    pull_n, holds_n, (_, bite_mm), at = max(screwed, key=lambda each: each[0] / (each[1] or 1.0))
    if pull_n > NO_PULL_N:
        yield pull_borne(
            code="deck-hold",
            where=place,
            what="pull of",
            under=(" on a screw ", length(bite_mm), " deep in the deck from below"),
            pull_n=pull_n,
            material=deck.material,
            tested_n=holds_n,
            missing="NDS covers solid wood only, and the library has no screw_face of"
            f" {deck.material.key}",
            loads=loads,
            load=load,
            advice=f"{_TO_HOLD}, or use thicker or longer screws",
            method=(
                f"{_PLATE}; each screw a spring of ",
                Amount(SCREW_N_MM, N_MM),
                f" (from memory), its hold {ECKELMAN}",
            ),
            taken=(
                "cleats hold to their panels; no formula covers those screws in board",
                _WEIGHTLESS,
            ),
            at=at,
        )
