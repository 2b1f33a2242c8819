"""Parts without a place: a shape put back is the part, and is made once for all that share it."""

from dataclasses import replace

import pytest

from parametric.geometry.hand import Hand
from parametric.geometry.space import Box, Point
from parametric.joints.assembly import Assembly
from parametric.joints.machining import Machining, machining
from parametric.sets.room_set import build_set
from parametric.shapes.board import Board
from parametric.shapes.features import Cutout, Hole
from parametric.shapes.members import Cleat, Member
from parametric.shapes.panel import FlatPanel
from parametric.shapes.shape import PlacedShape, placed_shape
from parametric.solids.board_solid import band_solids, board_solid
from parametric.solids.member_solid import member_solid
from parametric.solids.set_model import SetModel, model_set
from parametric.solids.shape_reading import read_of
from parametric.solids.shape_solids import laid_board, solids_of
from tests.example_set import CONSTRUCTION, ROUTING, TRIM_MM, set_sizes
from tests.solid_assertions import difference_mm3

Part = Board | Member


def assembly(hand: Hand) -> Assembly:
    return build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM).assembly


def parts(hand: Hand) -> list[tuple[Part, Machining]]:
    of = assembly(hand)
    worked = machining(of, ROUTING)
    return [(part, worked) for part in (*of.boards, *of.members)]


def in_room(placed: PlacedShape, box: Box) -> Box:
    low, high = (placed.pose.to_room(corner) for corner in (box.low, box.high))
    return Box.spanning(*zip(low, high, strict=True))


def same_box(one: Box, other: Box) -> bool:
    pairs = zip((*one.low, *one.high), (*other.low, *other.high), strict=True)
    return all(abs(a - b) < 1e-6 for a, b in pairs)


@pytest.mark.parametrize("hand", Hand)
def test_a_shape_put_back_is_the_part_with_all_its_cuts(hand: Hand) -> None:
    for part, worked in parts(hand):
        placed = placed_shape(part, worked.of(part.name))
        shape = placed.shape
        assert (shape.part.name, shape.part.unit, shape.part.description) == ("", "", "")
        assert shape.part.box.low == pytest.approx((0.0, 0.0, 0.0))
        assert same_box(in_room(placed, shape.part.box), part.box), part.name
        left = list(worked.of(part.name))
        for feature in shape.features:
            (match,) = [
                each
                for each in left
                if type(each) is type(feature) and put_back(placed, feature, each)
            ][:1]
            left.remove(match)
        assert left == [], part.name


def put_back(placed: PlacedShape, feature: Hole | Cutout, original: Hole | Cutout) -> bool:
    pose = placed.pose
    if isinstance(feature, Hole) and isinstance(original, Hole):
        start = pose.to_room(feature.start)
        way = pose.turned(feature.direction.vector)
        return (
            all(abs(a - b) < 1e-6 for a, b in zip(start, original.start, strict=True))
            and way == original.direction.vector
            and feature.diameter_mm == original.diameter_mm
        )
    if isinstance(feature, Cutout) and isinstance(original, Cutout):
        way = pose.turned(feature.tool.vector)
        box = in_room(placed, feature.box)
        return same_box(box, original.box) and way == original.tool.vector
    return False


@pytest.mark.parametrize("hand", Hand)
def test_solids_of_shapes_stand_where_parts_built_in_the_room_do(
    models: dict[Hand, SetModel], hand: Hand
) -> None:
    model = models[hand]
    for part, worked in parts(hand):
        features = worked.of(part.name)
        if isinstance(part, Board):
            built = board_solid(part, features, replace(ROUTING, pre_mill_mm=0.0))
            assert difference_mm3(built, model.solids.boards[part.name]) < 0.1, part.name
            bands = band_solids(part, features, ROUTING)
            assert len(bands) == len(model.solids.bands[part.name])
            for band, placed in zip(bands, model.solids.bands[part.name], strict=True):
                if len(part.bands) == 1:
                    assert difference_mm3(band, placed) < 0.1, part.name
        else:
            built = member_solid(part, features, ROUTING)
            assert difference_mm3(built, model.solids.members[part.name]) < 0.1, part.name


