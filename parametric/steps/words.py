"""What a step says: title, people, tools, marks, checks, cautions. Common practice, no source."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping

from parametric.findings.passage import bearing_mm
from parametric.geometry.space import Axis, Box, Direction
from parametric.joints.assembly import Assembly
from parametric.joints.driving import bits_of
from parametric.joints.groups import (
    bonded_tops,
    butted_to,
    floating_groups,
    floating_tops,
    group_of_part,
    off_wall_mm,
)
from parametric.joints.into_wall import wall_checks, wall_tools
from parametric.joints.joints import Bonded, FixedToWall, Passing, Screwed, Seated
from parametric.joints.standing import lowest
from parametric.shapes.board import Board
from parametric.shapes.members import SteelAngle
from parametric.steps.carrying import (
    MOST_PEOPLE,
    is_screwed,
    is_turned_over,
    lifted_kg,
    people_for,
)
from parametric.steps.cautions import cautions_of, into_walls
from parametric.steps.step import Mark, Step
from parametric.steps.tasks import Kind, Task

TIE_UNIT = "tie"
"""What ties units and is none itself; its parts go by their own names."""

_TAPE_MM = 1.0
"""Nobody reads two diagonals more closely."""

_CORNERED_MM = 100.0
"""The least side of what has four corners to measure across; common practice, no source."""

FROM_THE_HEAD_WALL = Direction.Y_MINUS  # out into the room
_WALL_BESIDE = {Axis.X: "the side wall", Axis.Y: "the head wall"}

_TITLES = {
    Kind.PLATES: "Fix the wall plates of the {about}",
    Kind.CLEATS: "Fix the wall cleats of the {about}",
    Kind.GROUP: "Put the {about} together where it will stand",
    Kind.BOARD: "Lay the {about} in place",
    Kind.DECK: "Screw the legs under the {about}, turn it over, lay it on",
    Kind.LAID: "Lay the {about} dry in its place",
    Kind.DRY: "Lay the {about} dry against its neighbour, mark, lift it off",
    Kind.BOND: "Glue down the {about}",
    Kind.HUNG: "Hang the {about} on its plates",
    Kind.ANGLE: "Lay the {about} into its notches",
    Kind.FIX: "Fix the {about} to the wall",
    Kind.TIE: "Drive the screws of the {about} from below",
}


def step_of(
    assembly: Assembly,
    task: Task,
    number: int,
    show: Callable[[float], str],
    outwards: Mapping[str, Direction],
    closely: Callable[[float], str],
) -> Step:
    """Return a task as a step; lengths go through `show` or, where a fit is finer than a tape,
    through `closely`; `outwards` is the way out from the wall that each unit stands along,
    the head wall where it says nothing of any.
    """
    return Step(
        number=number,
        title=title_of(assembly, task),
        parts=task.parts,
        joints=task.joints,
        people=min(people_for(lifted_kg(assembly, task)), MOST_PEOPLE),
        tools=tuple(dict.fromkeys(_tools(assembly, task))),
        marks=tuple(dict.fromkeys(_marks(assembly, task, outwards))),
        checks=tuple(dict.fromkeys(_checks(assembly, task, show, closely))),
        cautions=tuple(dict.fromkeys(cautions_of(assembly, task))),
    )


def title_of(assembly: Assembly, task: Task) -> str:
    """Return what is done, in words; what is only glued comes in one piece."""
    about = plain_name(task.about)
    if task.kind is Kind.GROUP and is_turned_over(assembly, task):
        return f"Put the {about} together upside down, turn it over, set it in place"
    if task.kind is Kind.GROUP and not is_screwed(assembly, task):
        on_floor = any(box.low.z <= 0 for box in standing(assembly, task))
        return f"Set the {about} in {'its place, level and square' if on_floor else 'place'}"
    if task.kind is Kind.DRY and is_turned_over(assembly, task):
        return f"Screw the legs under the {about}, turn it over, lay it dry, mark, lift it off"
    if task.kind is Kind.FIX and not _carries(assembly, task):
        return f"Fix the {about} off the wall, through shims"
    if task.kind is Kind.ANGLE and slides_under(assembly, task):
        return f"Bring in the {about}: one end down under the deck, then level and home"
    glued = any(isinstance(assembly.joints[at], Bonded) for at in task.joints)
    kind = Kind.BOND if task.kind is Kind.BOARD and glued else task.kind
    return _TITLES[kind].format(about=about)


def slides_under(assembly: Assembly, task: Task) -> bool:
    """Return whether a deck that lies on an angle came with a box that the angle runs into."""
    groups = group_of_part(assembly)
    entered = {
        groups[joint.through]
        for joint in assembly.joints
        if isinstance(joint, Passing) and joint.member in task.parts
    }
    return any(
        isinstance(joint, Seated)
        and not set(task.parts).isdisjoint(joint.on)
        and groups[joint.top] in entered
        for joint in assembly.joints
    )


def plain_name(about: str) -> str:
    """Return unit and part in words, the part alone where it names no unit of the room."""
    unit, _, part = about.partition("/")
    if not part or unit.endswith(part):
        return unit
    return part if unit == TIE_UNIT else f"{unit} {part}"


def _tools(assembly: Assembly, task: Task) -> Iterator[str]:
    for at in task.joints:
        match assembly.joints[at]:
            case Screwed() as joint:
                yield from ("driver", *bits_of([joint]))
            case FixedToWall() as joint:
                yield from wall_tools(joint)
            case Bonded():
                yield from ("adhesive gun", "weights or clamps")
            case _:
                pass
    if task.kind is Kind.GROUP:
        yield from ("level", "square", "tape measure", "shims")
    if task.kind is Kind.FIX:
        yield "shims"
    if task.kind is Kind.ANGLE:
        yield from ("level", "hard packers", "work gloves")
    if task.kind is Kind.HUNG:
        yield "level"
    if task.kind is Kind.LAID:
        yield from ("level", "pencil")
    if task.kind is Kind.DRY:
        yield from ("level", "pencil", "shims")


def _marks(assembly: Assembly, task: Task, outwards: Mapping[str, Direction]) -> Iterator[Mark]:
    """Yield on the wall height and distance from the corner of each screw of what is put up there
    by itself, and where boxes stand. A box that stands at the wall covers it by the time that it
    is fixed: its own holes place its screws, and nothing is marked for them.

    Distances count from the corner that the unit's wall is set out from. What stands free is set
    out from both walls of the corner.
    """
    parts = [assembly.part(name) for name in (*task.parts, task.group)]
    out = outwards.get(parts[0].unit, FROM_THE_HEAD_WALL if not outwards else None)
    if task.kind is Kind.GROUP:
        yield from _box_marks(assembly, task, out)
    own_wall_mm = next(
        (
            joint.wall_mm
            for joint in assembly.joints
            if isinstance(joint, FixedToWall)
            and out is not None
            and joint.direction is out.opposite
            and assembly.part(joint.through).unit == parts[0].unit
        ),
        0.0,
    )
    heights: set[float] = set()
    for at_joint in task.joints:
        joint = assembly.joints[at_joint]
        if isinstance(joint, FixedToWall) and joint.through in task.parts:
            along = Axis.X if joint.direction.axis is Axis.Y else Axis.Y
            name = joint.through.split("/")[-1]
            if round(joint.head.z, 3) not in heights:
                heights.add(round(joint.head.z, 3))
                floor = joint.mouth.at(Axis.Z, 0.0)
                yield Mark(what=f"{name}: its screws above the floor", start=floor, end=joint.mouth)
            # On the wall beside its own a unit counts from the corner of the two.
            beside = out is not None and joint.direction.axis is not out.axis
            yield Mark(
                what=f"{name}: a screw from the corner",
                start=joint.mouth.at(along, own_wall_mm if beside else 0.0),
                end=joint.mouth,
                along_head_wall=joint.direction is FROM_THE_HEAD_WALL.opposite,
            )


def _box_marks(assembly: Assembly, task: Task, out: Direction | None) -> Iterator[Mark]:
    """Yield how far the near side of a box stands from the corner along its wall; of one that
    stands free its sides towards both walls.
    """
    boxes = standing(assembly, task)
    for wall in (FROM_THE_HEAD_WALL, None) if out is None else (out,):
        along = Axis.Y if wall is None or wall.axis is Axis.X else Axis.X
        near = min(boxes, key=lambda box: min(abs(box.low[along]), abs(box.high[along])))
        edge = min(near.low[along], near.high[along], key=abs)
        if abs(edge) > 0:
            at = near.low.at(Axis.Y, near.high.y).at(along, edge)
            if wall is not None:
                at = at.at(wall.axis, near.side(wall.opposite))
            where = "the corner" if out is not None else _WALL_BESIDE[along]
            floats = task.group in floating_groups(assembly)
            decides = ", roughly, its deck decides" if floats else ""
            yield Mark(
                what=f"{task.about}: its near side from {where}{decides}",
                start=at.at(along, 0.0),
                end=at,
                along_head_wall=wall is FROM_THE_HEAD_WALL and out is not None,
            )


def _checks(
    assembly: Assembly, task: Task, show: Callable[[float], str], closely: Callable[[float], str]
) -> Iterator[str]:
    yield from wall_checks(into_walls(assembly, task), show)
    match task.kind:
        case Kind.GROUP:
            yield from _standing_checks(assembly, task, show)
            yield from _butts(assembly, task)
        case Kind.DRY:
            yield "Butted to its neighbour, flush with it, level, the overhang even"
            yield "Box shimmed and moved to suit the deck, then its place marked on the floor"
            yield "Deck edges marked on the box before the deck is lifted off"
        case Kind.LAID:
            yield "No adhesive yet; level and flush with its box, the overhang even"
            yield "Its edges marked on its box: it is lifted again for the adhesive, and comes back"
        case Kind.BOARD | Kind.DECK | Kind.BOND:
            if any(isinstance(assembly.joints[at], Bonded) for at in task.joints):
                yield "Adhesive squeezed out along every edge: it covers the whole joint"
            if task.kind is Kind.BOND:
                yield "Back on its marks"
            yield "Flush and level with its neighbours, the overhang even"
        case Kind.HUNG:
            yield "Seated on all its plates, its lower edge level"
        case Kind.ANGLE:
            passing = (assembly.joints[at] for at in task.joints)
            packed = {joint.packing_mm for joint in passing if isinstance(joint, Passing)}
            up = f"packed up in each notch, nominally {closely(max(packed))}" if any(packed) else ""
            yield f"Its top flush with the tops of both boxes{', ' if up else ''}{up}"
            reach = (
                bearing_mm(panel, angle) - panel.size(angle.along)
                for angle, panel in _passed(assembly, task)
            )
            yield f"At least {show(min(reach))} past the inner face of each panel it runs through"
        case Kind.FIX:
            yield from _fix_checks(assembly, task, show)
        case Kind.PLATES:
            yield "All plates at one height, checked with a level"
        case Kind.CLEATS:
            yield "Top edges at one height and level: what lies on them follows them"
        case Kind.TIE:
            yield f"No gap between the {_tying(assembly, task)} and what lies on it"


def _standing_checks(assembly: Assembly, task: Task, show: Callable[[float], str]) -> Iterator[str]:
    """Yield what is looked at where a box stands; a single board has no four corners."""
    boxes = standing(assembly, task)
    length, width = (
        max(box.high[axis] for box in boxes) - min(box.low[axis] for box in boxes)
        for axis in (Axis.X, Axis.Y)
    )
    if min(length, width) < _CORNERED_MM:
        yield "Upright both ways, shimmed where the floor is low"
        return
    yield "Level both ways, shimmed at the corners where the floor is low"
    diagonal = show(math.hypot(length, width))
    within = show(max(out_of_square_mm(max(length, width)), _TAPE_MM))
    yield f"Square: the two diagonals, {diagonal}, equal to within {within}"


def _butts(assembly: Assembly, task: Task) -> Iterator[str]:
    """Yield what that comes in stands against a deck that is glued down later: laid dry for now."""
    on_site = bonded_tops(assembly)
    for name in task.parts:
        if isinstance(assembly.part(name), Board):
            for other in butted_to(assembly, assembly.board(name)):
                if other.name in on_site and other.name not in floating_tops(assembly):
                    yield f"Butted to the {plain_name(other.name)}, laid dry on its box for this"


def _fix_checks(assembly: Assembly, task: Task, show: Callable[[float], str]) -> Iterator[str]:
    if task.group in floating_groups(assembly):
        yield "On the floor marks that were made with its deck laid dry"
    for shim_mm in sorted(_shims_mm(assembly, task)):
        yield f"Shims of {show(shim_mm)} behind every screw: nothing is pulled up to the wall"
    for kind in dict.fromkeys(joint.wall.kind for joint in into_walls(assembly, task)):
        if kind.wants_blocking:
            behind = "Wood" if kind.is_wood else "Backing"
            yield f"{behind} behind every screw, where the blocking plan shows it"
        elif kind.is_wood:
            yield "Every screw in solid wood, none in a gap between planks"
    yield "Still level and square after the last screw"


def _carries(assembly: Assembly, task: Task) -> bool:
    """Return whether the screws of the task carry what they fix."""
    joints = (assembly.joints[at] for at in task.joints)
    return any(isinstance(joint, FixedToWall) and joint.carries for joint in joints)


def _shims_mm(assembly: Assembly, task: Task) -> set[float]:
    """Return how far what the task fixes stands off the wall, by the sizes of the set."""
    joints = (assembly.joints[at] for at in task.joints)
    gaps = (off_wall_mm(assembly, joint) for joint in joints if isinstance(joint, FixedToWall))
    return {gap for gap in gaps if gap}


def _tying(assembly: Assembly, task: Task) -> str:
    return "angle" if isinstance(assembly.part(task.group), SteelAngle) else "cleat"


def out_of_square_mm(longest_edge_mm: float) -> float:
    """Return by how much the two diagonals of a box may differ: 1/64 in for each foot of its
    longest edge, as PS 1-19 allows the sheets that it is cut from.
    """
    return longest_edge_mm / (12 * 64)


def standing(assembly: Assembly, task: Task) -> list[Box]:
    """Return the boxes of the task's boards that stand lowest: what a box stands on, not its
    deck, which overhangs it and may have round corners.
    """
    return lowest(board.box for board in assembly.boards if board.name in task.parts)


def _passed(assembly: Assembly, task: Task) -> Iterator[tuple[SteelAngle, Box]]:
    """Yield each steel angle of the task with each panel that it runs through."""
    for at in task.joints:
        joint = assembly.joints[at]
        if isinstance(joint, Passing):
            yield assembly.angle(joint.member), assembly.board(joint.through).box
