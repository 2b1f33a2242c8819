"""The solids of a shape, made once, and what was read from them."""

from __future__ import annotations

import pickle
from dataclasses import dataclass, replace
from io import BytesIO

import cadquery as cq

from parametric.geometry.space import Axis, unit_vector
from parametric.remembered import remembered
from parametric.shapes.board import Board
from parametric.shapes.laid_panel import LaidPanel
from parametric.shapes.members import Cleat, Member
from parametric.shapes.routing import Routing
from parametric.shapes.shape import Shape
from parametric.solids.board_solid import band_solids, board_solid
from parametric.solids.flatten import flatten
from parametric.solids.member_solid import member_solid
from parametric.solids.shape_identity import MOST_KEPT, made_from, named


@dataclass(frozen=True, slots=True)
class ShapeSolids:
    """The solids of a shape in its own frame: as it ends up, boards milled for their bands, and the
    bands. `laid` and `volume_mm3` are what was read from boards and cleats as they are cut, before
    that; None of what is bought.
    """

    solid: cq.Solid
    bands: tuple[cq.Solid, ...]
    laid: LaidPanel | None
    volume_mm3: float


def shape_solids(name: str, shape: Shape, routing: Routing) -> ShapeSolids:
    """Return the solids of a shape; errors name the part that asks for it.

    Raises:
        KernelFailure: it cannot be built.
        NotFlat: a board cannot be read back, which is a bug.
    """
    with named(name):
        return solids_of(shape, routing)


def _frozen(made: ShapeSolids) -> bytes:
    solids = [_bytes_of(solid) for solid in (made.solid, *made.bands)]
    return pickle.dumps((solids, made.laid, made.volume_mm3))


def _thawed(frozen: bytes) -> ShapeSolids:
    solids, laid, volume_mm3 = pickle.loads(frozen)
    solid, *bands = (cq.Solid(cq.Shape.importBin(BytesIO(each)).wrapped) for each in solids)
    return ShapeSolids(solid, tuple(bands), laid, volume_mm3)


def _bytes_of(solid: cq.Solid) -> bytes:
    stream = BytesIO()
    solid.exportBin(stream)
    return stream.getvalue()


@remembered("solids of a shape", key=made_from, freeze=_frozen, thaw=_thawed, most=MOST_KEPT)
def solids_of(shape: Shape, routing: Routing) -> ShapeSolids:
    """Return the solids of a shape; errors know no part."""
    if isinstance(shape.part, Board):
        return _board(shape.part, shape, routing)
    return _member(shape.part, shape, routing)


def _board(board: Board, shape: Shape, routing: Routing) -> ShapeSolids:
    cut = board_solid(board, shape.features, routing)
    milled = cut
    if board.bands and routing.pre_mill_mm:
        milled = board_solid(board, shape.features, replace(routing, pre_mill_mm=0.0))
    return ShapeSolids(
        solid=milled,
        bands=band_solids(board, shape.features, routing),
        laid=laid_board(board, cut),
        volume_mm3=cut.Volume(),
    )


def _member(member: Member, shape: Shape, routing: Routing) -> ShapeSolids:
    solid = member_solid(member, shape.features, routing)
    laid = laid_cleat(member, solid) if isinstance(member, Cleat) else None
    return ShapeSolids(solid=solid, bands=(), laid=laid, volume_mm3=solid.Volume())


def laid_board(board: Board, solid: cq.Solid) -> LaidPanel:
    """Return the board as read from its solid; only grain and front come from the definition."""
    return flatten(board.name, solid, front=board.facing.vector, length=unit_vector(board.grain))


def laid_cleat(cleat: Cleat, solid: cq.Solid) -> LaidPanel:
    """Return the cleat as read from its solid, lying on its wide face."""
    across = [axis for axis in Axis if axis is not cleat.along]
    thin = min(across, key=cleat.box.size)
    return flatten(cleat.name, solid, front=unit_vector(thin), length=unit_vector(cleat.along))
