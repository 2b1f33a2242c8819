"""Meshes of shapes against the kernel's solids, and against trimesh, which shares nothing with us.

Two volumes that agree to a millionth could still be of two bodies: centres of mass, bounds and the
distance of mesh corners from the solid's surface are compared as well.
"""

from dataclasses import replace

import cadquery as cq
import numpy as np
import pytest
from hypothesis import given, settings

from casewright.intake.read_job import read_job
from parametric.geometry.hand import Hand
from parametric.joints.machining import machining
from parametric.meshes.facets import LARGEST_DEVIATION_MM
from parametric.meshes.mesh import Mesh
from parametric.meshes.set_meshes import PlacedMesh, set_meshes
from parametric.meshes.shape_mesh import shape_mesh
from parametric.sets.room_set import RoomSet, build_set
from parametric.shapes.features import Cutout, Hole
from parametric.shapes.routing import CornerRelief, Routing
from parametric.shapes.shape import Shape, placed_shape
from parametric.solids.set_model import SetModel
from tests.casewright.intake_folder import CENTRE, CONFIGS, KEEPER, SHIP, STATION
from tests.example_set import CONSTRUCTION, ROUTING, TRIM_MM, set_sizes
from tests.mesh_assertions import (
    SAME_VOLUME,
    assert_closed,
    assert_same,
    assert_shapes,
    meshes,
    shapes,
    solids,
)
from tests.row import Row
from tests.strategies import construction_for, routings
from tests.strategies import set_sizes as random_sizes

hands = pytest.mark.parametrize("hand", list(Hand))


@pytest.mark.parametrize("name", [CENTRE, SHIP, KEEPER, STATION])
def test_every_shape_of_the_demo_jobs_is_what_the_kernel_makes(name: str) -> None:
    job = read_job(CONFIGS / f"{name}.yaml")
    trim_mm = job.machine.sheet_trim_mm
    found = {
        shape
        for sizes in job.sets
        for hand in Hand
        for shape in shapes(
            build_set(sizes, hand, job.construction, job.routing, trim_mm), job.routing
        )
    }
    assert len(found) > 20
    assert_shapes(found, job.routing)


@given(sizes=random_sizes(), routing=routings())
@settings(max_examples=5)
def test_every_shape_of_random_sets_is_what_the_kernel_makes(sizes: Row, routing: Routing) -> None:
    construction = construction_for(sizes)
    for hand in Hand:
        room_set = build_set(sizes, hand, construction, routing, TRIM_MM)
        assert_shapes(shapes(room_set, routing), routing)


@pytest.fixture(scope="module")
def room_sets() -> dict[Hand, RoomSet]:
    return {hand: build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM) for hand in Hand}


def test_a_mesh_that_lacks_one_hole_is_told_from_the_solid(
    room_sets: dict[Hand, RoomSet],
) -> None:
    """The largest board and its smallest hole: the comparison is fine enough for all others."""
    found = shapes(room_sets[Hand.RIGHT], ROUTING)
    drilled = [shape for shape in found if any(isinstance(f, Hole) for f in shape.features)]
    shape = max(drilled, key=lambda shape: solids(shape, ROUTING)[0].Volume())
    holes = [feature for feature in shape.features if isinstance(feature, Hole)]
    least = min(holes, key=lambda hole: hole.diameter_mm)
    lacking = replace(shape, features=tuple(f for f in shape.features if f is not least))
    solid = solids(shape, ROUTING)[0]
    mesh = shape_mesh(lacking, ROUTING).part
    assert mesh.volume_mm3 != pytest.approx(solid.Volume(), rel=SAME_VOLUME)
    with pytest.raises(AssertionError):
        assert_same(mesh, solid)


