"""Whether cleats along a wall carry what lies on them: their screws, across the lining."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import fsum

from parametric.findings.deck_plate import DeckPlate, Fineness, deck_plate
from parametric.findings.deck_strength import decks_of
from parametric.findings.finding import Basis, Finding
from parametric.findings.measure import borne
from parametric.findings.wall_hold import (
    by_nds,
    held_by,
    lining_mm,
    missing,
    source_of_hold,
    thread_in_wood_mm,
)
from parametric.geometry.space import Axis
from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall, Seated
from parametric.shapes.board import Board
from parametric.shapes.members import Cleat
from parametric.stock.amounts import KG_M3, NEWTONS, Amount, Words, force, spread
from parametric.strength.loads import AWS_SHELVES, SPREAD_N_M2, Loads, source_of
from parametric.strength.wood_screws import (
    GRAVITIES,
    INCH_MM,
    STEEL_PLATE_N_MM2,
    SingleShear,
    wood_bearing_n_mm2,
)

WATER = 1.12
"""Mass of wood in a heated room over that of the dry wood; from memory."""


def wall_cleat_findings(
    where: str, assembly: Assembly, loads: Loads, fineness: Fineness
) -> Iterator[Finding]:
    """Yield for each cleat on a wall that carries something the load along the wall on one of its
    screws.
    """
    fixings = assembly.wall_fixings()
    decks = {deck.name: deck for deck in decks_of(assembly)}
    for joint in assembly.joints:
        if not isinstance(joint, Seated) or joint.top not in decks:
            continue
        deck = decks[joint.top]
        for cleat in assembly.cleats:
            if cleat.name in joint.on and cleat.name in fixings:
                yield _on_cleat(where, assembly, deck, cleat, fixings[cleat.name], loads, fineness)


def _on_cleat(
    where: str,
    assembly: Assembly,
    deck: Board,
    cleat: Cleat,
    screws: Sequence[FixedToWall],
    loads: Loads,
    fineness: Fineness,
) -> Finding:
    anywhere_n, source = loads.anywhere_on(deck.surface)
    share, worst = _most_on_one(deck_plate(assembly, deck), cleat, screws, fineness)
    area_m2 = deck.box.size(Axis.X) * deck.box.size(Axis.Y) * 1e-6
    spread_n = loads.spread_n_m2 * area_m2 / 2 / len(screws)
    gravity = cleat.bar.density_kg_m3 / 1000 / WATER
    return borne(
        code="wall-cleat",
        where=f"{where}: {cleat.name}",
        what="load of",
        under=(
            " down the wall on a cleat screw, under ",
            force(anywhere_n),
            " above it and ",
            spread(loads.spread_n_m2),
            " all over",
        ),
        measured=anywhere_n * share + spread_n,
        allowed=_held_n(cleat, worst, gravity, loads),
        missing=_missing(cleat, worst, gravity),
        unit=NEWTONS,
        source=f"{source_of_hold(worst, 'table 12.3.1A')}; load: {source};"
        f" {source_of(loads.spread_n_m2, SPREAD_N_M2, AWS_SHELVES)}",
        advice="use more, longer or thicker screws in the cleat, or a gable or leg nearer to it",
        basis=Basis(
            _method(worst),
            (
                "a stiff cleat, its screws identical and elastic",
                "half of the spread load on the cleat, shared equally by its screws",
                f"cleat of specific gravity {gravity:.2f}, its density less water",
                *held_by(worst, loads),
                "the lining bears nothing",
            ),
        ),
        at=worst.head,
    )


def _most_on_one(
    plate: DeckPlate, cleat: Cleat, screws: Sequence[FixedToWall], fineness: Fineness
) -> tuple[float, FixedToWall]:
    """Return the greatest share of a load anywhere that one screw bears, and which screw that is:
    the cleat is stiff, so that its screws share what lies on it and where.
    """
    along = cleat.along
    middle = fsum(screw.head[along] for screw in screws) / len(screws)
    from_middle = [screw.head[along] - middle for screw in screws]
    turning = fsum(away**2 for away in from_middle)
    on_cleat = [
        (at, plate.in_room((support.x, support.y))[along] - middle)
        for at, (support, held) in enumerate(zip(plate.supports, plate.held, strict=True))
        if held.by == cleat.name
    ]
    worst, which = 0.0, screws[0]
    for forces in plate.solved(fineness).forces:
        down = fsum(forces[at] for at, _ in on_cleat) / len(screws)
        tilt = fsum(forces[at] * away for at, away in on_cleat) / turning if turning else 0.0
        for screw, away in zip(screws, from_middle, strict=True):
            if down + tilt * away > worst:
                worst, which = down + tilt * away, screw
    return worst, which


def _method(fixing: FixedToWall) -> str:
    modes = "yield modes across the lining (AWC Technical Report 12, from memory)"
    return modes if fixing.given is None else f"as allowed for the fixing; in the cleat {modes}"


def _covered(gravity: float) -> bool:
    return min(GRAVITIES) <= gravity <= max(GRAVITIES)


def _missing(cleat: Cleat, fixing: FixedToWall, gravity: float) -> Words:
    """Return in words why nothing says what a screw bears along the wall."""
    if fixing.given is None and not by_nds(fixing):
        return missing(fixing)
    if not _covered(gravity):
        return ("no figure is for a cleat of ", Amount(cleat.bar.density_kg_m3, KG_M3))
    return f"no rule is for wood under {fixing.screw.description}"


def _held_n(cleat: Cleat, fixing: FixedToWall, gravity: float, loads: Loads) -> float | None:
    """Return what is allowed on a screw through the cleat along the wall, None where nothing says:
    by NDS in wood. In a given fixing it is what that is given, and no more than the cleat itself
    holds by NDS on a screw that steel holds behind the lining.
    """
    screw, given = fixing.screw, fixing.given
    if not _covered(gravity) or (given is None and not by_nds(fixing)):
        return None
    if given is not None and screw.major_diameter_mm >= INCH_MM / 4:
        return None
    thread = thread_in_wood_mm(fixing, loads)
    if given is None:
        main_mm = max(0.0, thread - screw.major_diameter_mm)
        main_n_mm2 = wood_bearing_n_mm2(loads.blocking_gravity)
    else:
        main_mm, main_n_mm2 = given.embedment_mm, STEEL_PLATE_N_MM2
    shear = SingleShear(
        diameter_mm=screw.major_diameter_mm,
        root_mm=screw.root_diameter_mm,
        side_mm=cleat.box.size(fixing.direction.axis),
        side_n_mm2=wood_bearing_n_mm2(gravity),
        main_mm=main_mm,
        main_n_mm2=main_n_mm2,
        gap_mm=lining_mm(fixing, loads),
    )
    if given is None:
        return shear.design_n(thread)
    return min(given.shear_n, *shear.modes_n().values())
