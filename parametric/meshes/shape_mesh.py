"""The triangles of a shape: what its solids are, without the CAD kernel."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from parametric.geometry.pose import Pose
from parametric.geometry.space import Axis, Box, Direction
from parametric.meshes.body import pieces
from parametric.meshes.drill import drilled, meet_nothing
from parametric.meshes.mesh import Mesh
from parametric.meshes.prism import Prism, block, box_bounds, cylinder, half_cylinder
from parametric.shapes.board import Board, RoundedCorner
from parametric.shapes.features import Cutout, Feature, Hole
from parametric.shapes.members import Cleat, Leg, Member, SteelAngle, WallPlate
from parametric.shapes.reach import PAST_MM, cut_corners, cut_reach, hole_reach
from parametric.shapes.routing import Routing
from parametric.shapes.shape import Shape

MOST_KEPT = 4_000  # shapes, as of solids


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapeMesh:
    """The part as it ends up, a board milled for its bands, and the bands in the order of its
    solids.
    """

    part: Mesh
    bands: tuple[Mesh, ...]

    def placed(self, pose: Pose) -> ShapeMesh:
        """Return the meshes, given in the frame that lies at `pose`, in the room."""
        bands = tuple(band.placed(pose) for band in self.bands)
        return ShapeMesh(part=self.part.placed(pose), bands=bands)


@lru_cache(maxsize=MOST_KEPT)
def shape_mesh(shape: Shape, routing: Routing) -> ShapeMesh:
    """Return the triangles of a shape in its own frame, made once in a run.

    Round walls are polygons of the same area (`facets` says how near), so volumes are exact but
    where something cuts through a round wall.

    Raises:
        ValueError: a cut is too narrow for the bit, or the features leave nothing or cut the part
            apart.
    """
    part, features = shape.part, shape.features
    space = part.core_box() if isinstance(part, Board) else part.box
    holes = [_hole(each, space) for each in features if isinstance(each, Hole)]
    cuts = list(_cuts(features, space, routing))
    free = _free(part, holes, cuts)
    left = pieces(_blank(part), [*cuts, *(hole for hole in holes if hole not in free)])
    if len(left) != 1:
        raise ValueError(f"machining leaves {len(left)} pieces instead of one")
    bands = _bands(part, features, routing) if isinstance(part, Board) else ()
    return ShapeMesh(part=drilled(left[0], free), bands=bands)


def _free(part: Board | Member, holes: list[Prism], cuts: list[Prism]) -> list[Prism]:
    """Return the holes that meet nothing, of a part that is one block before it is machined."""
    match part:
        case Board():
            space = part.core_box()
            rounded = [_square(corner, space) for corner in cut_corners(part, space)]
        case Cleat():
            space, rounded = part.box, []
        case _:
            return []
    others = [*(cut.bounds for cut in cuts), *map(box_bounds, rounded)]
    return meet_nothing(holes, others, box_bounds(space))


def _square(corner: RoundedCorner, space: Box) -> Box:
    """Return the part of the space that a rounded corner shapes."""
    for side in (corner.first, corner.second):
        space = space.grown(side.opposite, corner.radius_mm - space.size(side.axis))
    return space


def _blank(part: Board | Member) -> tuple[Prism, ...]:
    """Return what a part is before it is machined."""
    match part:
        case Board():
            space = part.core_box()
            return (block(space, part.facing.axis, cut_corners(part, space)),)
        case Cleat():
            return (block(part.box),)
        case SteelAngle():
            return block(part.flat_leg), block(part.upright_leg)
        case WallPlate():
            # Full boxes that overlap: what only touches may lie a rounding apart.
            below_mm = part.hardware.height_mm - part.hardware.thickness_mm
            return block(part.plate), block(part.box.grown(Direction.Z_MINUS, -below_mm))
        case Leg():
            tube_mm, plate_mm = part.hardware.tube_diameter_mm, part.hardware.plate_thickness_mm
            under_plate = part.box.high.z - plate_mm
            plate = block(Box(part.box.low.at(Axis.Z, under_plate), part.box.high))
            return plate, cylinder(part.foot, tube_mm, Axis.Z, part.foot.z, under_plate)


def _bands(board: Board, features: Iterable[Feature], routing: Routing) -> tuple[Mesh, ...]:
    if not board.bands:
        return ()
    tools = tuple(_cuts(features, board.box, routing))
    if board.rounded:
        axis, space = board.facing.axis, board.core_box()
        taller = space.grown(Direction((axis, 1)), PAST_MM).grown(Direction((axis, -1)), PAST_MM)
        core = block(taller, axis, cut_corners(board, space))
        return pieces([block(board.box, axis, board.rounded)], [core, *tools])
    return tuple(piece for strip in _strips(board) for piece in pieces([block(strip)], tools))


def _strips(board: Board) -> Iterator[Box]:
    """Yield the box of each band; where two meet, the first runs through."""
    left, core = board.box, board.core_box()
    for band in board.bands:
        edge, at = band.edge, core.side(band.edge)
        inner, outer = left.low.at(edge.axis, at), left.high.at(edge.axis, at)
        if edge.sign > 0:
            yield Box(inner, left.high)
            left = Box(left.low, outer)
        else:
            yield Box(left.low, outer)
            left = Box(inner, left.high)


def _hole(hole: Hole, space: Box) -> Prism:
    axis, sign = hole.direction.axis, hole.direction.sign
    low, high = sorted(sign * end for end in hole_reach(hole, space))
    return cylinder(hole.start, hole.diameter_mm, axis, low, high)


def _cuts(features: Iterable[Feature], space: Box, routing: Routing) -> Iterator[Prism]:
    """Yield what the bit takes from a part that fills `space`."""
    for feature in features:
        if isinstance(feature, Cutout):
            yield from _cutout(feature, space, routing)


def _cutout(cutout: Cutout, space: Box, routing: Routing) -> Iterator[Prism]:
    reach = cut_reach(cutout, space, routing)
    axis, radius = cutout.tool.axis, routing.bit_radius_mm
    if cutout.overcut is None:
        yield block(reach.box, axis, [RoundedCorner(a, b, radius) for a, b in reach.corners])
        return
    yield block(reach.box)
    for a, b in reach.corners:
        side, bottom = (a, b) if a.axis is cutout.overcut else (b, a)
        yield half_cylinder(reach.box, axis, side, bottom, radius)
