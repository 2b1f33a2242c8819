"""Solids of boards and of their edge bands, with all machining, where they stand in the room."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import cadquery as cq

from parametric.geometry.space import SAME_MM, Axis, Box, Direction, Point, unit_vector
from parametric.shapes.board import Board, RoundedCorner
from parametric.shapes.features import Cutout, Feature, Hole
from parametric.shapes.reach import cut_corners, cut_reach, hole_reach
from parametric.shapes.routing import Routing
from parametric.solids.kernel_errors import KernelFailure, kernel_operation


def board_solid(board: Board, features: Iterable[Feature], routing: Routing) -> cq.Solid:
    """Return the board at its cut size with every feature taken out.

    Raises:
        KernelFailure: the kernel cannot build it, or the features cut it apart.
    """
    space = board.cut_box(routing.pre_mill_mm)
    with kernel_operation(board.name, "machining"):
        blank = rounded_block(space, board.facing.axis, cut_corners(board, space))
        return cut_all(board.name, blank, space, features, routing)


def band_solids(
    board: Board, features: Iterable[Feature], routing: Routing
) -> tuple[cq.Solid, ...]:
    """Return the edge bands of the board as solids: one an edge, in the order the board names
    them, or one run round the edges that a rounded corner joins.

    They fill what the board, milled for them, leaves free of its finished size. Cutouts that run
    out over a banded edge interrupt its band.

    Raises:
        KernelFailure: the kernel cannot build them.
    """
    if not board.bands:
        return ()
    space = board.core_box()
    with kernel_operation(board.name, "edge bands"):
        outer = rounded_block(board.box, board.facing.axis, board.rounded)
        inner = rounded_block(space, board.facing.axis, cut_corners(board, space))
        tools = [
            tool
            for feature in features
            if isinstance(feature, Cutout)
            for tool in cutout_tools(feature, board.box, routing)
        ]
        ring: cq.Shape = outer.cut(inner, *tools)
        if board.rounded:
            return in_place_order(ring.Solids())
        strips: list[cq.Solid] = []
        for band in board.bands:
            inwards = space.side(band.edge) - board.box.side(band.edge.opposite)
            side = block_of(board.box.grown(band.edge.opposite, -abs(inwards)))
            strips += in_place_order(ring.intersect(side).Solids())
            ring = ring.cut(side)
        return tuple(strips)


def in_place_order(solids: Iterable[cq.Solid]) -> tuple[cq.Solid, ...]:
    """Return the solids ordered by where they are."""
    return tuple(sorted(solids, key=lambda solid: solid.Center().toTuple()))


def block_of(box: Box) -> cq.Solid:
    """Return a plain block."""
    return rounded_block(box, Axis.Z, ())


def cut_all(
    name: str, blank: cq.Shape, space: Box, features: Iterable[Feature], routing: Routing
) -> cq.Solid:
    """Return the blank that fills `space` with the features taken out, as one solid.

    Raises:
        KernelFailure: the features leave nothing, or more than one piece.
    """
    tools = [tool for feature in features for tool in feature_tools(feature, space, routing)]
    # Cleaned, so that the faces do not depend on the order of the cuts.
    solids = (blank.cut(*tools).clean() if tools else blank).Solids()
    if len(solids) != 1:
        raise KernelFailure(name, "machining", f"leaves {len(solids)} pieces instead of one")
    return solids[0]


def rounded_block(space: Box, axis: Axis, corners: Iterable[RoundedCorner]) -> cq.Solid:
    """Return a block with the named edges, which run along `axis`, rounded."""
    block = cq.Solid.makeBox(
        space.size(Axis.X), space.size(Axis.Y), space.size(Axis.Z), cq.Vector(*space.low)
    )
    for corner in corners:
        at = {
            corner.first.axis: space.side(corner.first),
            corner.second.axis: space.side(corner.second),
        }
        edges = [edge for edge in block.Edges() if runs_at(edge, axis, at)]
        block = block.fillet(corner.radius_mm, edges).Solids()[0]
    return block


def runs_at(edge: cq.Edge, axis: Axis, at: dict[Axis, float]) -> bool:
    """Return whether the edge runs along `axis` at the given coordinates of the other axes."""
    centre = edge.Center().toTuple()
    return (
        edge.geomType() == "LINE"
        and all(abs(centre[other] - value) < SAME_MM for other, value in at.items())
        and abs(edge.tangentAt(0.5).toTuple()[axis]) > 0.5
    )


def feature_tools(feature: Feature, space: Box, routing: Routing) -> Iterator[cq.Solid]:
    """Yield the solids to take out of a part that fills `space` for one feature."""
    if isinstance(feature, Hole):
        yield hole_tool(feature, space)
    else:
        yield from cutout_tools(feature, space, routing)


def hole_tool(hole: Hole, space: Box) -> cq.Solid:
    """Return the cylinder of a hole, reaching out past its mouth and, if through, past its end."""
    axis, sign = hole.direction.axis, hole.direction.sign
    start, end = hole_reach(hole, space)
    return cq.Solid.makeCylinder(
        hole.diameter_mm / 2,
        end - start,
        cq.Vector(*hole.start.at(axis, start * sign)),
        cq.Vector(*hole.direction.vector),
    )


def cutout_tools(cutout: Cutout, space: Box, routing: Routing) -> Iterator[cq.Solid]:
    """Yield the block of a cutout, with its inside corners rounded or overcut."""
    try:
        reach = cut_reach(cutout, space, routing)
    except ValueError as error:
        raise KernelFailure("cutout", "routing", str(error)) from error
    box, tool_axis, radius = reach.box, cutout.tool.axis, routing.bit_radius_mm
    if cutout.overcut is None:
        corners = [RoundedCorner(a, b, radius) for a, b in reach.corners]
        yield rounded_block(box, tool_axis, corners)
        return
    yield block_of(box)
    depth = cq.Vector(*unit_vector(tool_axis)) * box.size(tool_axis)
    for a, b in reach.corners:
        side, bottom = (a, b) if a.axis is cutout.overcut else (b, a)
        corner = box.low.at(side.axis, box.side(side)).at(bottom.axis, box.side(bottom))
        yield overcut_tool(corner, side, bottom, depth, radius)


def overcut_tool(
    corner: Point, side: Direction, bottom: Direction, depth: cq.Vector, radius_mm: float
) -> cq.Solid:
    """Return what the bit takes beyond `side` when it runs on there along the bottom: half a circle
    that starts in the corner, so that the bottom stays whole.
    """
    back = corner.along(bottom.opposite, 2 * radius_mm)
    middle = corner.along(bottom.opposite, radius_mm).along(side, radius_mm)
    start, end = cq.Vector(*corner), cq.Vector(*back)
    wire = cq.Wire.assembleEdges(
        [cq.Edge.makeThreePointArc(start, cq.Vector(*middle), end), cq.Edge.makeLine(end, start)]
    )
    return cq.Solid.extrudeLinear(wire, [], depth)
