"""From the solids of a set to its model files and pictures."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from casewright.stages.sets.set_stage import ModelledSet, SetsOfJob
from export.summary.content import Picture, SetPictures
from export.svg.dimensions import PictureDimension
from export.svg.line_picture import lines_svg
from parametric.geometry.hand import Hand
from parametric.geometry.pose import Pose
from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.geometry.walls import Wall
from parametric.lists.cut_list import PartUse
from parametric.shapes.members import Cleat, Leg, SteelAngle, WallPlate
from parametric.solids.exchange import ROOM, Colour, Product, Solid, glb_bytes, step_bytes
from parametric.solids.hidden_lines import line_picture
from parametric.solids.kernel_pose import in_frame
from parametric.solids.set_model import SetModel
from parametric.stock.lengths import Units, show_length
from parametric.stock.materials import GoodFaces

GOOD_BOARD: Colour = (0.80, 0.72, 0.60)
RAW_BOARD: Colour = (0.66, 0.58, 0.46)
BAND: Colour = (0.60, 0.50, 0.38)
WOOD: Colour = (0.86, 0.80, 0.66)
STEEL: Colour = (0.45, 0.47, 0.50)

DIMENSION_OFFSET_MM = 140.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SetFiles:
    """The model files of one set in one hand; `name` is that of both without its ending."""

    set_name: str
    hand: Hand
    name: str
    step: bytes
    glb: bytes


def set_files(each: ModelledSet, whole: SetsOfJob, name: str) -> SetFiles:
    """Return STEP and GLB of the set; `name` is the files' name without its ending.

    Raises:
        KernelFailure: the kernel cannot write them.
    """
    listed = tuple(products(each, whole))
    title = f"{each.used.sizes.name} {each.used.hand} hand"
    # STEP first: the triangles that GLB needs stay on the solids.
    step = step_bytes(title, listed)
    return SetFiles(
        set_name=each.used.sizes.name,
        hand=each.used.hand,
        name=name,
        step=step,
        glb=glb_bytes(title, listed),
    )


def products(each: ModelledSet, whole: SetsOfJob) -> Iterator[Product]:
    """Yield every part of the set once, with all its places: boards by part number, then bands,
    bars by theirs, and bought things by name.
    """
    key = (each.used.sizes.name, each.used.hand)
    uses = [use for use in whole.cut_list.uses if (use.set_name, use.hand) == key]
    materials = {part.number: part.material for part in whole.cut_list.parts}
    by_number: dict[str, list[PartUse]] = {}
    for use in uses:
        by_number.setdefault(use.number, []).append(use)
    for number, same in by_number.items():
        poses = tuple(Pose(use.origin, use.x_axis, use.z_axis) for use in same)
        good = materials[number].good_faces is not GoodFaces.NONE
        colour = GOOD_BOARD if good else RAW_BOARD
        board = same[0].board
        yield _product(each.model, number, board, poses, colour)
        for index in range(each.model.band_counts[board]):
            yield _product(each.model, f"{number} band {index + 1}", board, poses, BAND, index)
    for member in each.model.room_set.assembly.members:
        match member:
            case Cleat() | SteelAngle():
                name = whole.bar_numbers[*key, member.name]
            case Leg() | WallPlate():
                name = member.hardware.key
        colour = WOOD if isinstance(member, Cleat) else STEEL
        yield _product(each.model, name, member.name, (ROOM,), colour)


def _product(
    model: SetModel,
    name: str,
    part: str,
    poses: tuple[Pose, ...],
    colour: Colour,
    band: int | None = None,
) -> Product:
    """Return a part, or one of its bands, in the frame of its first pose."""

    @cache
    def solid() -> Solid:
        solids = model.solids
        if band is not None:
            return in_frame(solids.bands[part][band], poses[0])
        return in_frame(solids.members.get(part) or solids.boards[part], poses[0])

    return Product(
        name=name,
        solid=solid,
        identity=f"{model.identities[part]} band {band}",
        poses=poses,
        colour=colour,
    )


def set_pictures(each: ModelledSet, units: Units) -> SetPictures:
    """Return the pictures of the set in the room: from the foot end, from above and from in front.

    Raises:
        KernelFailure: the kernel cannot make them.
    """
    model = each.model
    bounds = set_bounds(model)
    # The viewer stands in the room, towards the side of the corner.
    sideways = -1.0 if each.used.hand is Hand.RIGHT else 1.0
    views = (
        ("Seen from inside the room", *slanting(sideways), ()),
        (
            "From above, head wall at the top",
            Point(0.0, 0.0, 1.0),
            Point(1.0, 0.0, 0.0),
            plan_dimensions(bounds, units),
        ),
        (
            "From in front, facing the head wall",
            Point(0.0, -1.0, 0.0),
            Point(1.0, 0.0, 0.0),
            front_dimensions(model, bounds, units),
        ),
    )
    solids = tuple(model.solids.drawn.values())
    pictures = []
    for caption, towards, right, dimensions in views:
        title = f"{each.used.sizes.name}, {each.used.hand} hand: {caption}"
        lines = line_picture(title, solids, towards, right)
        pictures.append(Picture(caption=caption, svg=lines_svg(lines.visible, dimensions, title)))
    return SetPictures(set_name=each.used.sizes.name, hand=each.used.hand, pictures=tuple(pictures))


def slanting(sideways: float) -> tuple[Point, Point]:
    """Return viewer and right of a view from above, the foot and one side."""
    x, y, z = sideways * 0.55, -0.72, 0.42
    level = math.hypot(x, y)
    size = math.hypot(level, z)
    return Point(x / size, y / size, z / size), Point(-y / level, x / level, 0.0)


def set_bounds(model: SetModel) -> Box:
    """Return the box that bounds the set."""
    assembly = model.room_set.assembly
    boxes = [part.box for part in (*assembly.boards, *assembly.members)]
    low = Point(*(min(box.low[axis] for box in boxes) for axis in Axis))
    return Box(low, Point(*(max(box.high[axis] for box in boxes) for axis in Axis)))


def plan_dimensions(bounds: Box, units: Units) -> tuple[PictureDimension, ...]:
    """Return the run along the head wall and the depth, for the view from above."""
    return (
        PictureDimension(
            start=(bounds.low.x, bounds.low.y),
            end=(bounds.high.x, bounds.low.y),
            offset_mm=-DIMENSION_OFFSET_MM,
            text=show_length(bounds.size(Axis.X), units),
        ),
        PictureDimension(
            start=(bounds.low.x, bounds.low.y),
            end=(bounds.low.x, bounds.high.y),
            offset_mm=DIMENSION_OFFSET_MM,
            text=show_length(bounds.size(Axis.Y), units),
        ),
    )


def front_dimensions(model: SetModel, bounds: Box, units: Units) -> tuple[PictureDimension, ...]:
    """Return the width of the top of each unit along the head wall, and the heights of all tops and
    over all, for the front view.
    """
    assembly, along = model.room_set.assembly, model.room_set.along(Wall.HEAD)
    found = []
    for unit in dict.fromkeys(board.unit for board in assembly.boards if board.unit in along):
        tops = [
            board.box
            for board in assembly.boards
            if board.unit == unit and board.facing is Direction.Z_PLUS
        ]
        if not tops:
            continue
        low = min(box.low.x for box in tops)
        high = max(box.high.x for box in tops)
        found.append(
            PictureDimension(
                start=(low, 0.0),
                end=(high, 0.0),
                offset_mm=-DIMENSION_OFFSET_MM,
                text=show_length(high - low, units),
            )
        )
    heights = sorted({round(seat, 3) for seat in deck_heights(model)} | {bounds.high.z})
    found.extend(
        PictureDimension(
            start=(bounds.low.x, 0.0),
            end=(bounds.low.x, height),
            offset_mm=DIMENSION_OFFSET_MM * (1 + 1.5 * index),
            text=show_length(height, units),
        )
        for index, height in enumerate(heights)
    )
    return tuple(found)


def deck_heights(model: SetModel) -> Iterator[float]:
    """Yield the heights of the tops of everything that is sat, lain or put on."""
    for board in model.room_set.assembly.boards:
        covered = any(
            over.box.low.z >= board.box.high.z and over.unit == board.unit
            for over in model.room_set.assembly.boards
        )
        if board.facing is Direction.Z_PLUS and not covered:
            yield board.box.high.z
