"""Meshes of parts whose cuts meet one another, or do not quite, against the kernel's solids."""

from collections.abc import Callable, Sequence
from dataclasses import replace

import pytest
import trimesh

from parametric.geometry.hand import Hand
from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.meshes.drill import meet_nothing
from parametric.meshes.facets import LARGEST_DEVIATION_MM
from parametric.meshes.mesh import Mesh
from parametric.meshes.prism import Points, Prism
from parametric.meshes.shape_mesh import shape_mesh
from parametric.sets.room_set import build_set
from parametric.shapes.board import Board, RoundedCorner
from parametric.shapes.features import Cutout, Feature, Hole
from parametric.shapes.members import Cleat
from parametric.shapes.shape import Shape
from tests.example_set import CONSTRUCTION, ROUTING, TRIM_MM, set_sizes
from tests.mesh_assertions import SAME_CENTRE_MM, assert_closed, assert_shapes, solids

Sort = Callable[[Sequence[Prism], Sequence[Points], Points], list[Prism]]

BOARD = Box(Point(0.0, 0.0, 0.0), Point(400.0, 200.0, 19.05))


def plain(*features: Feature, box: Box = BOARD) -> Shape:
    """A board without bands and rounded corners."""
    rooms = build_set(set_sizes(), Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    board = replace(
        rooms.boards[0],
        name="",
        box=box,
        grain=Axis.X,
        facing=Direction.Z_PLUS,
        bands=(),
        rounded=(),
    )
    return Shape(board, features)


def bar(*features: Feature) -> Shape:
    """A square bar along x."""
    members = build_set(set_sizes(), Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM).assembly.members
    cleat = next(member for member in members if isinstance(member, Cleat))
    box = Box(Point(0.0, 0.0, 0.0), Point(300.0, 40.0, 40.0))
    return Shape(replace(cleat, name="", box=box, along=Axis.X), features)


def rounded(*features: Feature) -> Shape:
    """The board with one corner rounded."""
    shape = plain(*features)
    assert isinstance(shape.part, Board)
    corner = RoundedCorner(Direction.X_PLUS, Direction.Y_PLUS, 30.0)
    return Shape(replace(shape.part, rounded=(corner,)), features)


def down(x: float, y: float, diameter_mm: float, depth_mm: float | None) -> Hole:
    start = Point(x, y, BOARD.high.z)
    return Hole(
        start=start, direction=Direction.Z_MINUS, diameter_mm=diameter_mm, depth_mm=depth_mm
    )


def up(x: float, y: float, diameter_mm: float, depth_mm: float | None) -> Hole:
    start = Point(x, y, 0.0)
    return Hole(start=start, direction=Direction.Z_PLUS, diameter_mm=diameter_mm, depth_mm=depth_mm)


def level(x: float, z: float, diameter_mm: float, depth_mm: float | None) -> Hole:
    """A hole into the long edge at y = 0."""
    start = Point(x, 0.0, z)
    return Hole(start=start, direction=Direction.Y_PLUS, diameter_mm=diameter_mm, depth_mm=depth_mm)


def groove(y: float, width_mm: float, depth_mm: float, x: float = 0.0) -> Cutout:
    """A groove in the upper face, from x to the far end."""
    low, high = Point(x, y, BOARD.high.z - depth_mm), Point(400.0, y + width_mm, BOARD.high.z)
    return Cutout(box=Box(low, high), tool=Direction.Z_MINUS)


def slot(overcut: Axis | None) -> Cutout:
    """A notch from the long edge at y = 200, right through."""
    box = Box(Point(150.0, 140.0, 0.0), Point(200.0, 200.0, BOARD.high.z))
    return Cutout(box=box, tool=Direction.Z_MINUS, overcut=overcut)


CUTS: dict[str, tuple[Feature, ...]] = {
    "nothing": (),
    "recess and shank, one middle": (down(50, 50, 35.0, 12.0), down(50, 50, 5.0, None)),
    "the same from the other face": (down(50, 50, 35.0, 12.0), up(50, 50, 5.0, None)),
    "blind from both faces, above one another": (down(50, 50, 8.0, 7.0), up(50, 50, 8.0, 9.0)),
    "blind from both faces into one another": (down(50, 50, 8.0, 12.0), up(50, 50, 8.0, 9.0)),
    "two depths": (down(50, 50, 8.0, 12.0), down(70, 50, 8.0, 5.0), down(90, 50, 8.0, None)),
    "a hole in a groove": (groove(50, 20, 9.525), down(100, 60, 5.0, None)),
    "a blind hole just as deep as the groove": (groove(50, 20, 9.0), down(100, 60, 5.0, 9.0)),
    "a blind hole under the groove": (groove(50, 20, 9.0), up(100, 60, 5.0, 6.0)),
    "a blind hole into the groove's floor": (groove(50, 20, 9.0), up(100, 60, 5.0, 14.0)),
    "a blind hole as deep as the board": (down(100, 100, 5.0, BOARD.high.z),),
    "a groove that stops inside": (groove(50, 20, 9.525, x=60),),
    "two grooves that cross": (groove(50, 20, 9.525), groove(60, 30, 5.0)),
    "an edge bore": (level(100, 9.5, 5.0, 30.0),),
    "an edge bore right across": (level(100, 9.5, 5.0, None), down(200, 50, 5.0, None)),
    "a notch, overcut": (slot(Axis.X),),
    "a notch, overcut the other way": (slot(Axis.Y),),
    "a notch, round corners": (slot(None),),
    "a notch and a blind hole beside it": (slot(Axis.X), down(100, 160, 5.0, 12.0)),
}


@pytest.mark.parametrize("name", CUTS)
def test_cuts_that_meet_are_exact_where_no_round_wall_is_cut(name: str) -> None:
    assert_shapes([plain(*CUTS[name])], ROUTING)


CUT_ROUND: dict[str, Shape] = {
    "a hole that a groove's side cuts": plain(groove(50, 20, 9.525), down(100, 50.5, 8.0, None)),
    "a hole that the edge cuts": plain(down(100, 1.0, 8.0, None)),
    "two holes in one another": plain(down(100, 50, 8.0, None), down(103, 50, 8.0, 12.0)),
    "a hole just touching another": plain(down(100, 50, 8.0, None), down(108, 50, 8.0, 12.0)),
    "holes that meet square": bar(level(100, 20, 8.0, None), up(100, 20, 6.0, None)),
    "holes that meet aside": bar(level(100, 20, 8.0, None), up(103, 20, 6.0, None)),
    "an edge bore into a face bore": plain(level(100, 9.5, 5.0, 60.0), down(100, 40, 8.0, None)),
}


@pytest.mark.parametrize("name", CUT_ROUND)
def test_a_round_wall_that_is_cut_is_off_by_no_more_than_its_facets(name: str) -> None:
    """There the area is no longer the whole circle's: the walls' deviation bounds the rest."""
    shape = CUT_ROUND[name]
    mesh, (solid,) = shape_mesh(shape, ROUTING).part, solids(shape, ROUTING)
    assert_closed(mesh)
    round_mm2 = sum(face.Area() for face in solid.Faces() if face.geomType() == "CYLINDER")
    assert abs(mesh.volume_mm3 - solid.Volume()) <= round_mm2 * LARGEST_DEVIATION_MM / 2
    assert mesh.centre == pytest.approx(solid.Center().toTuple(), abs=SAME_CENTRE_MM)


APART: dict[str, Shape] = {
    "through and blind": plain(*CUTS["two depths"]),
    "from both faces": plain(up(50, 50, 8.0, 12.0), down(70, 50, 8.0, 5.0)),
    "into all four sides of a bar": bar(
        level(100, 20, 8.0, None), up(130, 20, 6.0, None), level(160, 10, 5.0, 30.0)
    ),
    "beside a groove and a notch": plain(
        slot(Axis.X), groove(50, 20, 9.0), down(100, 120, 5.0, None), up(300, 100, 5.0, 12.0)
    ),
    "close to one another": plain(down(50, 50, 8.0, None), down(58.2, 50, 8.0, 12.0)),
    "close to the edge": plain(down(50, 4.2, 8.0, None)),
    "beside a rounded corner": rounded(down(366.0, 196.0, 5.0, 12.0)),
}


def made_with(shape: Shape, sort: Sort, monkeypatch: pytest.MonkeyPatch) -> Mesh:
    """The mesh, made anew with another way to say which holes meet nothing."""
    with monkeypatch.context() as patched:
        patched.setattr("parametric.meshes.shape_mesh.meet_nothing", sort)
        return shape_mesh.__wrapped__(shape, ROUTING).part


@pytest.mark.parametrize("name", APART)
def test_holes_that_meet_nothing_are_as_if_cut_with_all_else(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Put into the sides, or cut from the body by the library: one volume, one surface."""
    shape = APART[name]
    seen: list[bool] = []

    def all_free(holes: Sequence[Prism], others: Sequence[Points], space: Points) -> list[Prism]:
        found = meet_nothing(holes, others, space)
        seen.append(len(found) == len(holes) > 0)
        return found

    drilled = made_with(shape, all_free, monkeypatch)
    cut = made_with(shape, lambda *_: [], monkeypatch)
    assert seen == [True]
    assert_closed(drilled)
    assert drilled.volume_mm3 == pytest.approx(cut.volume_mm3, rel=1e-12)
    assert drilled.centre == pytest.approx(cut.centre, rel=1e-12)
    areas = [trimesh.Trimesh(m.points, m.triangles, process=False).area for m in (drilled, cut)]
    assert areas[0] == pytest.approx(areas[1], rel=1e-12)
    assert_shapes([shape], ROUTING)


MET: dict[str, Shape] = {
    **CUT_ROUND,
    "across the rounded corner": rounded(down(390.0, 190.0, 5.0, None)),
    "as deep as the board": plain(*CUTS["a blind hole as deep as the board"]),
}


@pytest.mark.parametrize("name", MET)
def test_holes_that_meet_something_are_cut_with_all_else(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    found: list[Prism] = []

    def watched(holes: Sequence[Prism], others: Sequence[Points], space: Points) -> list[Prism]:
        assert holes
        found.extend(meet_nothing(holes, others, space))
        return found

    made_with(MET[name], watched, monkeypatch)
    assert found == []


def test_what_cannot_be_cut_is_told() -> None:
    across = Cutout(
        box=Box(Point(100.0, 0.0, 0.0), Point(140.0, 200.0, BOARD.high.z)),
        tool=Direction.Z_MINUS,
    )
    with pytest.raises(ValueError, match="leaves 2 pieces"):
        shape_mesh(plain(across), ROUTING)
    with pytest.raises(ValueError, match="leaves 0 pieces"):
        shape_mesh(plain(Cutout(box=BOARD, tool=Direction.Z_MINUS)), ROUTING)
    with pytest.raises(ValueError, match="too narrow"):
        shape_mesh(plain(groove(50, 2.0, 9.0, x=60)), ROUTING)
