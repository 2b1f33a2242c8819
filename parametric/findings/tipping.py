"""Whether a unit that nothing holds tips over when somebody sits on its overhang."""

from __future__ import annotations

from collections.abc import Iterator

from parametric.findings.deck_strength import decks_of
from parametric.findings.finding import Basis, Finding
from parametric.findings.measure import at_least
from parametric.findings.rigid_unit import rigid_unit
from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall
from parametric.strength.anchorage import greatest_load_n
from parametric.strength.board_rules import PAD_MM
from parametric.strength.loads import Loads

MOST_TOLD = 10.0  # times the load: further than that nobody needs to know
SAFETY = 1.5  # against tipping; common practice, no source


def tipping_findings(where: str, assembly: Assembly, loads: Loads) -> Iterator[Finding]:
    """Yield for each unit with decks and without wall screws the load on its rim that tips it."""
    fixed = {
        assembly.part(joint.through).unit
        for joint in assembly.joints
        if isinstance(joint, FixedToWall)
    }
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
            what=f"load on a corner that tips it over{' is at least' if tips_n > most_n else ''}",
            measured=min(tips_n, most_n),
            warn_below=SAFETY * load_n,
            fail_below=load_n,
            unit="N",
            source=f"load: {load}; {SAFETY} times it: common practice",
            advice="less overhang, a wider base, or screws into the wall or the floor",
            basis=Basis(
                "a rigid body on a floor that only pushes, by a linear program",
                (f"a pad of {PAD_MM:.0f} mm within the deck", "nothing else on it"),
                SAFETY,
            ),
            at=at,
        )
