"""Whether the fixings in walls that are not wood are given, go in deep enough and stand apart."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import combinations
from math import dist, inf

from parametric.findings.finding import Basis, Finding, Sense, Severity
from parametric.findings.measure import at_least, at_most
from parametric.findings.wall_hold import TO_AN_ENGINEER, held_by, missing, reach_mm
from parametric.geometry.space import Axis
from parametric.geometry.walls import Wall, wall_towards
from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall
from parametric.stock.wall_types import GivenFixing
from parametric.strength.loads import Loads

SPACED_MM = 9999.0  # told where nothing stands beside a screw
_AS_PLACED = "as the screws of the set stand, no shims behind them"


def wall_fixing_findings(where: str, assembly: Assembly, loads: Loads) -> Iterator[Finding]:
    """Yield for each wall a warning for each screw that nobody has given a fixing for, and for each
    given fixing how deep its screws go in and how far they stand apart.
    """
    on: dict[Wall, list[FixedToWall]] = defaultdict(list)
    for joints in assembly.wall_fixings().values():
        for joint in joints:
            if joint.direction.axis is not Axis.Z:
                on[wall_towards(joint.direction, joint.wall_mm)].append(joint)
    for wall in Wall:
        place = f"{where}: {wall}"
        unknown: dict[str, list[FixedToWall]] = defaultdict(list)
        given: dict[GivenFixing, list[FixedToWall]] = defaultdict(list)
        for joint in on[wall]:
            if joint.by_engineer:
                unknown[joint.screw.key].append(joint)
            elif joint.given is not None:
                given[joint.given].append(joint)
        for ungiven in unknown.values():
            yield _not_given(place, ungiven, loads)
        for fixing, its in given.items():
            yield from _as_given(place, fixing, its, on[wall], loads)


def _not_given(where: str, joints: Sequence[FixedToWall], loads: Loads) -> Finding:
    """Return the warning about screws that nothing is known of in their wall."""
    first = joints[0]
    return Finding(
        code="wall-fixing",
        severity=Severity.WARN,
        where=where,
        message=missing(first),
        measured=float(len(joints)),
        sense=Sense.AT_MOST,
        limit=0.0,
        unit="screws",
        source="no value is known, so none is counted on",
        advice=TO_AN_ENGINEER,
        basis=Basis("none", held_by(first, loads)),
        at=first.head,
    )


def _as_given(
    where: str,
    fixing: GivenFixing,
    joints: Sequence[FixedToWall],
    beside: Sequence[FixedToWall],
    loads: Loads,
) -> Iterator[Finding]:
    basis = Basis("by the place of each screw", (*held_by(joints[0], loads), _AS_PLACED))
    named = f"{fixing.description}:"
    short = min(joints, key=lambda joint: reach_mm(joint, loads))
    yield at_least(
        code="wall-embedment",
        where=where,
        what=f"{named} depth behind the lining, through {short.through},",
        measured=reach_mm(short, loads),
        warn_below=fixing.embedment_mm,
        fail_below=fixing.embedment_mm,
        advice="use a longer screw",
        source=fixing.source,
        basis=basis,
        at=short.head,
    )
    if fixing.hole_depth_mm is not None:
        long = max(joints, key=lambda joint: reach_mm(joint, loads))
        yield at_most(
            code="wall-hole",
            where=where,
            what=f"{named} tip behind the lining, through {long.through}, at",
            measured=reach_mm(long, loads),
            fail_above=fixing.hole_depth_mm,
            advice="use a shorter screw, or a deeper hole if the fixing allows it",
            source=fixing.source,
            basis=basis,
            at=long.head,
        )
    apart, at = _nearest(joints, beside)
    yield at_least(
        code="wall-spacing",
        where=where,
        what=f"{named} to the next screw",
        says=f"{named} one screw, none beside it" if apart == inf else (),
        measured=min(apart, SPACED_MM),
        warn_below=fixing.spacing_mm,
        fail_below=fixing.spacing_mm,
        advice=f"set the screws further apart; {TO_AN_ENGINEER}",
        source=fixing.source,
        basis=basis,
        at=at.head,
    )


def _nearest(
    joints: Sequence[FixedToWall], beside: Sequence[FixedToWall]
) -> tuple[float, FixedToWall]:
    """Return the least distance of one of these screws to another one in the wall."""
    listed = list(joints)
    pairs = [
        *combinations(listed, 2),
        *((one, other) for one in listed for other in beside if other not in listed),
    ]
    return min(
        ((dist(one.mouth, other.mouth), one) for one, other in pairs),
        key=lambda each: each[0],
        default=(inf, joints[0]),
    )
