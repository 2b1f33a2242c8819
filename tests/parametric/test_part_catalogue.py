"""Identity of parts: proper motions only, symmetric parts without a hand, handed parts with one."""

from dataclasses import replace

import cadquery as cq
import pytest

from parametric.geometry.hand import Hand
from parametric.geometry.outline import Outline, Vertex
from parametric.geometry.pose import Pose
from parametric.geometry.space import Axis, Box, Direction, Placing, Point
from parametric.lists.cut_list import Part, PartHand
from parametric.lists.part_catalogue import PartCatalogue, freedom, laid_for_machining
from parametric.shapes.board import Band, Board, Show
from parametric.shapes.panel import Edge, Face, FlatPanel, Pocket
from parametric.shapes.same_panel import Freedom, orientations, same_panel
from parametric.solids.board_solid import board_solid
from parametric.solids.set_model import SetModel
from parametric.stock.materials import GoodFaces, SheetMaterial
from tests.example_set import BAND, BOTH_GOOD, ONE_GOOD, RAW, ROUTING
from tests.read_back import read_board


def parts_of(models: dict[Hand, SetModel], hands: list[Hand]) -> dict[str, list[Part]]:
    catalogue = PartCatalogue(pre_mill_mm=0.0)
    for hand in hands:
        catalogue.add_set("example", hand, models[hand].read_boards, 10)
    found: dict[str, list[Part]] = {}
    for part in catalogue.parts():
        found.setdefault(part.description, []).append(part)
    return found


def test_symmetric_parts_merge_across_hands(models: dict[Hand, SetModel]) -> None:
    parts = parts_of(models, [Hand.RIGHT, Hand.LEFT])
    for name in ("bench head wall rail", "bed foot panel", "bedside table top", "wall panel"):
        (part,) = parts[name]
        assert (part.hand, part.quantity) == (PartHand.EITHER, 20), name


def test_symmetry_is_seen_without_the_other_hand(models: dict[Hand, SetModel]) -> None:
    parts = parts_of(models, [Hand.RIGHT])
    assert parts["bed foot panel"][0].hand is PartHand.EITHER
    assert parts["bed near side panel"][0].hand is PartHand.RIGHT


def test_handed_parts_stay_apart_and_are_mirror_images(models: dict[Hand, SetModel]) -> None:
    parts = parts_of(models, [Hand.RIGHT, Hand.LEFT])
    for name in ("bed near side panel", "bench side panel", "bench deck"):
        right, left = parts[name]
        assert (right.hand, left.hand) == (PartHand.RIGHT, PartHand.LEFT)
        assert right.quantity == left.quantity == 10
        mirror = right.panel.mirror_image()
        assert same_panel(mirror, left.panel) or same_panel(mirror.turned_half(), left.panel)
        assert not same_panel(right.panel, left.panel)
        assert not same_panel(right.panel.turned_half(), left.panel)


def test_both_sides_of_the_table_are_one_part(models: dict[Hand, SetModel]) -> None:
    """With the shelf half way up, one side turned upside down is the other."""
    parts = parts_of(models, [Hand.RIGHT])
    (sides,) = (found for name, found in parts.items() if name == "bedside table side")
    assert sides[0].description == "bedside table side"
    assert sides[0].quantity == 20


def test_numbers_do_not_depend_on_later_sets(models: dict[Hand, SetModel]) -> None:
    first = [p.number for ps in parts_of(models, [Hand.RIGHT]).values() for p in ps]
    both = [p.number for ps in parts_of(models, [Hand.RIGHT, Hand.LEFT]).values() for p in ps]
    assert sorted(first) == sorted(both)[: len(first)]
    assert sorted(both) == [f"P{index + 1:03d}" for index in range(len(both))]


def test_the_part_lies_where_its_uses_say(models: dict[Hand, SetModel]) -> None:
    """Every use places the part's panel on the board by a proper motion."""
    catalogue = PartCatalogue(pre_mill_mm=0.0)
    for hand in Hand:
        catalogue.add_set("example", hand, models[hand].read_boards, 1)
    panels = {part.number: part.panel for part in catalogue.parts()}
    for use in catalogue.uses():
        pose = Pose(use.origin, use.x_axis, use.z_axis)
        panel = panels[use.number]
        board = models[use.hand].room_set.assembly.board(use.board)
        corners = [
            pose.to_room(type(use.origin)(x, y, z))
            for x in (0, panel.length_mm)
            for y in (0, panel.width_mm)
            for z in (0, panel.thickness_mm)
        ]
        core = board.core_box()
        for axis in range(3):
            values = [corner[axis] for corner in corners]
            assert min(values) == pytest.approx(core.low[axis], abs=1e-5)
            assert max(values) == pytest.approx(core.high[axis], abs=1e-5)


def test_finished_size_is_cut_size_and_bands(models: dict[Hand, SetModel]) -> None:
    (part,) = parts_of(models, [Hand.RIGHT])["bed foot panel"]
    assert {band.edge for band in part.banding} == {Edge.X_LOW, Edge.X_HIGH}
    assert part.finished_length_mm == pytest.approx(part.panel.length_mm + 2 * 1.0)
    assert part.finished_width_mm == pytest.approx(part.panel.width_mm)


