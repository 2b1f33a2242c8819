"""Solid to panel and back."""

import math

import cadquery as cq
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from parametric.geometry.hand import Hand
from parametric.geometry.pose import Pose
from parametric.geometry.space import Point
from parametric.shapes.laid_panel import LaidPanel
from parametric.shapes.panel import Face
from parametric.shapes.same_panel import Freedom, orientations, same_panel
from parametric.solids.check_read import check_rebuilt
from parametric.solids.exchange import ROOM, Product, step_bytes
from parametric.solids.flatten import flatten
from parametric.solids.kernel_errors import NotFlat
from parametric.solids.kernel_pose import in_frame
from parametric.solids.panel_solid import panel_solid
from parametric.solids.set_model import SetModel
from tests.drawn_shapes import drawn_door
from tests.solid_assertions import difference_mm3, placed

ANY = Freedom.TURNING_OVER | Freedom.QUARTER_TURNS


@pytest.mark.parametrize("hand", list(Hand))
def test_every_board_comes_back(models: dict[Hand, SetModel], hand: Hand) -> None:
    for read in models[hand].read_boards:
        rebuilt = placed(panel_solid(read.board.name, read.laid.panel), read.laid.pose)
        assert difference_mm3(rebuilt, models[hand].solids.boards[read.board.name]) < 0.1, (
            read.board.name
        )


def test_a_mirrored_panel_does_not_come_back(models: dict[Hand, SetModel]) -> None:
    model = models[Hand.RIGHT]
    read = next(r for r in model.read_boards if r.board.name == "bed/near side panel")
    mirror = panel_solid("mirror", read.laid.panel.mirror_image())
    wrong = placed(mirror, read.laid.pose)
    assert difference_mm3(wrong, model.solids.boards[read.board.name]) > 1000


def test_the_poses_are_proper(models: dict[Hand, SetModel]) -> None:
    for model in models.values():
        for read in model.read_boards:
            pose = read.laid.pose
            x, y, z = pose.x_axis, pose.y_axis, pose.z_axis
            determinant = (
                x.x * (y.y * z.z - y.z * z.y)
                - x.y * (y.x * z.z - y.z * z.x)
                + x.z * (y.x * z.y - y.y * z.x)
            )
            assert determinant == pytest.approx(1.0)


def plate() -> cq.Workplane:
    """A plate with everything in it that a panel may have, and no symmetry."""
    return drawn_door().moveTo(590, 20).rect(60, 60).cutThruAll()


def test_what_is_read_from_a_plate() -> None:
    laid = flatten("plate", plate().val())
    panel = laid.panel
    assert (panel.length_mm, panel.width_mm, panel.thickness_mm) == (600, 300, 18)
    corner_cut = 40 * 40 * (1 - math.pi / 4)
    notch = 40 * 50
    assert panel.outline.signed_area_mm2 == pytest.approx(600 * 300 - corner_cut - notch, abs=1e-3)
    assert [round(o.signed_area_mm2) for o in panel.openings] == [12000]
    (pocket,) = panel.pockets
    assert (pocket.depth_mm, pocket.face) == (9, Face.UP)
    assert pocket.outline.signed_area_mm2 == pytest.approx(2400)
    assert sorted((b.diameter_mm, b.depth_mm) for b in panel.bores if b.depth_mm) == [(8, 12)]
    assert sum(b.depth_mm is None for b in panel.bores) == 2
    assert difference_mm3(placed(panel_solid("plate", panel), laid.pose), plate().val()) < 0.1


@settings(max_examples=25, deadline=None, phases=[Phase.explicit, Phase.generate])
@given(
    axis=st.tuples(*[st.floats(-1, 1)] * 3).filter(lambda v: math.dist(v, (0, 0, 0)) > 0.1),
    angle=st.floats(-180, 180),
    shift=st.tuples(*[st.floats(-3000, 3000)] * 3),
)
def test_the_pose_does_not_matter(
    axis: tuple[float, ...], angle: float, shift: tuple[float, ...]
) -> None:
    still = flatten("plate", plate().val()).panel
    moved = plate().val().rotate(cq.Vector(0, 0, 0), cq.Vector(*axis), angle)
    moved = moved.moved(cq.Location(cq.Vector(*shift)))
    laid = flatten("plate", moved)
    assert any(same_panel(still, turned.panel) for turned in orientations(laid, ANY))
    assert difference_mm3(placed(panel_solid("plate", laid.panel), laid.pose), moved) < 0.5


