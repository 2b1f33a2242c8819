"""The triangles of all that stands in a room, each shape made once."""

from __future__ import annotations

from dataclasses import dataclass

from parametric.geometry.pose import Pose
from parametric.joints.assembly import Assembly
from parametric.joints.machining import machining
from parametric.meshes.shape_mesh import ShapeMesh, shape_mesh
from parametric.shapes.board import Board
from parametric.shapes.members import Member
from parametric.shapes.routing import Routing
from parametric.shapes.shape import placed_shape


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedMesh:
    """A part, the mesh that it shares with all parts of its shape, and where that stands."""

    part: Board | Member
    mesh: ShapeMesh
    pose: Pose

    def in_room(self) -> ShapeMesh:
        """Return the part's own mesh, in the frame that the part is placed in."""
        return self.mesh.placed(self.pose)


def set_meshes(assembly: Assembly, routing: Routing) -> tuple[PlacedMesh, ...]:
    """Return the mesh and place of each board and member, in order.

    Raises:
        ValueError: a part cannot be machined so; the text names it.
    """
    worked = machining(assembly, routing)
    found = []
    for part in (*assembly.boards, *assembly.members):
        placed = placed_shape(part, worked.of(part.name))
        try:
            mesh = shape_mesh(placed.shape, routing)
        except ValueError as error:
            raise ValueError(f"{part.name}: {error}") from error
        found.append(PlacedMesh(part=part, mesh=mesh, pose=placed.pose))
    return tuple(found)
