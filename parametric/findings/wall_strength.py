"""Whether what is fixed to the wall holds: units that are pulled away from it or levered off."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import inf

from parametric.findings.borne_by_board import pull_borne
from parametric.findings.finding import Basis, Finding
from parametric.findings.measure import borne
from parametric.findings.rigid_unit import against, rigid_unit
from parametric.findings.wall_hold import (
    TO_AN_ENGINEER,
    depth_in_words,
    held_by,
    missing,
    pull_held_n,
    source_of_hold,
)
from parametric.geometry.space import Direction, Point
from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall, Hung
from parametric.shapes.board import Board
from parametric.shapes.members import Cleat
from parametric.stock.amounts import NEWTONS
from parametric.strength.anchorage import Contact, tensions_n
from parametric.strength.board_screws import PULL_THROUGH, pull_through_n
from parametric.strength.loads import Loads

SAME_N = 1e-6
ALIKE = 1e-9  # of a share: the noise of floats
NO_PULL_N = 1.0
_Pulled = tuple[FixedToWall, float]  # a screw and its tension, newtons
_STRONGER = f"use more screws, further apart, or a stronger fixing: {TO_AN_ENGINEER}"
_MORE = "use more screws, further apart, longer or thicker ones, or denser blocking"
_RIGID = (
    "a rigid unit, its screws identical, elastic and pulled along their axes; walls and what it"
    " stands on only push, a steel angle carries along its upright leg only, no friction"
)


def wall_strength_findings(where: str, assembly: Assembly, loads: Loads) -> Iterator[Finding]:
    """Yield for each unit with boards or cleats fixed to the wall the pull on its screws and on
    their heads.

    Panels that hang on plates have findings of their own.
    """
    hung = {joint.panel for joint in assembly.joints if isinstance(joint, Hung)}
    fixed: dict[str, dict[str, Sequence[FixedToWall]]] = {}
    for name, joints in assembly.held_by_walls().items():
        part = assembly.part(name)
        if isinstance(part, Board | Cleat) and name not in hung:
            fixed.setdefault(part.unit, {})[name] = joints
    for unit, by_board in fixed.items():
        yield from _pulled(where, assembly, unit, by_board, loads)


def _pulled(
    where: str,
    assembly: Assembly,
    unit: str,
    by_board: Mapping[str, Sequence[FixedToWall]],
    loads: Loads,
) -> Iterator[Finding]:
    tensions = unit_tensions_n(assembly, unit, by_board, loads)
    pulled, pull_n = _hardest(tensions)
    _, load = rigid_unit(assembly, unit).load_n(loads)
    taken = ("loads at the corners of the top, out from each wall, and down", f"load: {load}")
    for (worst, most_n), weakest in _hardest_used(tensions, loads):
        yield borne(
            code="wall-pull",
            where=f"{where}: {unit}",
            what="pull of",
            under=(" on a wall screw", depth_in_words(weakest, loads)),
            measured=most_n,
            allowed=pull_held_n(weakest, loads),
            missing=missing(weakest),
            unit=NEWTONS,
            source=f"{source_of_hold(weakest, 'equation 12.2-2')}; load: {load}",
            advice=_MORE if weakest.given is None else _STRONGER,
            basis=Basis(f"{_method(weakest)}; {_RIGID}", (*held_by(weakest, loads), *taken)),
            at=worst.head,
        )
    for name, heads in by_board.items():
        part = assembly.part(name)
        at = pulled.head if pulled in heads else heads[0].head
        if not isinstance(part, Board):
            if pull_n > NO_PULL_N:
                yield _head_in_cleat(f"{where}: {name}", pull_n, at)
            continue
        material = part.material
        tested = None if material.strength is None else material.strength.head
        # The head that holds least: the thinnest board under it, under a cap's recess.
        least_n = min(
            (
                pull_through_n(tested, joint.screw.head_diameter_mm, under_head_mm(assembly, joint))
                for joint in heads
                if tested is not None
            ),
            default=None,
        )
        yield pull_borne(
            code="wall-head",
            where=f"{where}: {name}",
            what="pull of",
            under=" on the head of a wall screw",
            pull_n=pull_n,
            material=material,
            tested_n=least_n,
            missing=f"no formula covers it, and the library has no head_pull of {material.key}",
            loads=loads,
            load=load,
            advice="use larger heads or washers under them, or more screws",
            method=f"the head pulled through, {PULL_THROUGH}; {_RIGID}",
            taken=taken,
            at=at,
        )


def _hardest_used(
    tensions: Sequence[_Pulled], loads: Loads
) -> Iterator[tuple[_Pulled, FixedToWall]]:
    """Yield the screw that is pulled hardest, and the one that holds least, in the wall whose
    screws use most of what they hold; and of a wall in which nobody knows what holds as well.
    """
    on: dict[Direction, list[_Pulled]] = {}
    for each in tensions:
        on.setdefault(each[0].direction, []).append(each)
    known: list[tuple[float, _Pulled, FixedToWall]] = []
    unknown: list[tuple[float, _Pulled, FixedToWall]] = []
    for pulled in on.values():
        weakest = min((joint for joint, _ in pulled), key=lambda at: pull_held_n(at, loads) or 0.0)
        hardest, held_n = _hardest(pulled), pull_held_n(weakest, loads)
        if held_n is None:
            unknown.append((hardest[1], hardest, weakest))
        else:
            share = hardest[1] / held_n if held_n > 0 else inf
            known.append((share, hardest, weakest))
    for walls in (known, unknown):
        if walls:
            most = max(used for used, _, _ in walls)
            yield next((at, held) for used, at, held in walls if used >= most * (1 - ALIKE))


def _hardest(tensions: Sequence[_Pulled]) -> _Pulled:
    """Return the first of the screws that are pulled hardest, so that it is the same in both
    hands.
    """
    most = max(tension_n for _, tension_n in tensions)
    return next(each for each in tensions if each[1] >= most - SAME_N)


def _method(joint: FixedToWall) -> str:
    return "withdrawal from side grain" if joint.given is None else "as allowed for the fixing"


def _head_in_cleat(where: str, pull_n: float, at: Point) -> Finding:
    """Return that nobody knows what a head in a cleat bears."""
    return borne(
        code="wall-head",
        where=where,
        what="pull of",
        under=" on the head of a wall screw",
        measured=pull_n,
        allowed=None,
        missing="no rule covers heads pulled through a cleat",
        unit=NEWTONS,
        source="",
        advice="use larger heads or washers under them, or more screws",
        basis=Basis("none", (_RIGID,)),
        at=at,
    )


def under_head_mm(assembly: Assembly, joint: FixedToWall) -> float:
    """Return how much board a wall screw's head stands on: less under a cap."""
    sunk = 0.0 if joint.cap is None else joint.cap.recess_depth_mm
    part = assembly.part(joint.through)
    return part.box.size(joint.direction.axis) - sunk