def test_a_mirrored_plate_is_another_panel() -> None:
    still = flatten("plate", plate().val()).panel
    mirror = flatten("mirror", plate().val().mirror("YZ"))
    assert not any(same_panel(still, turned.panel) for turned in orientations(mirror, ANY))
    assert any(
        same_panel(still.mirror_image(), turned.panel) for turned in orientations(mirror, ANY)
    )


def test_a_step_file_made_elsewhere(tmp_path) -> None:
    """Read through the kernel's own STEP reader, from a file that holds only the solid."""
    cq.exporters.export(plate(), str(tmp_path / "plate.step"))
    solid = cq.importers.importStep(str(tmp_path / "plate.step")).val()
    assert same_panel(flatten("plate", plate().val()).panel, flatten("from file", solid).panel)


def test_step_products_keep_their_place(tmp_path) -> None:
    pose = Pose(Point(10.0, 20.0, 30.0), Point(0.0, 1.0, 0.0), Point(1.0, 0.0, 0.0))
    solid = plate().val()
    product = Product(
        name="P001",
        solid=lambda: in_frame(solid, pose),
        identity="plate",
        poses=(pose, ROOM),
        colour=(0.5, 0.5, 0.5),
    )
    (tmp_path / "two.step").write_bytes(step_bytes("two", (product,)))
    back = cq.importers.importStep(str(tmp_path / "two.step")).vals()[0].Solids()
    assert len(back) == 2
    assert min(difference_mm3(each, solid) for each in back) < 0.1


def test_islands_both_faces_and_edge_bores() -> None:
    solid = (
        cq.Workplane("XY")
        .box(400, 200, 20, centered=False)
        .faces(">Z")
        .workplane(origin=(0, 0, 20))
        .moveTo(200, 100)
        .rect(160, 100)
        .rect(60, 40)
        .extrude(-6, combine="cut")
        .faces("<Z")
        .workplane(origin=(0, 0, 0))
        .moveTo(50, -150)
        .rect(30, 30)
        .cutBlind(-5)
    ).val()
    bore = cq.Solid.makeCylinder(4, 35, cq.Vector(0, 60, 8), cq.Vector(1, 0, 0))
    across = cq.Solid.makeCylinder(3, 210, cq.Vector(330, -5, 12), cq.Vector(0, 1, 0))
    solid = solid.cut(bore, across).Solids()[0]
    laid = flatten("worked", solid)
    panel = laid.panel
    assert panel.faces_worked() == {Face.UP, Face.DOWN}
    assert sorted(len(p.islands) for p in panel.pockets) == [0, 1]
    assert sorted((b.diameter_mm, b.depth_mm) for b in panel.edge_bores) == [(6, 200), (8, 35)]
    assert difference_mm3(placed(panel_solid("worked", panel), laid.pose), solid) < 0.1


def test_a_stepped_bore_and_a_groove_across() -> None:
    solid = (
        cq.Workplane("XY")
        .box(400, 200, 20, centered=False)
        .faces(">Z")
        .workplane(origin=(0, 0, 20))
        .moveTo(60, 60)
        .cboreHole(5, 12, 4)
        .moveTo(200, 100)
        .rect(10, 400)
        .cutBlind(-8)
    ).val()
    panel = flatten("stepped", solid).panel
    assert sorted((b.diameter_mm, b.depth_mm or 0) for b in panel.bores) == [(5, 0), (12, 4)]
    assert panel.outline.signed_area_mm2 == pytest.approx(80000)
    assert [p.outline.signed_area_mm2 for p in panel.pockets] == [pytest.approx(2000)]


