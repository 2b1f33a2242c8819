"""Whether a set can be put up: an order of work, a way in for each part, and hands to lift it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from parametric.findings.driver_access import access_finding, free_way_mm
from parametric.findings.finding import Finding, Sense, Severity
from parametric.findings.lifting import ONE_PERSON_KG, PEOPLE
from parametric.findings.measure import at_least, at_most
from parametric.geometry.space import SAME_MM, Axis, Box, Direction, Point
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Passing, Screwed, parts_of
from parametric.joints.machining import Machining
from parametric.joints.standing import to_tipping_mm
from parametric.shapes.members import SteelAngle
from parametric.steps.carrying import MOST_PEOPLE, is_screwed, is_turned_over, lifted_kg
from parametric.steps.order import ALONG_HEAD_WALL, NoOrder, ordered
from parametric.steps.part_boxes import boxes_of
from parametric.steps.straight_way import FAR_MM, FROM_THE_ROOM, least_in_the_way
from parametric.steps.tasks import Kind, Task
from parametric.steps.tilted_way import Obstacle, TiltedWay, tilted_way
from parametric.stock.amounts import KILOGRAMS
from parametric.strength.lifting import LOAD_CONSTANT_KG, NIOSH

ENTRY_MM = (
    5.0  # spare length to bring an angle in with both hands on it: common practice, no source
)
BALANCE_MM = 10.0  # a unit that leans on less tips at a touch: common practice, no source
_LIFTED = frozenset({Kind.GROUP, Kind.DECK, Kind.DRY, Kind.BOND})
_HELD = frozenset({Kind.FIX, Kind.TIE})
Boxes = Mapping[str, tuple[Box, ...]]


def step_findings(
    where: str,
    assembly: Assembly,
    worked: Machining,
    outwards: Mapping[str, Direction] = ALONG_HEAD_WALL,
) -> Iterator[Finding]:
    """Yield the order of work and, where there is one, each step's way in and what it lifts;
    `outwards` is the way out from the wall that each unit stands along.
    """
    try:
        tasks = ordered(assembly)
    except NoOrder as error:
        yield _order_finding(where, len(set(error.tasks)), f"no order of work is possible: {error}")
        return
    told = f"{len(tasks)} tasks can be done in order, none waits for a later one"
    yield _order_finding(where, 0, told)
    parts = (*assembly.boards, *assembly.members)
    boxes = {part.name: boxes_of(part, worked) for part in parts}
    there: dict[str, tuple[Box, ...]] = {}
    laid: set[str] = set()
    for task in tasks:
        place = f"{where}: {task.about}"
        if task.kind is Kind.ANGLE:
            yield from _entry_findings(place, assembly, task, there)
        elif task.parts:
            units = dict.fromkeys(assembly.part(name).unit for name in task.parts)
            from_room = [outwards.get(unit, FROM_THE_ROOM) for unit in units]
            yield _path_finding(place, task, boxes, there, from_room)
        yield from _driver_finding(place, assembly, task, {**there, **_of(task, boxes)})
        laid |= set(task.parts) if task.kind is Kind.LAID else set()
        # What was laid dry is a board alone, whose own finding tells its mass.
        if task.kind in _LIFTED and not (task.again and laid.issuperset(task.again)):
            yield _lift_finding(place, assembly, task)
        if task.kind is Kind.GROUP:
            yield _balance_finding(place, assembly, task, tasks)
        there |= _of(task, boxes)


def ways_in(
    assembly: Assembly, angle: SteelAngle, there: Boxes
) -> Iterator[tuple[Point, Direction, TiltedWay]]:
    """Yield for each panel that the angle passes: the outer edge of its notch, the way to the other
    panel, and the best way in over that edge.

    `there` is what stands already; the room's side wall and floor are added.
    """
    panels = [
        assembly.board(joint.through)
        for joint in assembly.joints
        if isinstance(joint, Passing) and joint.member == angle.name
    ]
    axis = angle.along
    wall = Box.spanning((0.0, 0.0), (angle.box.low.y, angle.box.high.y), (0.0, FAR_MM))
    beyond = Direction.X_MINUS if angle.box.low.x > 0 else Direction.X_PLUS
    boxes = [box for each in there.values() for box in each]
    boxes += [wall.grown(beyond, FAR_MM)] if axis is Axis.X else []
    met = [box for box in boxes if _shares(box, angle.box, angle.upright.axis)]
    for panel in panels:
        for other in panels:
            if other is panel:
                continue
            sign = 1 if other.box.centre[axis] > panel.box.centre[axis] else -1
            towards = Direction((axis, sign))
            edge = angle.box.low.at(axis, panel.box.side(towards))
            obstacles = [_seen(box, edge, towards) for box in met]
            obstacles.append(Obstacle((-FAR_MM, -FAR_MM - edge.z), (FAR_MM, -edge.z)))
            length, height = angle.box.size(axis), angle.box.size(Axis.Z)
            yield edge, towards, tilted_way(obstacles, length, height)


def _shares(box: Box, other: Box, axis: Axis) -> bool:
    return min(box.high[axis], other.high[axis]) - max(box.low[axis], other.low[axis]) > SAME_MM


def _seen(box: Box, edge: Point, towards: Direction) -> Obstacle:
    ends = [(end[towards.axis] - edge[towards.axis]) * towards.sign for end in (box.low, box.high)]
    return Obstacle((min(ends), box.low.z - edge.z), (max(ends), box.high.z - edge.z))


def _entry_findings(place: str, assembly: Assembly, task: Task, there: Boxes) -> Iterator[Finding]:
    for name in task.parts:
        ways = [way for *_, way in ways_in(assembly, assembly.angle(name), there)]
        if not ways:
            continue
        best = max(ways, key=lambda way: way.spare_mm)
        tilt = f"{best.tilt_deg:.0f}"
        held = "level" if tilt == "0" else f"tilted by {tilt} degrees"
        yield at_least(
            code="angle-entry",
            where=place,
            what=f"length to spare when it is lowered in {held}:",
            measured=max(best.spare_mm, -assembly.angle(name).box.size(assembly.angle(name).along)),
            warn_below=ENTRY_MM,
            fail_below=0.0,
            advice="reduce bearing of the angle, or the overhang of the deck that it goes under",
        )


def _path_finding(
    place: str, task: Task, boxes: Boxes, there: Boxes, from_room: Collection[Direction]
) -> Finding:
    coming = [box for name in task.parts for box in boxes[name]]
    met = least_in_the_way(coming, there, from_room)
    told = f"{', '.join(met)} in the way" if met else "nothing in the way"
    return Finding(
        code="step-path",
        severity=Severity.FAIL if met else Severity.OK,
        where=place,
        message=f"{told}, straight in from above or from the room",
        measured=float(len(met)),
        sense=Sense.AT_MOST,
        limit=0.0,
        unit="parts",
        source="parts moved in a straight line, as boxes less their notches and grooves",
        advice="make room for it, or fit later what is in the way" if met else "",
    )


def _of(task: Task, boxes: Boxes) -> dict[str, tuple[Box, ...]]:
    return {name: boxes[name] for name in task.parts}


def _driver_finding(
    place: str, assembly: Assembly, task: Task, present: Boxes
) -> Iterator[Finding]:
    """Yield the way for a driver to the screws of a task that join parts, over the floor unless the
    box lies upside down.
    """
    ways = []
    for joint in (assembly.joints[at] for at in task.joints):
        if isinstance(joint, Screwed):
            others = (
                box
                for name, boxes in present.items()
                if name not in (joint.through, joint.into)
                for box in boxes
            )
            way_mm = free_way_mm(joint, others)
            below = joint.direction is Direction.Z_PLUS and not is_turned_over(assembly, task)
            ways.append(min(way_mm, joint.head.z) if below else way_mm)
    if ways:
        yield access_finding(place, "a screw", min(ways))


def _lift_finding(place: str, assembly: Assembly, task: Task) -> Finding:
    how = "lift at once" if is_screwed(assembly, task) else "carry whole"
    return at_most(
        code="unit-lift",
        where=place,
        what=f"weight for {PEOPLE} people to {how}",
        measured=lifted_kg(assembly, task),
        warn_above=PEOPLE * ONE_PERSON_KG,
        fail_above=MOST_PEOPLE * LOAD_CONSTANT_KG,
        unit=KILOGRAMS,
        source=f"{NIOSH}; half of a box that is turned over or levelled: common practice",
        advice="plan more people or a lifting aid for this step, as its sheet says; local lifting "
        "rules govern",
    )


def _balance_finding(
    place: str, assembly: Assembly, task: Task, tasks: tuple[Task, ...]
) -> Finding:
    """Return whether the unit stands; one that is held later may have to be held until then."""
    # A steel angle comes long after a box has to stand.
    angles = {angle.name for angle in assembly.angles}
    later = any(
        each.kind in _HELD
        and each.group not in angles
        and not set(task.parts).isdisjoint(parts_of(assembly.joints[at]))
        for each in tasks
        for at in each.joints
    )
    return at_least(
        code="unit-balance",
        where=place,
        what="centre of mass inside the edge of what it stands on by",
        measured=to_tipping_mm(assembly, task.parts),
        warn_below=BALANCE_MM,
        fail_below=float("-inf") if later else 0.0,
        advice="hold it until its screws are in, as its sheet says"
        if later
        else "make its base wider",
    )


def _order_finding(where: str, circle: int, told: str) -> Finding:
    return Finding(
        code="step-order",
        severity=Severity.FAIL if circle else Severity.OK,
        where=where,
        message=told,
        measured=float(circle),
        sense=Sense.AT_MOST,
        limit=0.0,
        unit="tasks",
        source="what carries a part, or is passed through or hung on, comes first",
        advice="change what rests on what" if circle else "",
    )