@pytest.mark.parametrize(
    ("material", "expected"),
    [
        (ONE_GOOD, Freedom.HALF_TURNS),
        (BOTH_GOOD, Freedom.TURNING_OVER),
        (RAW, Freedom.TURNING_OVER | Freedom.QUARTER_TURNS),
        (replace(RAW, good_faces=GoodFaces.ONE), Freedom.QUARTER_TURNS),
    ],
)
def test_what_materials_allow(material, expected: Freedom) -> None:
    assert freedom(material) == expected


def test_no_orientation_is_a_mirror_image(models: dict[Hand, SetModel]) -> None:
    read = next(r for r in models[Hand.RIGHT].read_boards if "near side" in r.board.name)
    mirror = read.laid.panel.mirror_image()
    turned = orientations(read.laid, Freedom.TURNING_OVER | Freedom.QUARTER_TURNS)
    assert not any(same_panel(mirror, each.panel) for each in turned)


def test_worked_face_looks_up(models: dict[Hand, SetModel]) -> None:
    for read in models[Hand.RIGHT].read_boards:
        laid = laid_for_machining(read.laid, read.board.material)
        worked = laid.panel.faces_worked()
        assert worked != {Face.DOWN}, read.board.name


def grooved(depth_mm: float, face: Face = Face.UP) -> FlatPanel:
    """A board of 500 x 300 x 19 with one groove."""
    return FlatPanel(
        length_mm=500.0,
        width_mm=300.0,
        thickness_mm=19.0,
        outline=rectangle(0, 0, 500, 300),
        openings=(),
        pockets=(
            Pocket(outline=rectangle(50, 100, 450, 120), islands=(), depth_mm=depth_mm, face=face),
        ),
        bores=(),
        edge_bores=(),
    )


def rectangle(x0: float, y0: float, x1: float, y1: float) -> Outline:
    return Outline(tuple(Vertex(x, y, 0.0) for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))))


def test_grooves_of_two_depths_make_two_parts() -> None:
    """What differs by a tenth of a millimetre is another part; by a thousandth it is noise."""
    assert same_panel(grooved(9.0), grooved(9.001))
    assert not same_panel(grooved(9.0), grooved(9.1))
    assert not same_panel(grooved(9.0), grooved(9.0, Face.DOWN))


def banded(bands: tuple[Direction, ...], good: SheetMaterial) -> Board:
    """A plain board that lies level, banded on some edges, nothing else."""
    return Board(
        name="plain",
        unit="test",
        description="plain",
        material=good,
        box=Box(Point(0, 0, 0), Point(600, 400, good.thickness_mm)),
        grain=Axis.X,
        facing=Direction.Z_PLUS,
        show=Show.FRONT,
        bands=tuple(Band(edge, BAND) for edge in bands),
    )


@pytest.mark.parametrize(
    ("bands", "material", "expected"),
    [
        # Banded on one end and one side; the good face must look up, so no turn makes it its own
        # mirror image.
        ((Direction.X_PLUS, Direction.Y_PLUS), ONE_GOOD, [PartHand.RIGHT, PartHand.LEFT]),
        ((Direction.X_PLUS, Direction.Y_PLUS), BOTH_GOOD, [PartHand.EITHER]),
        ((Direction.X_PLUS, Direction.X_MINUS, Direction.Y_PLUS), ONE_GOOD, [PartHand.EITHER]),
        ((Direction.X_PLUS,), ONE_GOOD, [PartHand.EITHER]),
    ],
)
def test_bands_alone_can_give_a_part_its_hand(
    bands: tuple[Direction, ...], material: SheetMaterial, expected: list[PartHand]
) -> None:
    """By hand: the left hand is the mirror image, x turned round; the solids are the same box."""
    right = banded(bands, material)
    boards = {Hand.RIGHT: right, Hand.LEFT: right.placed(Placing(signs=(-1, 1, 1)))}
    for hands in ([Hand.RIGHT, Hand.LEFT], [Hand.RIGHT]):
        catalogue = PartCatalogue(pre_mill_mm=0.0)
        for hand in hands:
            board = boards[hand]
            catalogue.add_set("set", hand, (read_board(board, board_solid(board, (), ROUTING)),), 1)
        assert [part.hand for part in catalogue.parts()] == expected[: len(hands)]


@pytest.mark.parametrize(("material", "parts"), [(ONE_GOOD, 2), (BOTH_GOOD, 1)])
def test_a_groove_in_the_back_is_another_part_where_one_face_is_good(
    material: SheetMaterial, parts: int
) -> None:
    """Both are cut alike, groove up; only which face is the good one tells them apart."""
    front = banded((), material)
    back = replace(front, facing=Direction.Z_MINUS)
    solid = board_solid(front, (), ROUTING)
    groove = cq.Solid.makeBox(400, 20, 9, cq.Vector(100, 190, material.thickness_mm - 9))
    grooved_solid = solid.cut(groove).Solids()[0]
    catalogue = PartCatalogue(pre_mill_mm=0.0)
    boards = tuple(read_board(board, grooved_solid) for board in (front, back))
    catalogue.add_set("set", Hand.RIGHT, boards, 1)
    found = catalogue.parts()
    assert len(found) == parts
    assert {part.panel.faces_worked() for part in found} == {frozenset({Face.UP})}
    if parts == 2:
        assert [part.front for part in found] == [Face.UP, Face.DOWN]
