"""Whether each kind of screw bites deep enough and comes out nowhere."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from parametric.findings.finding import Finding, Sense, Severity
from parametric.findings.measure import at_least
from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall, Screwed
from parametric.joints.machining import penetration_mm
from parametric.shapes.board import Board
from parametric.shapes.members import Leg, Member, SteelAngle, WallPlate
from parametric.stock.hardware import Head, Screw
from parametric.stock.sources import COMMON_PRACTICE

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
        if joints[0].screw.head is Head.FLAT:
            cone_mm = joints[0].screw.countersink_depth_mm
            yield at_least(
                code="screw-head",
                where=place,
                what=f"{screw}: material under the countersunk head",
                measured=min(through_mm(first, joint) for joint in joints) - cone_mm,
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


def head_findings(where: str, assembly: Assembly) -> Iterator[Finding]:
    """Yield for each article through steel whether its heads bear: flat ones want a cone, washer
    heads a face that nothing lies on.
    """
    through: dict[tuple[str, str], list[Screwed | FixedToWall]] = defaultdict(list)
    for joint in assembly.joints:
        if isinstance(joint, Screwed | FixedToWall):
            match assembly.part(joint.through):
                case SteelAngle(section=steel) | Leg(hardware=steel) | WallPlate(hardware=steel):
                    through[joint.screw.description, steel.description].append(joint)
                case _:
                    pass
    for (screw, called), joints in through.items():
        part = assembly.part(joints[0].through)
        wrong = _badly_seated(joints[0].screw, part)
        many = "one screw" if len(joints) == 1 else f"{len(joints)} screws"
        yield Finding(
            code="head-seat",
            severity=Severity.WARN if wrong else Severity.OK,
            where=f"{where}: {called}",
            message=f"{screw}: {many}, {wrong or 'heads match their holes'}",
            measured=float(len(joints)) if wrong else 0.0,
            sense=Sense.AT_MOST,
            limit=0.0,
            unit="screws",
            source=COMMON_PRACTICE,
            advice="use a screw with the other head, or have the holes countersunk"
            if wrong
            else "",
        )


def _badly_seated(screw: Screw, part: Board | Member) -> str:
    sunk = isinstance(part, Leg | WallPlate) and part.hardware.countersunk
    if screw.head is Head.FLAT and not sunk:
        return "flat heads in plain holes"
    if screw.head is Head.WASHER and isinstance(part, WallPlate):
        return "washer heads where the panel lies on the plate"
    return ""


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
