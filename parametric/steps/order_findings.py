"""Whether a set can be put up at all, in an order that its joints allow."""

from __future__ import annotations

from parametric.assembly import Assembly
from parametric.findings.finding import Finding, Sense, Severity
from parametric.steps.order import NoOrder, ordered


def order_finding(where: str, assembly: Assembly) -> Finding:
    """Return one finding: how many tasks wait for one another in a circle."""
    try:
        steps = len(ordered(assembly))
        circle, told = 0, f"an order of work: {steps} steps, none waits for a later one"
    except NoOrder as error:
        circle, told = len(set(error.tasks)), f"no order of work: {error}"
    return Finding(
        code="step-order",
        severity=Severity.FAIL if circle else Severity.OK,
        where=where,
        message=told,
        measured=float(circle),
        sense=Sense.AT_MOST,
        limit=0.0,
        unit="tasks",
        source="what carries, is passed through or is hung on must be there first",
        advice="change what rests on what" if circle else "",
    )
