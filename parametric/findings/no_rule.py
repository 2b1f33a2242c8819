"""Joints that no check of strength looks at, and no row of what is not checked names.

A joint passes only where a rule here says who looks at it. Whoever adds a kind of joint, or joins
parts in a way that nobody did before, gets a warning that names it until he adds a rule and its
line here.
"""

from __future__ import annotations

from collections.abc import Iterator

from parametric.findings.angle_bearing import angle_bearing
from parametric.findings.finding import Finding, Sense, Severity
from parametric.joints.assembly import Assembly
from parametric.joints.joints import (
    Bonded,
    FixedToWall,
    Housed,
    Hung,
    Joint,
    Passing,
    Screwed,
    Seated,
    parts_of,
)
from parametric.shapes.board import Board
from parametric.shapes.members import Cleat, Leg, Member, SteelAngle, WallPlate


def no_rule_findings(where: str, assembly: Assembly) -> Iterator[Finding]:
    """Yield a warning for each joint that no rule covers, one for those that are alike."""
    told: dict[str, list[str]] = {}
    for joint in assembly.joints:
        missing = missing_rule(assembly, joint)
        if missing:
            told.setdefault(missing, []).append(" to ".join(dict.fromkeys(parts_of(joint))))
    for missing, joints in told.items():
        others = f" and {len(joints) - 1} more like it" if len(joints) > 1 else ""
        yield Finding(
            code="no-rule",
            severity=Severity.WARN,
            where=f"{where}: {joints[0]}",
            message=f"no strength rule covers {missing}{others}",
            measured=float(len(joints)),
            sense=Sense.AT_MOST,
            limit=0.0,
            unit="joints",
            source="every joint is checked, or listed as not checked",
            advice="ask the engineer; nothing here says that it holds",
        )


def missing_rule(assembly: Assembly, joint: Joint) -> str:
    """Return in words what no rule is for; empty for a joint that is looked at, or told among what
    is not checked.
    """
    match joint:
        case Screwed():
            return _screwed(assembly.part(joint.through), assembly.part(joint.into))
        case FixedToWall():
            part = assembly.part(joint.through)
            covered = isinstance(part, Board | Cleat | WallPlate)
            return "" if covered else f"{_kind(part)} screwed to a wall"
        case Seated():
            return _seated(assembly, joint)
        case Bonded():
            strange = [part for part in map(assembly.part, joint.on) if not isinstance(part, Board)]
            return f"a board glued on {_kind(strange[0])}" if strange else ""
        case Passing():
            return _passing(assembly, joint)
        case Hung() | Housed():
            return ""  # plate_strength; told of the carcass


def _screwed(through: Board | Member, into: Board | Member) -> str:
    if isinstance(into, Board) and isinstance(through, Cleat | SteelAngle | Leg):
        return ""  # deck_strength and leg_strength; told of cleats and angles
    if isinstance(into, Cleat) and isinstance(through, Board):
        return ""  # told of cleats
    return f"{_kind(through)} screwed to {_kind(into)}"


def _passing(assembly: Assembly, joint: Passing) -> str:
    """Return what of an angle's notch is not looked at: it is taken to bear on its outermost two
    panels.
    """
    bearing = angle_bearing(assembly, assembly.angle(joint.member))
    if bearing is None:
        return "a steel angle that runs through one panel alone"
    outer = {panel.name for panel in bearing.panels}
    return "" if joint.through in outer else "the notch of a panel between others on one angle"


def _seated(assembly: Assembly, joint: Seated) -> str:
    """Return what of a seat is not looked at."""
    on_walls = assembly.on_walls()
    for part in map(assembly.part, joint.on):
        covered = isinstance(part, Board | SteelAngle | Leg) or part.name in on_walls
        if not covered:
            return f"what rests on {_kind(part)} that is not fixed to a wall"
    return ""


def _kind(part: Board | Member) -> str:
    match part:
        case Board():
            return "a board"
        case Cleat():
            return "a cleat"
        case SteelAngle():
            return "a steel angle"
        case Leg():
            return "a leg"
        case WallPlate():
            return "a wall plate"