def test_a_mesh_that_lacks_a_triangle_or_is_inside_out_is_told(
    room_sets: dict[Hand, RoomSet],
) -> None:
    mesh = set_meshes(room_sets[Hand.RIGHT].assembly, ROUTING)[0].mesh.part
    assert_closed(mesh)
    with pytest.raises(AssertionError):
        assert_closed(Mesh(points=mesh.points, triangles=mesh.triangles[1:].copy()))
    with pytest.raises(AssertionError):
        assert_closed(Mesh(points=mesh.points, triangles=mesh.triangles[:, ::-1].copy()))


@hands
def test_meshes_stand_where_the_solids_of_the_set_do(
    models: dict[Hand, SetModel], room_sets: dict[Hand, RoomSet], hand: Hand
) -> None:
    """Part by part in the room, and every corner near the surface of the solid."""
    model = models[hand]
    placed = set_meshes(room_sets[hand].assembly, ROUTING)
    names = [each.part.name for each in placed]
    assert names == [*model.solids.boards, *model.solids.members]
    for each in placed:
        name, stands = each.part.name, each.in_room()
        solid = model.solids.boards.get(name) or model.solids.members[name]
        together = zip(meshes(stands), (solid, *model.solids.bands.get(name, ())), strict=True)
        for mesh, other in together:
            assert_same(mesh, other)
            for point in mesh.points[:: len(mesh.points) // 12 + 1]:
                corner = cq.Vertex.makeVertex(*point.tolist())
                away = min(corner.distance(face) for face in other.Faces())
                assert away <= LARGEST_DEVIATION_MM + 1e-9, name


@hands
def test_a_shape_is_made_once_however_often_it_stands(
    room_sets: dict[Hand, RoomSet], hand: Hand
) -> None:
    placed = set_meshes(room_sets[hand].assembly, ROUTING)
    of_shape: dict[Shape, list[PlacedMesh]] = {}
    worked = machining(room_sets[hand].assembly, ROUTING)
    for each in placed:
        shape = placed_shape(each.part, worked.of(each.part.name)).shape
        of_shape.setdefault(shape, []).append(each)
    assert len(of_shape) < len(placed)
    assert all(each.mesh is alike[0].mesh for alike in of_shape.values() for each in alike)


def test_what_is_shared_cannot_be_written_to(room_sets: dict[Hand, RoomSet]) -> None:
    mesh = set_meshes(room_sets[Hand.RIGHT].assembly, ROUTING)[0].mesh.part
    with pytest.raises(ValueError, match="read-only"):
        mesh.points[0] = 0.0
    with pytest.raises(ValueError, match="read-only"):
        mesh.triangles[0] = 0


@pytest.mark.parametrize("relief", list(CornerRelief))
@hands
def test_either_corner_relief_is_what_the_kernel_makes(relief: CornerRelief, hand: Hand) -> None:
    routing = replace(ROUTING, corner_relief=relief)
    room_set = build_set(set_sizes(), hand, CONSTRUCTION, routing, TRIM_MM)
    cut = [
        shape
        for shape in shapes(room_set, routing)
        if any(isinstance(feature, Cutout) for feature in shape.features)
    ]
    assert len(cut) > 4
    assert_shapes(cut, routing)


def test_what_the_bit_does_not_fit_is_told_with_the_part(room_sets: dict[Hand, RoomSet]) -> None:
    wide = replace(ROUTING, bit_diameter_mm=200.0)
    with pytest.raises(ValueError, match=r"^\w[\w ]*/[\w ]+: .* too narrow"):
        set_meshes(room_sets[Hand.RIGHT].assembly, wide)


def test_the_same_shape_gives_the_same_bytes(room_sets: dict[Hand, RoomSet]) -> None:
    found = sorted(shapes(room_sets[Hand.RIGHT], ROUTING), key=repr)
    made = [shape_mesh(shape, ROUTING).part for shape in found]
    shape_mesh.cache_clear()
    for shape, before in zip(found, made, strict=True):
        again = shape_mesh(shape, ROUTING).part
        assert np.array_equal(before.points, again.points)
        assert np.array_equal(before.triangles, again.triangles)
