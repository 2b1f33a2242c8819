"""Whether a unit that nothing holds tips over when somebody sits on its overhang."""

from __future__ import annotations

from collections.abc import Iterator

from parametric.findings.deck_strength import decks_of
from parametric.findings.finding import Basis, Finding
from parametric.findings.measure import at_least
from parametric.findings.rigid_unit import rigid_unit
from parametric.joints.assembly import Assembly
from parametric.stock.amounts import NEWTONS, Words, force, length
from parametric.strength.anchorage import greatest_load_n
from parametric.strength.board_rules import PAD_MM
from parametric.strength.loads import Loads

MOST_TOLD = 10.0  # times the load: further than that nobody needs to know
SAFETY = 1.5  # against tipping; common practice, no source


def _firm(most_n: float, load_n: float) -> Words:
    least = force(SAFETY * load_n)
    return ("does not tip over even under a corner load of ", force(most_n), " (min ", least, ")")


def tipping_findings(where: str, assembly: Assembly, loads: Loads) -> Iterator[Finding]:
    """Yield for each unit with decks that no wall screws hold the load on its rim that tips it."""
    fixed = {assembly.part(name).unit for name in assembly.held_by_walls()}
    for unit in dict.fromkeys(deck.unit for deck in decks_of(assembly)):
        if unit in fixed:
            continue
        body = rigid_unit(assembly, unit)
        load_n, load = body.load_n(loads)
        tips_n, at = min(
            (
                (greatest_load_n(seat, [body.weight], body.stands), seat.at)
                for seat in body.sat_on(load_n)
            ),
            key=lambda each: each[0],
        )
        most_n = MOST_TOLD * load_n
        yield at_least(
            code="seat-tip",
            where=f"{where}: {unit}",
            what="tips over under a corner load of",
            says=_firm(most_n, load_n) if tips_n > most_n else (),
            measured=min(tips_n, most_n),
            warn_below=SAFETY * load_n,
            fail_below=load_n,
            unit=NEWTONS,
            source=f"load: {load}; {SAFETY} times it: common practice",
            advice="reduce the overhang, widen the base, or screw it to the wall or the floor",
            basis=Basis(
                "a rigid body on a floor that only pushes, by a linear program",
                (("a pad of ", length(PAD_MM), " on a corner of the deck"), "nothing else on it"),
                SAFETY,
            ),
            at=at,
        )
