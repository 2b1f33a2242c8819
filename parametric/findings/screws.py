"""Whether each kind of screw bites deep enough and comes out nowhere."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from parametric.findings.finding import Finding
from parametric.findings.measure import at_least
from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall, Screwed
from parametric.joints.machining import penetration_mm
from parametric.shapes.board import Board
from parametric.shapes.members import Leg, Member, SteelAngle

BITE_MM = 9.0  # thread in the second part
SKIN_MM = 3.0  # board left in front of the tip, so that nothing shows or prints through
HEAD_MM = 1.5  # first part left under the head's cone
WALL_BITE_MM = 25.0  # into blocking behind the wall's face, lining not counted


def screw_findings(where: str, assembly: Assembly) -> Iterator[Finding]:
    """Yield bite and skin of the screws of each pair of parts, the worst of them."""
    pairs: dict[tuple[str, str, str], list[Screwed]] = defaultdict(list)
    for joint in assembly.joints:
        if isinstance(joint, Screwed):
            pairs[joint.screw.description, joint.through, joint.into].append(joint)
    for (screw, through, into), joints in pairs.items():
        second = assembly.part(into)
        bite = min(penetration_mm(joint, second) for joint in joints)
        skin = min(
            second.box.size(joint.direction.axis) - penetration_mm(joint, second)
            for joint in joints
        )
        place = f"{where}: {through} into {into}"
        yield at_least(
            code="screw-bite",
            where=place,
            what=f"{screw}: penetration",
            measured=bite,
            warn_below=BITE_MM,
            fail_below=1.0,
            advice="use a longer screw",
        )
        first = assembly.part(through)
        head = min(through_mm(first, joint) - joint.screw.countersink_depth_mm for joint in joints)
        yield at_least(
            code="screw-head",
            where=place,
            what=f"{screw}: material under the countersunk head",
            measured=head,
            warn_below=HEAD_MM,
            fail_below=0.5,
            advice="make the first part thicker, or use a smaller screw",
        )
        yield at_least(
            code="screw-skin",
            where=place,
            what=f"{screw}: material beyond the screw tip",
            measured=skin,
            warn_below=SKIN_MM,
            fail_below=0.5,
            advice="use a shorter screw",
        )


def through_mm(first: Board | Member, joint: Screwed) -> float:
    """Return how thick the first part is where the screw goes through it."""
    match first:
        case SteelAngle():
            return first.section.thickness_mm
        case Leg():
            return first.hardware.plate_thickness_mm
        case _:
            return first.box.size(joint.direction.axis)


def wall_screw_findings(where: str, assembly: Assembly) -> Iterator[Finding]:
    """Yield how far the screws of each wall-fixed part reach past the face of a wall of wood; in
    others the fixing that is given says how deep they go.
    """
    parts: dict[tuple[str, str], list[FixedToWall]] = defaultdict(list)
    for joint in assembly.joints:
        if isinstance(joint, FixedToWall) and joint.wall.kind.is_wood and joint.given is None:
            parts[joint.screw.description, joint.through].append(joint)
    for (screw, through), joints in parts.items():
        past = min(wall_bite_mm(joint) for joint in joints)
        yield at_least(
            code="wall-screw-reach",
            where=f"{where}: {through}",
            what=f"{screw}: reach past the face of the wall",
            measured=past,
            warn_below=WALL_BITE_MM,
            fail_below=10.0,
            advice="use a longer screw; blocking and local codes decide, so ask the engineer",
        )


def wall_bite_mm(joint: FixedToWall) -> float:
    """Return how far the screw reaches past the wall's face."""
    run = abs(joint.head[joint.direction.axis] - joint.wall_mm)
    sunk = 0.0 if joint.cap is None else joint.cap.recess_depth_mm
    return joint.screw.length_mm + sunk - run