def unit_tensions_n(
    assembly: Assembly,
    unit: str,
    by_board: Mapping[str, Sequence[FixedToWall]],
    loads: Loads,
) -> tuple[_Pulled, ...]:
    """Return the highest tension in each wall screw of a unit, under the worst of its loads, one at
    a time: out from each wall at each corner of its top, and down on a pad in each corner. It is
    infinite where nothing keeps the unit in place.

    What is sat on is pulled by the seat load, what is not by somebody who holds on to it.
    """
    body = rigid_unit(assembly, unit)
    all_joints = [joint for joints in by_board.values() for joint in joints]
    screws = [Contact(joint.mouth, joint.direction) for joint in all_joints]
    walls = {name: joints[0].direction for name, joints in by_board.items()}
    pushes = [*body.stands]
    for name, wall in walls.items():
        part = assembly.part(name)
        pushes += against(part.box, wall)
        if isinstance(part, Cleat):  # what lies on it stands on its screws
            pushes += [Contact(joint.mouth, Direction.Z_PLUS) for joint in by_board[name]]
    load_n, _ = body.load_n(loads)
    cases = body.sat_on(load_n)
    for wall in dict.fromkeys(walls.values()):
        out_n = load_n if body.is_seat else loads.panel_n
        cases += body.pulled(out_n, wall.opposite)
    worst = [0.0] * len(all_joints)
    for case in cases:
        found = tensions_n([case, body.weight], screws, pushes)
        if found is None:
            return tuple((joint, inf) for joint in all_joints)
        worst = [max(each) for each in zip(worst, found, strict=True)]
    return tuple(zip(all_joints, worst, strict=True))
