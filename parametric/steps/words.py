"""What a step says: title, people, tools, marks, checks, cautions. Common practice, no source."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from parametric.assembly import Assembly
from parametric.board import Board
from parametric.findings.lifting import ONE_PERSON_KG, mass_kg
from parametric.hardware import STEEL_DENSITY_KG_M3
from parametric.joints import Bonded, FixedToWall, Screwed
from parametric.members import Cleat, Leg, Member, SteelAngle
from parametric.space import Axis, Point
from parametric.steps.step import Mark, Step
from parametric.steps.tasks import Kind, Task

TIE_UNIT = "tie"
"""What ties units and is none itself; its parts go by their own names."""

_TITLES = {
    Kind.PLATES: "Fix the wall plates of the {about}",
    Kind.GROUP: "Put the {about} together and set it in place",
    Kind.BOARD: "Lay on the {about}",
    Kind.HUNG: "Hang the {about} on its plates",
    Kind.ANGLE: "Lay the {about} into its notch and slide it into the other",
    Kind.FIX: "Fix the {about} to the wall",
    Kind.TIE: "Drive the screws of the {about} from below",
}


def step_of(assembly: Assembly, task: Task, number: int, show: Callable[[float], str]) -> Step:
    """Return a task as a step."""
    people = 2 if carried_kg(assembly, task) > ONE_PERSON_KG else 1
    return Step(
        number=number,
        title=title_of(assembly, task),
        parts=task.parts,
        joints=task.joints,
        people=people,
        tools=tuple(dict.fromkeys(_tools(assembly, task))),
        marks=tuple(dict.fromkeys(_marks(assembly, task))),
        checks=tuple(dict.fromkeys(_checks(assembly, task, show))),
        cautions=tuple(dict.fromkeys(_cautions(assembly, task, people))),
    )


def title_of(assembly: Assembly, task: Task) -> str:
    """Return what is done, in words; what is only glued comes in one piece."""
    screwed = any(isinstance(assembly.joints[at], Screwed) for at in task.joints)
    if task.kind is Kind.GROUP and not screwed:
        return f"Set the {plain_name(task.about)} in place"
    return _TITLES[task.kind].format(about=plain_name(task.about))


def plain_name(about: str) -> str:
    """Return unit and part in words, the part alone where it names no unit of the room."""
    unit, _, part = about.partition("/")
    if not part or unit.endswith(part):
        return unit
    return part if unit == TIE_UNIT else f"{unit} {part}"


def carried_kg(assembly: Assembly, task: Task) -> float:
    """Return the mass of what comes in; a box is set down whole."""
    return math.fsum(_kg(assembly.part(name)) for name in task.parts)


def _kg(part: Board | Member) -> float:
    match part:
        case Board():
            return mass_kg(part)
        case Cleat():
            return math.prod(part.box.size(axis) for axis in Axis) * 1e-9 * part.bar.density_kg_m3
        case SteelAngle():
            return part.box.size(part.along) / 1000 * part.section.mass_kg_m
        case Leg():
            # A tube of 2 mm and its plate: near enough to tell one person's load from two's.
            tube = math.pi * part.hardware.tube_diameter_mm * 2.0 * part.hardware.height_mm
            plate = part.hardware.plate_mm**2 * part.hardware.plate_thickness_mm
            return (tube + plate) * 1e-9 * STEEL_DENSITY_KG_M3
        case _:
            hardware = part.hardware
            folded = hardware.height_mm + hardware.lip_mm
            return hardware.length_mm * folded * hardware.thickness_mm * 1e-9 * STEEL_DENSITY_KG_M3


def _tools(assembly: Assembly, task: Task) -> Iterator[str]:
    for at in task.joints:
        match assembly.joints[at]:
            case Screwed():
                yield "driver"
            case FixedToWall():
                yield from ("driver", "drill", "level", "tape measure", "stud and pipe detector")
            case Bonded():
                yield from ("adhesive gun", "weights or clamps")
            case _:
                pass
    if task.kind is Kind.GROUP:
        yield from ("level", "square", "tape measure", "shims")


def _marks(assembly: Assembly, task: Task) -> Iterator[Mark]:
    """Yield height and distance from the corner of each wall screw, and where boxes stand."""
    if task.kind is Kind.GROUP:
        boxes = [assembly.part(name).box for name in task.parts]
        near = min(boxes, key=lambda box: min(abs(box.low.x), abs(box.high.x)))
        edge = min(near.low.x, near.high.x, key=abs)
        if abs(edge) > 0:
            at = Point(edge, near.high.y, near.low.z)
            what = f"{task.about}: its near side from the corner"
            yield Mark(what=what, start=at.at(Axis.X, 0.0), end=at)
    heights: set[float] = set()
    for at_joint in task.joints:
        joint = assembly.joints[at_joint]
        if isinstance(joint, FixedToWall):
            along = Axis.X if joint.direction.axis is Axis.Y else Axis.Y
            name = joint.through.split("/")[-1]
            if round(joint.head.z, 3) not in heights:
                heights.add(round(joint.head.z, 3))
                floor = joint.head.at(Axis.Z, 0.0)
                yield Mark(what=f"{name}: above the floor", start=floor, end=joint.head)
            yield Mark(
                what=f"{name}: from the corner",
                start=joint.head.at(along, 0.0),
                end=joint.head,
            )


def _checks(assembly: Assembly, task: Task, show: Callable[[float], str]) -> Iterator[str]:
    match task.kind:
        case Kind.GROUP:
            yield "Level both ways, shimmed at the corners where the floor is low"
            boards = [p for p in map(assembly.part, task.parts) if isinstance(p, Board)]
            length, width = (
                max(b.box.high[axis] for b in boards) - min(b.box.low[axis] for b in boards)
                for axis in (Axis.X, Axis.Y)
            )
            yield f"Square: both diagonals of {show(math.hypot(length, width))} alike"
        case Kind.BOARD:
            yield "Flush and level with its neighbours, the overhang even"
        case Kind.HUNG:
            yield "Seated on all its plates, its lower edge level"
        case Kind.ANGLE:
            yield "Its top flush with the tops of both boxes"
        case Kind.FIX:
            yield "Still level and square after the last screw"
        case Kind.PLATES:
            yield "All plates at one height, checked with a level"
        case Kind.TIE:
            yield "No gap between the angle and what lies on it"


def _cautions(assembly: Assembly, task: Task, people: int) -> Iterator[str]:
    joints = [assembly.joints[at] for at in task.joints]
    if people > 1:
        yield "Lift with two people or a lifting aid"
    if any(isinstance(joint, FixedToWall) for joint in joints):
        yield "Find pipes and cables before drilling. Wear eye protection; keep dust away"
    elif any(isinstance(joint, Screwed) for joint in joints):
        yield "Wear eye protection"
    if any(isinstance(joint, Bonded) for joint in joints):
        yield "Gloves and fresh air for the adhesive; no load until it has set, as its maker says"
    if task.kind in {Kind.GROUP, Kind.BOARD, Kind.HUNG, Kind.ANGLE}:
        yield "Nothing is secured until it is fixed: nobody leans, sits or climbs on it"
