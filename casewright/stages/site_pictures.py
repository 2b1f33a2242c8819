"""From the solids of a set and its steps to the lines of the step pictures."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence

from casewright.stages.model_stage import slanting
from export.site.content import Callout, StepPicture
from parametric.geometry.hand import Hand
from parametric.geometry.space import Axis, Direction, Point, dot
from parametric.joints.delivered import delivered
from parametric.shapes.board import Board
from parametric.solids.hidden_lines import Drawn, line_pictures
from parametric.solids.set_model import SetModel
from parametric.steps.step import Mark, Step


def step_pictures(
    model: SetModel, steps: Sequence[Step], numbers: Mapping[str, str]
) -> tuple[StepPicture, ...]:
    """Return a picture for each step, with all that stands by then; `numbers` are what delivered
    pieces are marked with, by the part that each goes by.

    Raises:
        KernelFailure: the kernel cannot make one.
    """
    # The viewer stands in the room, towards the side of the corner.
    towards, right = slanting(-1.0 if model.room_set.hand is Hand.RIGHT else 1.0)
    up = Point(*_cross(towards, right))

    def seen(point: Point) -> tuple[float, float]:
        return dot(point, right), dot(point, up)

    standing: set[str] = set()
    pictures = []
    for step in steps:
        groups = [_solids(model, step.parts), _solids(model, standing)]
        name = f"{model.room_set.name}, {model.room_set.hand} hand, step {step.number}"
        new, earlier = line_pictures(name, groups, towards, right)
        standing.update(step.parts)
        callouts = [
            Callout(label=number, at=seen(model.room_set.assembly.part(names[0]).box.centre))
            for number, names in by_number(step.parts, numbers).items()
        ]
        callouts += [
            Callout(label=mark_label(index), at=seen(_middle(mark)))
            for index, mark in enumerate(step.marks)
        ]
        pictures.append(
            StepPicture(
                new=new.visible,
                earlier=earlier.visible,
                marks=tuple((seen(mark.start), seen(mark.end)) for mark in step.marks),
                callouts=tuple(callouts),
            )
        )
    return tuple(pictures)


def piece_picture(model: SetModel, main: str, numbers: Mapping[str, str]) -> StepPicture:
    """Return the picture of a delivered piece, named by its main part, as it lies on a bench with
    the inside of that part up; `numbers` are those of its parts.

    Raises:
        KernelFailure: the kernel cannot make it.
    """
    assembly = model.room_set.assembly
    piece = next(each for each in delivered(assembly) if each.main.name == main)
    inside = piece.main.facing.opposite if isinstance(piece.main, Board) else Direction.Z_PLUS
    up = inside.vector
    lying = [axis for axis in Axis if not up[axis]]
    long, wide = sorted(lying, key=piece.main.box.size, reverse=True)
    towards = _unit(up.at(long, 0.45).at(wide, 0.62))
    right = _unit(Point(*_cross(up, towards)))
    upwards = Point(*_cross(towards, right))
    (drawn,) = line_pictures(main, [_solids(model, piece.names)], towards, right)
    return StepPicture(
        new=drawn.visible,
        earlier=(),
        marks=(),
        callouts=tuple(
            Callout(
                label=number,
                at=(
                    dot(assembly.part(names[0]).box.centre, right),
                    dot(assembly.part(names[0]).box.centre, upwards),
                ),
            )
            for number, names in by_number(piece.names, numbers).items()
        ),
    )


def by_number(parts: Sequence[str], numbers: Mapping[str, str]) -> dict[str, list[str]]:
    """Return the names of the parts by their number, in the order of the parts; those that have
    none come with others.
    """
    found: dict[str, list[str]] = {}
    for name in parts:
        if name in numbers:
            found.setdefault(numbers[name], []).append(name)
    return found


def mark_label(index: int) -> str:
    """Return how a step's mark is called in its picture: a, b and so on, then a1, b1."""
    turn, place = divmod(index, 26)
    return chr(ord("a") + place) + (str(turn) if turn else "")


def _solids(model: SetModel, parts: Collection[str]) -> list[Drawn]:
    wanted = set(parts)
    for name in parts:
        count = len(model.solids.bands.get(name, ()))
        wanted.update(f"{name} band {index}" for index in range(1, count + 1))
    return [drawn for name, drawn in model.solids.drawn.items() if name in wanted]


def _middle(mark: Mark) -> Point:
    return Point(*((a + b) / 2 for a, b in zip(mark.start, mark.end, strict=True)))


def _unit(vector: Point) -> Point:
    size = math.hypot(*vector)
    return Point(*(each / size for each in vector))


def _cross(a: Point, b: Point) -> tuple[float, float, float]:
    return (a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x)
