"""Meshes compared with the kernel's solids, and judged by trimesh. See `test_mesh`."""

from collections.abc import Iterable
from dataclasses import replace

import cadquery as cq
import pytest
import trimesh

from parametric.joints.machining import machining
from parametric.meshes.facets import LARGEST_DEVIATION_MM
from parametric.meshes.mesh import Mesh
from parametric.meshes.shape_mesh import ShapeMesh, shape_mesh
from parametric.sets.room_set import RoomSet
from parametric.shapes.board import Board
from parametric.shapes.routing import Routing
from parametric.shapes.shape import Shape, placed_shape
from parametric.solids.board_solid import band_solids, board_solid
from parametric.solids.member_solid import member_solid

SAME_VOLUME = 1e-6  # of the solid's
SAME_CENTRE_MM = 1e-3


def shapes(room_set: RoomSet, routing: Routing) -> set[Shape]:
    assembly = room_set.assembly
    worked = machining(assembly, routing)
    parts = (*assembly.boards, *assembly.members)
    return {placed_shape(part, worked.of(part.name)).shape for part in parts}


def solids(shape: Shape, routing: Routing) -> tuple[cq.Solid, ...]:
    """The part as it ends up and its bands, by the kernel."""
    part, features = shape.part, shape.features
    if not isinstance(part, Board):
        return (member_solid(part, features, routing),)
    milled = board_solid(part, features, replace(routing, pre_mill_mm=0.0))
    return (milled, *band_solids(part, features, routing))


def meshes(made: ShapeMesh) -> tuple[Mesh, ...]:
    return (made.part, *made.bands)


def assert_same(mesh: Mesh, solid: cq.Solid) -> None:
    assert mesh.volume_mm3 == pytest.approx(solid.Volume(), rel=SAME_VOLUME)
    assert mesh.centre == pytest.approx(solid.Center().toTuple(), abs=SAME_CENTRE_MM)
    box = solid.BoundingBox(tolerance=1e-5)
    for values, bounds in (
        (mesh.points.min(axis=0), (box.xmin, box.ymin, box.zmin)),
        (mesh.points.max(axis=0), (box.xmax, box.ymax, box.zmax)),
    ):
        assert values == pytest.approx(bounds, abs=LARGEST_DEVIATION_MM)


def assert_closed(mesh: Mesh) -> None:
    """Closed, outward and in one piece, as trimesh has it."""
    judge = trimesh.Trimesh(mesh.points, mesh.triangles, process=False)
    assert judge.is_watertight
    assert judge.is_winding_consistent
    assert judge.volume > 0
    assert judge.body_count == 1
    assert len(judge.referenced_vertices) == judge.referenced_vertices.sum()


def assert_shapes(found: Iterable[Shape], routing: Routing) -> None:
    for shape in found:
        pairs = zip(meshes(shape_mesh(shape, routing)), solids(shape, routing), strict=True)
        for mesh, solid in pairs:
            assert_same(mesh, solid)
            assert_closed(mesh)
