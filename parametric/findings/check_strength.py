"""All checks of what a set bears. An aid to the engineer, not a certificate."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from itertools import chain

from parametric.findings.angle_strength import angle_strength_findings
from parametric.findings.deck_plate import Fineness
from parametric.findings.deck_strength import deck_strength_findings
from parametric.findings.finding import Finding
from parametric.findings.leg_strength import leg_strength_findings
from parametric.findings.no_rule import no_rule_findings
from parametric.findings.plate_strength import plate_strength_findings
from parametric.findings.tipping import tipping_findings
from parametric.findings.wall_cleats import wall_cleat_findings
from parametric.findings.wall_fixings import wall_fixing_findings
from parametric.findings.wall_strength import wall_strength_findings
from parametric.joints.assembly import Assembly
from parametric.strength.loads import Loads


def check_strength(
    where: str, assembly: Assembly, loads: Loads, fineness: Fineness = Fineness.EXACT
) -> tuple[Finding, ...]:
    """Return the findings about strength, in the order of the checks; `fast` ones where many sizes
    are tried one after another.
    """
    return (
        *angle_strength_findings(where, assembly, loads, fineness),
        *deck_strength_findings(where, assembly, loads, fineness),
        *leg_strength_findings(where, assembly, loads),
        *tipping_findings(where, assembly, loads),
        *wall_fixing_findings(where, assembly, loads),
        *wall_strength_findings(where, assembly, loads),
        *wall_cleat_findings(where, assembly, loads, fineness),
        *plate_strength_findings(where, assembly, loads),
        *no_rule_findings(where, assembly),
    )


class Check(StrEnum):
    """A check of strength: what the codes of its findings start with."""

    ANGLE = "angle"
    NOTCH = "notch"
    DECK = "deck"
    LEG = "leg"
    SEAT = "seat"
    WALL = "wall"
    PLATE = "plate"

    @classmethod
    def of(cls, code: str) -> Check:
        """Return the check that finds what has this code.

        Raises:
            ValueError: none does.
        """
        return cls(code.partition("-")[0])


def check_again(check: Check, assembly: Assembly, loads: Loads, deck: str) -> Iterator[Finding]:
    """Return the `fast` findings of one check, of one deck if it is about decks: for what is tried
    many times. They are named by their place alone.
    """
    match check:
        case Check.ANGLE | Check.NOTCH:
            return angle_strength_findings("", assembly, loads, Fineness.FAST)
        case Check.DECK:
            return deck_strength_findings("", assembly, loads, Fineness.FAST, only=deck)
        case Check.LEG:
            return leg_strength_findings("", assembly, loads)
        case Check.SEAT:
            return tipping_findings("", assembly, loads)
        case Check.WALL:
            return chain(
                wall_fixing_findings("", assembly, loads),
                wall_strength_findings("", assembly, loads),
                wall_cleat_findings("", assembly, loads, Fineness.FAST),
            )
        case Check.PLATE:
            return plate_strength_findings("", assembly, loads)
