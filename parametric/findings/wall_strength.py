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
NO_PULL_N = 1.0
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
    joints = [joint for each in by_board.values() for joint in each]
    pull_n, pulled = unit_tension_n(assembly, unit, by_board, loads)
    weakest = min(joints, key=lambda joint: pull_held_n(joint, loads) or 0.0)
    _, load = rigid_unit(assembly, unit).load_n(loads)
    taken = ("loads at the corners of the top, out from each wall, and down", f"load: {load}")
    yield borne(
        code="wall-pull",
        where=f"{where}: {unit}",
        what="pull of",
        under=(" on a wall screw", depth_in_words(weakest, loads)),
        measured=pull_n,
        allowed=pull_held_n(weakest, loads),
        missing=missing(weakest),
        unit=NEWTONS,
        source=f"{source_of_hold(weakest, 'equation 12.2-2')}; load: {load}",
        advice=_MORE if weakest.given is None else _STRONGER,
        basis=Basis(f"{_method(weakest)}; {_RIGID}", (*held_by(weakest, loads), *taken)),
        at=pulled.head,
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


def unit_tension_n(
    assembly: Assembly,
    unit: str,
    by_board: Mapping[str, Sequence[FixedToWall]],
    loads: Loads,
) -> tuple[float, FixedToWall]:
    """Return the highest tension in a wall screw of a unit, and which screw that is, under the
    worst of its loads, one at a time: out from each wall at each corner of its top, and down on a
    pad in each corner.

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
    worst_n, worst = 0.0, all_joints[0]
    for case in cases:
        found = tensions_n([case, body.weight], screws, pushes)
        if found is None:
            return inf, worst
        for tension_n, joint in zip(found, all_joints, strict=True):
            if tension_n > worst_n + SAME_N:  # the first of those that bear alike, in either hand
                worst_n, worst = tension_n, joint
    return worst_n, worst
