"""Whether two people can carry each piece that is delivered."""

from __future__ import annotations

from collections.abc import Iterator

from parametric.findings.finding import Finding
from parametric.findings.measure import at_most
from parametric.joints.assembly import Assembly
from parametric.joints.delivered import delivered
from parametric.shapes.board import Board
from parametric.stock.amounts import KILOGRAMS
from parametric.strength.lifting import LOAD_CONSTANT_KG, NIOSH, recommended_weight_kg

PEOPLE = 2  # sharing a board evenly, one at each end: common practice, no source
# A board stood on its edge, gripped by the edges and lifted to carrying height; now and then, for
# an hour at most (FM 1.00), poor grip (CM 0.90). Reach and heights: common practice, no source.
ONE_PERSON_KG = recommended_weight_kg(
    reach_cm=30.0, height_cm=40.0, travel_cm=40.0, frequency_factor=1.00, grip_factor=0.90
)


def lifting_findings(where: str, assembly: Assembly) -> Iterator[Finding]:
    """Yield the mass of each piece with a board against what two people may lift.

    A warning above twice the recommended weight; a failure above twice the load constant, which
    the equation allows in no posture.
    """
    for piece in delivered(assembly):
        if not isinstance(piece.main, Board):
            continue
        yield at_most(
            code="board-mass",
            where=f"{where}: {piece.called}",
            what=f"weight for {PEOPLE} people to carry",
            measured=piece.mass_kg,
            warn_above=PEOPLE * ONE_PERSON_KG,
            fail_above=PEOPLE * LOAD_CONSTANT_KG,
            unit=KILOGRAMS,
            source=f"{NIOSH}; shared by two people: common practice",
            advice="make the board smaller, or carry it with more people or a lifting aid; "
            "local lifting rules govern",
        )