@pytest.mark.parametrize(
    ("shape", "reason"),
    [
        (cq.Workplane("XY").sphere(50), "no plane face"),
        (cq.Workplane("XY").box(100, 80, 20).edges("|X and >Z").chamfer(3), "off square"),
        (cq.Workplane("XY").box(100, 80, 20).edges("|X and >Z").fillet(3), "not a whole bore"),
        (cq.Workplane("XY").box(100, 80, 20).faces(">Z").workplane().cskHole(5, 10, 82), "cone"),
        (
            cq.Workplane("XY").box(100, 80, 20).faces(">Z").workplane().sphere(12, combine="cut"),
            "sphere",
        ),
        (cq.Workplane("XY").ellipse(80, 40).extrude(18), "surface"),
        (
            cq.Workplane("XY")
            .box(200, 80, 20)
            .rotate((0, 0, 0), (0, 0, 1), 15)
            .cut(
                cq.Workplane("XZ")
                .circle(3)
                .extrude(200, both=True)
                .rotate((0, 0, 0), (1, 0, 0), 20)
            ),
            "askew",
        ),
    ],
)
def test_other_solids_are_refused_with_a_reason(shape: cq.Workplane, reason: str) -> None:
    with pytest.raises(NotFlat, match=reason):
        flatten("odd", shape.val().Solids()[0])


def test_an_undercut_is_refused() -> None:
    """Every face is level or upright, but a slot in the edge cannot be reached from a face."""
    slot = cq.Workplane("XY").box(200, 100, 4).translate((100, 0, 0))
    solid = cq.Workplane("XY").box(200, 100, 20).cut(slot).val().Solids()[0]
    with pytest.raises(NotFlat, match="differs from the solid"):
        flatten("undercut", solid)


def framed_pocket(face: Face) -> cq.Solid:
    """A board of 400 x 200 x 20 with a pocket of 160 x 100, 6 deep, round an island of 60 x 40 that
    stands off its middle.
    """
    low, high = (14.0, 21.0) if face is Face.UP else (-1.0, 6.0)
    pocket = cq.Solid.makeBox(160, 100, high - low, cq.Vector(100, 50, low))
    island = cq.Solid.makeBox(60, 40, 40, cq.Vector(130, 90, -10))
    board = cq.Solid.makeBox(400, 200, 20)
    return board.cut(pocket.cut(island)).Solids()[0]


@pytest.mark.parametrize("face", list(Face))
def test_an_island_stands_in_a_pocket_on_either_face(face: Face) -> None:
    """By hand: the pocket spans (100, 50) to (260, 150), its island (130, 90) to (190, 130)."""
    solid = framed_pocket(face)
    laid = flatten("framed", solid, front=Point(0, 0, 1), length=Point(1, 0, 0))
    (pocket,) = laid.panel.pockets
    assert (pocket.face, pocket.depth_mm) == (face, pytest.approx(6.0))
    assert pocket.outline.bounds == pytest.approx((100, 50, 260, 150))
    (island,) = pocket.islands
    assert island.bounds == pytest.approx((130, 90, 190, 130))
    rebuilt = panel_solid("framed", laid.panel)
    assert rebuilt.Volume() == pytest.approx(400 * 200 * 20 - 6 * (160 * 100 - 60 * 40))
    assert difference_mm3(placed(rebuilt, laid.pose), solid) < 0.1


@pytest.mark.parametrize("diameter_mm", [1.0, 1.5, 8.0])
@pytest.mark.parametrize(
    ("mouth", "way"),
    [
        ((0.0, 60.0), (1.0, 0.0)),
        ((400.0, 60.0), (-1.0, 0.0)),
        ((90.0, 0.0), (0.0, 1.0)),
        ((90.0, 200.0), (0.0, -1.0)),
    ],
)
def test_a_bore_into_an_edge_goes_in_at_its_mouth(
    mouth: tuple[float, float], way: tuple[float, float], diameter_mm: float
) -> None:
    """By hand: 35 deep into each edge in turn, 8 above the lower face, pilots of 1 mm too."""
    bore = cq.Solid.makeCylinder(diameter_mm / 2, 35, cq.Vector(*mouth, 8.0), cq.Vector(*way, 0.0))
    solid = cq.Solid.makeBox(400, 200, 20).cut(bore).Solids()[0]
    laid = flatten("bored", solid, front=Point(0, 0, 1), length=Point(1, 0, 0))
    (found,) = laid.panel.edge_bores
    assert (found.x, found.y, found.z_mm) == pytest.approx((*mouth, 8.0), abs=1e-6)
    assert (found.direction_x, found.direction_y) == pytest.approx(way, abs=1e-9)
    assert (found.diameter_mm, found.depth_mm) == pytest.approx((diameter_mm, 35.0), abs=1e-6)