@pytest.mark.parametrize("hand", Hand)
def test_boards_are_read_as_they_would_be_in_the_room(
    models: dict[Hand, SetModel], hand: Hand
) -> None:
    worked = machining(assembly(hand), ROUTING)
    for read in models[hand].read_boards:
        board = read.board
        laid = laid_board(board, board_solid(board, worked.of(board.name), ROUTING))
        assert read.laid.pose.x_axis == laid.pose.x_axis
        assert read.laid.pose.z_axis == laid.pose.z_axis
        assert read.laid.pose.origin == pytest.approx(laid.pose.origin, abs=1e-6)
        pairs = zip(holes_of(read.laid.panel), holes_of(laid.panel), strict=True)
        assert all(one == pytest.approx(other, abs=2e-6) for one, other in pairs), board.name


def holes_of(panel: FlatPanel) -> list[tuple[float, ...]]:
    return sorted((bore.x, bore.y, bore.diameter_mm, bore.depth_mm or 0.0) for bore in panel.bores)


def test_what_is_alike_in_both_hands_is_made_once() -> None:
    """Without machining that tells its ends apart a mirrored board is the same board."""
    read_of.cache_clear()
    sets = [build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM) for hand in Hand]
    model_set(sets[0], ROUTING)
    first = read_of.cache_info().misses
    stand = len(sets[0].assembly.boards) + len(sets[0].assembly.members)
    assert first < stand
    model_set(sets[1], ROUTING)
    assert read_of.cache_info().misses < 2 * first
    model_set(sets[0], ROUTING)
    assert read_of.cache_info().misses == read_of.cache_info().currsize


def test_a_changed_size_makes_few_shapes_anew() -> None:
    """A wider table: its boards, the angle, and what the angle's and its screws' places change."""
    sizes = set_sizes()
    assert sizes.table is not None
    wider = replace(sizes, table=replace(sizes.table, width_mm=sizes.table.width_mm + 10.0))
    solids_of.cache_clear()
    model_set(build_set(sizes, Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM), ROUTING)
    first = read_of.cache_info().misses
    model_set(build_set(wider, Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM), ROUTING)
    assert 0 < read_of.cache_info().misses - first <= 7


def test_a_mirrored_board_with_cuts_that_tell_is_another_shape() -> None:
    board = assembly(Hand.RIGHT).boards[0]
    low, high = board.box.low, board.box.high
    side = board.facing.opposite
    across = board.width_axis
    hole = Hole(
        start=Point(*((a + b) / 2 for a, b in zip(low, high, strict=True)))
        .at(board.grain, low[board.grain] + 30.0)
        .at(across, low[across] + 40.0)
        .at(side.axis, board.box.side(side)),
        direction=board.facing,
        diameter_mm=5.0,
        depth_mm=8.0,
    )
    other = replace(hole, start=hole.start.at(across, high[across] - 40.0))
    turned = replace(other, start=other.start.at(board.grain, high[board.grain] - 30.0))
    bare = replace(board, bands=(), rounded=())
    assert placed_shape(bare, (hole,)).shape != placed_shape(bare, (other,)).shape
    assert placed_shape(bare, (hole,)).shape == placed_shape(bare, (turned,)).shape


def test_a_cleat_is_one_shape_whichever_way_it_stands() -> None:
    cleat = next(part for part in assembly(Hand.RIGHT).members if isinstance(part, Cleat))
    length = cleat.box.size(cleat.along)
    thin, wide = sorted(
        (axis for axis in type(cleat.along) if axis is not cleat.along), key=cleat.box.size
    )
    shapes = set()
    for along, over, flat in ((0, 1, 2), (1, 2, 0), (2, 0, 1), (1, 0, 2)):
        size = {along: length, over: cleat.box.size(wide), flat: cleat.box.size(thin)}
        box = Box(Point(7.0, 8.0, 9.0), Point(*(n + size[i] for i, n in enumerate((7, 8, 9)))))
        standing = replace(cleat, box=box, along=type(cleat.along)(along))
        shapes.add(placed_shape(standing, ()).shape)
    assert len(shapes) == 1
