"""What is done in a step, in sentences: which way up and in, pilot holes, adhesive, shims. The way
in is that which the step's picture shows. Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence

from parametric.geometry.space import Direction
from parametric.joints.assembly import Assembly
from parametric.joints.into_wall import hole_in_words
from parametric.joints.joints import Bonded, FixedToWall, Hung, Joint, Passing, Screwed
from parametric.kit.count import bead_mm
from parametric.pictures.apart import Coming, main_way
from parametric.pictures.bodies import AS_IT_STANDS
from parametric.pictures.scene import Scene
from parametric.shapes.board import Board
from parametric.shapes.members import Member, SteelAngle, WallPlate
from parametric.steps.step import Step
from parametric.steps.words import plain_name
from parametric.stock.hardware import Head
from parametric.stock.lengths import Units, show_length, show_on_tape
from parametric.stock.materials import GoodFaces

Show = Callable[[float], str]
_BEAD_STEP_MM = {Units.MM: 10.0, Units.INCH: 12.7}
_HOURS_FROM_MIN = 120.0


def work_of(
    assembly: Assembly,
    step: Step,
    scene: Scene,
    letters: Mapping[str, str],
    adhesive_ml_mm: float,
    units: Units,
    set_minutes: float | None = None,
) -> tuple[str, ...]:
    """Return the sentences of a step; `adhesive_ml_mm` is what a millimetre of bead takes, and
    `set_minutes` how long it takes to set, None where nobody has said.
    """

    def show(length_mm: float) -> str:
        return show_length(length_mm, units)

    def tape(length_mm: float) -> str:
        return show_on_tape(length_mm, units)

    joints = [assembly.joints[at] for at in step.joints]
    return tuple(
        dict.fromkeys(
            (
                *(line for each in scene.coming for line in _coming(assembly, each, scene)),
                *_screws([each for each in joints if isinstance(each, Screwed)], letters, show),
                *_wall_screws(assembly, joints, letters, show, tape),
                *_hung(joints, tape),
                *_beads(assembly, joints, adhesive_ml_mm, units),
                *_setting(joints, set_minutes),
            )
        )
    )


def _coming(assembly: Assembly, coming: Coming, scene: Scene) -> Iterator[str]:
    """Yield which way up a part is held, which end goes first and from where it comes."""
    parts = [assembly.part(name) for name in coming.names]
    boards = [part for part in parts if isinstance(part, Board)]
    for part in parts:
        if isinstance(part, SteelAngle):
            yield f"Flat leg up, upright leg towards {_side(part.upright)}"
        if isinstance(part, WallPlate):
            yield "Lip up, pointing away from the wall"
    if not scene.in_room or coming.pose == AS_IT_STANDS:
        return
    if len(boards) == 1 and boards[0].material.good_faces is not GoodFaces.NONE:
        yield f"Good face {_looking(boards[0].facing)}"
    if coming.first is not None:
        end = _end_at(assembly, parts[0], coming.first)
        yield (
            f"{end} first and down, tilted by up to {coming.tilt_deg:.0f} degrees, as drawn; then"
            " level it and let it down home"
        )
    elif assembly.on_walls().isdisjoint(coming.names):
        down = main_way(coming.pose) is Direction.Z_MINUS
        yield "Let it down from above" if down else "Push it home level, from the room"


def _end_at(assembly: Assembly, part: Board | Member, towards: Direction) -> str:
    """Return the end of an angle by the unit whose panel it enters there."""
    if not isinstance(part, SteelAngle):
        return "The far end"
    panels = [
        assembly.board(joint.through)
        for joint in assembly.joints
        if isinstance(joint, Passing) and joint.member == part.name
    ]
    last = max(panels, key=lambda panel: panel.box.centre[towards.axis] * towards.sign)
    return f"The end at the {plain_name(last.unit)}"


def _looking(facing: Direction) -> str:
    return {Direction.Z_PLUS: "up", Direction.Z_MINUS: "down"}.get(facing, "to the room")


def _side(direction: Direction) -> str:
    match direction:
        case Direction.Y_PLUS:
            return "the head wall"
        case Direction.Z_PLUS | Direction.Z_MINUS:
            return "the floor"
        case Direction.Y_MINUS:
            return "the room"
        case _:
            return "one side, as drawn"


def _screws(joints: Sequence[Screwed], letters: Mapping[str, str], show: Show) -> Iterator[str]:
    for screw in dict.fromkeys(joint.screw for joint in joints):
        heads = "flush" if screw.head is Head.FLAT else "down tight, not overdriven"
        yield (
            f"{letters[screw.key]} into the pilot holes that are in the parts"
            f" ({show(screw.pilot_diameter_mm)}), heads {heads}"
        )


def _wall_screws(
    assembly: Assembly, joints: Sequence[Joint], letters: Mapping[str, str], show: Show, tape: Show
) -> Iterator[str]:
    fixings = [joint for joint in joints if isinstance(joint, FixedToWall)]
    known = [each for each in fixings if not each.by_engineer]  # its cautions tell of the others
    for screw, given in dict.fromkeys((each.screw, each.given) for each in known):
        if given is not None:
            # Wall screws are driven in the room, so that their holes are made there too.
            yield f"{letters[screw.key]}: {hole_in_words(given, show)}, made by the installer"
        else:
            alike = (each for each in known if each.screw == screw and each.given is None)
            depth_mm = max(into_wall_mm(each) for each in alike)
            yield (
                f"{letters[screw.key]}: drill {show(screw.pilot_diameter_mm)} into the wood of the"
                f" wall with a wood bit, {tape(depth_mm)} deep from the face of the wall"
            )
    if any(not isinstance(assembly.part(joint.through), WallPlate) for joint in fixings):
        yield "Shims behind each screw fill the gap to the wall, as thick as the room's page says"
    for cap in dict.fromkeys(joint.cap for joint in fixings if joint.cap is not None):
        yield f"{letters[cap.key]} over the heads once the checks are done"


def into_wall_mm(joint: FixedToWall) -> float:
    """Return how far a screw reaches beyond the face of its wall, a recess for a cap counted."""
    sunk = joint.cap.recess_depth_mm if joint.cap is not None else 0.0
    axis = joint.direction.axis
    return joint.screw.length_mm + sunk - abs(joint.mouth[axis] - joint.head[axis])


def _hung(joints: Sequence[Joint], tape: Show) -> Iterator[str]:
    for joint in joints:
        if isinstance(joint, Hung):
            yield (
                f"Hold it {tape(joint.lift_mm)} above its place, the groove in its back over the"
                " lips of all plates, and let it down onto them"
            )


def _beads(
    assembly: Assembly, joints: Sequence[Joint], ml_mm: float, units: Units
) -> Iterator[str]:
    bonds = [joint for joint in joints if isinstance(joint, Bonded)]
    if bonds:
        length_mm = math.fsum(bead_mm(assembly, joint) for joint in bonds)
        yield "No film, dust or shim where adhesive goes"
        yield (
            f"Adhesive along the grey lines in the picture: {bead_told(length_mm, units)} of bead,"
            f" {math.ceil(length_mm * ml_mm):d} ml"
        )


def bead_told(length_mm: float, units: Units) -> str:
    """Return the length of a bead to the next 10 mm or half inch: nobody lays one more exactly."""
    step_mm = _BEAD_STEP_MM[units]
    return show_length(math.ceil(length_mm / step_mm - 1e-9) * step_mm, units)


def _setting(joints: Sequence[Joint], minutes: float | None) -> Iterator[str]:
    """Yield how long what is glued stays pressed down."""
    if any(isinstance(joint, Bonded) for joint in joints):
        told = "until it has set (see the tube)" if minutes is None else f"for {_time(minutes)}"
        yield f"Keep it clamped or weighted {told}"


def _time(minutes: float) -> str:
    """Return a time as people say it: minutes up to two hours, then hours, to the next half."""
    if minutes < _HOURS_FROM_MIN:
        return f"{math.ceil(minutes)} min"
    return f"{math.ceil(minutes / 30) / 2:g} h"