def wavy_hexagon(radius_mm: float) -> cq.Workplane:
    """A hexagon whose sides are arcs of its own radius, bent out and in by turns: together they are
    as long as the circle round it.
    """

    def at(angle_deg: float, distance_mm: float) -> tuple[float, float]:
        angle = math.radians(angle_deg)
        return distance_mm * math.cos(angle), distance_mm * math.sin(angle)

    drawn = cq.Workplane("XY").moveTo(*at(0, radius_mm))
    for side in range(6):
        # The middle of an arc bent in is as far inside the side as the circle's is outside.
        middle_mm = radius_mm if side % 2 == 0 else radius_mm * (math.sqrt(3) - 1)
        drawn = drawn.threePointArc(at(60 * side + 30, middle_mm), at(60 * side + 60, radius_mm))
    return drawn.close()


def test_arcs_as_long_as_a_circle_are_no_circle() -> None:
    """By hand: what three arcs add the others take: the hexagon is left, 3 x 3^(1/2) / 2 r2."""
    area_mm2 = 3 * math.sqrt(3) / 2 * 50.0**2
    wavy = wavy_hexagon(50.0).extrude(18).val()
    outside = flatten("wavy", wavy).panel
    assert outside.outline.signed_area_mm2 == pytest.approx(area_mm2)
    assert outside.bores == ()
    holed = cq.Solid.makeBox(200, 180, 18).cut(wavy.translate(cq.Vector(100, 90, 0))).Solids()[0]
    inside = flatten("holed", holed, front=Point(0, 0, 1), length=Point(1, 0, 0)).panel
    (opening,) = inside.openings
    assert abs(opening.signed_area_mm2) == pytest.approx(area_mm2)
    assert inside.bores == ()


def test_the_room_is_its_own_frame() -> None:
    for point in (Point(1.0, 2.0, 3.0), Point(-400.0, 0.5, 0.0)):
        assert tuple(ROOM.to_room(point)) == pytest.approx(tuple(point))
    assert (ROOM.x_axis, ROOM.y_axis, ROOM.z_axis) == ((1, 0, 0), (0, 1, 0), (0, 0, 1))


def test_a_cubic_millimetre_too_much_is_noticed() -> None:
    """A panel that was read is held against its solid: 1 mm3 off, where cuts have thousands, and
    0.01 mm out of place, are refused; a tenth of either limit is noise.
    """
    solid = cq.Solid.makeBox(400, 200, 20)
    laid = flatten("board", solid, front=Point(0, 0, 1), length=Point(1, 0, 0))
    check_rebuilt("board", solid, laid)
    corner_off = cq.Solid.makeBox(1, 1, 1)
    with pytest.raises(NotFlat, match=r"differs from the solid by 1\.00 mm3"):
        check_rebuilt("board", solid.cut(corner_off), laid)
    check_rebuilt("board", solid.cut(cq.Solid.makeBox(0.1, 0.1, 0.5)), laid)
    x, y, z = laid.pose.origin
    for off_mm, refused in ((1e-4, False), (0.01, True)):
        pose = Pose(Point(x, y + off_mm, z), laid.pose.x_axis, laid.pose.z_axis)
        moved = LaidPanel(laid.panel, pose)
        if refused:
            with pytest.raises(NotFlat, match="mass elsewhere"):
                check_rebuilt("board", solid, moved)
        else:
            check_rebuilt("board", solid, moved)
