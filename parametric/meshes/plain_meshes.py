"""Small meshes of a set for a page: what one sees of it from across the room."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from parametric.joints.assembly import Assembly
from parametric.joints.machining import machining
from parametric.meshes.mesh import Mesh
from parametric.meshes.shape_mesh import shape_mesh
from parametric.shapes.board import Board
from parametric.shapes.features import Hole
from parametric.shapes.members import Member
from parametric.shapes.routing import Routing
from parametric.shapes.shape import placed_shape


@dataclass(frozen=True, slots=True, kw_only=True)
class PlainMesh:
    """A part and its triangles in the room, millimetres."""

    part: Board | Member
    mesh: Mesh


def plain_meshes(assembly: Assembly, routing: Routing) -> Iterator[PlainMesh]:
    """Yield each board, its bands one with it, and each member, in order, without drilled holes:
    these are most of the triangles of a part, and too small to be seen.

    Raises:
        ValueError: a part cannot be machined so; the text names it.
    """
    worked = machining(assembly, routing)
    for part in (*assembly.boards, *assembly.members):
        placed = placed_shape(part, worked.of(part.name))
        blank = placed.shape.part
        shape = replace(
            placed.shape,
            part=replace(blank, bands=()) if isinstance(blank, Board) else blank,
            features=tuple(each for each in placed.shape.features if not isinstance(each, Hole)),
        )
        try:
            mesh = shape_mesh(shape, routing).part
        except ValueError as error:
            raise ValueError(f"{part.name}: {error}") from error
        yield PlainMesh(part=part, mesh=mesh.placed(placed.pose))
