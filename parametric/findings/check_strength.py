"""All checks of what a set bears. An aid to the engineer, not a certificate."""

from __future__ import annotations

from parametric.assembly import Assembly
from parametric.findings.angle_strength import angle_strength_findings
from parametric.findings.deck_strength import deck_strength_findings
from parametric.findings.finding import Finding
from parametric.findings.leg_strength import leg_strength_findings
from parametric.findings.plate_strength import plate_strength_findings
from parametric.findings.tipping import tipping_findings
from parametric.findings.wall_strength import wall_strength_findings
from parametric.strength.loads import Loads


def check_strength(where: str, assembly: Assembly, loads: Loads) -> tuple[Finding, ...]:
    """Return the findings about strength, in the order of the checks."""
    return (
        *angle_strength_findings(where, assembly, loads),
        *deck_strength_findings(where, assembly, loads),
        *leg_strength_findings(where, assembly, loads),
        *tipping_findings(where, assembly, loads),
        *wall_strength_findings(where, assembly, loads),
        *plate_strength_findings(where, assembly, loads),
    )
