"""The drawings of the demo sets against the solids of the kernel (Open CASCADE, through cadquery):
sizes, cut faces, which part a balloon's leader ends on; and against each other: the hands mirror.

Rays meet triangles after Moller and Trumbore (1997), on the kernel's own tessellation.
"""

import functools
import io
import math
import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import combinations, pairwise, product
from typing import Any

import cadquery as cq
import numpy as np
import pypdfium2
import pytest
from shapely import LineString, MultiPoint, box, unary_union
from shapely.geometry.base import BaseGeometry

from casewright.intake.read_job import read_job
from casewright.progress import Progress
from casewright.stages.engineering.set_apart import set_apart
from casewright.stages.engineering.set_drawing_content import set_drawings
from casewright.stages.engineering.set_views import level_camera
from casewright.stages.engineering.units_apart import isometric
from casewright.stages.models.piece_stage import part_numbers
from casewright.stages.sets.set_stage import ModelledSet, SetsOfJob, model_sets
from export.dimensions.free_space import boxes_meet, meets
from export.dimensions.reading import drawn_length, taped_length
from export.dimensions.scales import scales_of
from export.papers.pdf import pdf_bytes
from export.set_drawing.arranged import Way, arranged
from export.set_drawing.content import CutFace, NumberedView, SetDrawings, SetView
from export.set_drawing.measured import Measured, measured
from export.set_drawing.numbered import numbered
from export.set_drawing.pages import set_drawing_source
from export.set_drawing.sized import sized
from export.set_drawing.strokes import Stroke
from export.site.content import Line2
from parametric.geometry.pose import Pose
from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.joints.joints import Passing
from parametric.joints.machining import Machining
from parametric.pictures.bodies import body_of
from parametric.pictures.camera import Camera
from parametric.shapes.board import Board
from parametric.shapes.features import Cutout
from parametric.shapes.members import WallPlate
from parametric.solids.set_solids import set_solids
from parametric.stock.lengths import Units
from parametric.stock.paper import Paper
from tests.casewright.build_fixtures import CONFIGS, DEMOS, outcome_of
from tests.pdf_pages import assert_texts_apart, text_of

SCALE = 25.0
NOISE_MM2 = 0.5
SEEN_MM = 0.03  # lines are rounded to 0.01 each
CASES = (
    [("avalanche-centre", at) for at in range(6)]
    + [("survey-ship", at) for at in range(4)]
    + [("field-station", at) for at in range(4)]
    + [("keepers-room", 0)]
)

HALF = [case for case in CASES if case[1] % 2 == 0]
"""One hand of each set: another test holds that the other one is its mirror image."""

Triangles = np.ndarray[Any, np.dtype[np.float64]]


@functools.cache
def sets_of(demo: str) -> SetsOfJob:
    return model_sets(read_job(CONFIGS / f"{demo}.yaml"), Progress())


@functools.cache
def drawings_of(demo: str, at: int) -> SetDrawings:
    job, sets = read_job(CONFIGS / f"{demo}.yaml"), sets_of(demo)
    return set_drawings(job.name, sets, sets.sets[at], ["1", "2"], job.units)


def told(demo: str):  # type: ignore[no-untyped-def]
    return functools.partial(drawn_length, units=read_job(CONFIGS / f"{demo}.yaml").units)


def views(drawings: SetDrawings) -> Iterator[SetView]:
    yield drawings.plan
    yield from drawings.elevations
    for tie in drawings.ties:
        yield tie.along
        yield from tie.across


def numbered_views(drawings: SetDrawings) -> list[NumberedView]:
    return [drawings.whole, *(unit.view for unit in drawings.units)]


def texts(drawn: Measured) -> set[str]:
    return {text.text for text in drawn.all_texts}


def test_all_sets_of_all_demos_are_looked_at() -> None:
    assert sorted(CASES) == sorted(
        (demo, at) for demo in DEMOS for at in range(len(sets_of(demo).sets))
    )


@pytest.mark.parametrize("demo", DEMOS)
def test_a_build_leaves_them_for_each_set_and_hand(demo: str) -> None:
    files = {str(path): content for path, content in outcome_of(demo).files.items()}
    wanted = {
        f"engineering/set-{each.used.sizes.name}-{each.used.hand}.pdf"
        for each in sets_of(demo).sets
    }
    left = {path: files[path] for path in files if path.startswith("engineering/set-")}
    assert set(left) == wanted
    for path, content in left.items():
        first = text_of(pypdfium2.PdfDocument(io.BytesIO(content))[0])
        _, name, hand = path.removesuffix(".pdf").split("-")
        assert f"Set {name}, {hand} hand: plan" in first


@pytest.mark.parametrize(("demo", "at"), HALF)
def test_sizes_are_those_of_the_solids(demo: str, at: int) -> None:
    each, drawings, tell = sets_of(demo).sets[at], drawings_of(demo, at), told(demo)
    assembly = each.model.room_set.assembly
    boxes = {
        name: solid.BoundingBox(tolerance=1e-4)
        for name, solid in (*each.model.solids.boards.items(), *each.model.solids.members.items())
    }
    banded = cq.Compound.makeCompound([s for _, s in each.model.solids.installed])
    whole = banded.BoundingBox(tolerance=1e-4)
    plan = texts(measured(sized(drawings.plan, tell), SCALE))
    assert {tell(max(abs(whole.xmin), abs(whole.xmax))), tell(-whole.ymin)} <= plan
    elevations = [texts(measured(sized(view, tell), SCALE)) for view in drawings.elevations]
    assert all(tell(whole.zmax) in found for found in elevations)
    heights = elevations[0] | elevations[1]
    for board in assembly.boards:
        if board.facing.axis is Axis.Z:
            low, high = boxes[board.name].zmin, boxes[board.name].zmax
            assert {tell(low), tell(high)} <= heights, board.name
    for leg in assembly.legs:
        leg_box = boxes[leg.name]
        assert {tell(abs(leg_box.center.x)), tell(abs(leg_box.center.y))} <= plan
    for angle in assembly.angles:
        ends = boxes[angle.name]
        assert {tell(abs(x)) for x in (ends.xmin, ends.xmax, ends.ymin, ends.ymax)} <= plan


def without_holes(each: ModelledSet) -> dict[str, cq.Solid]:
    """All parts with what is cut out of them, but without their screw holes and bands."""
    model = each.model
    parts = (*model.room_set.assembly.boards, *model.room_set.assembly.members)
    cut = Machining(
        features={
            name: tuple(feature for feature in features if isinstance(feature, Cutout))
            for name, features in model.machining.features.items()
        }
    )
    bare = [replace(part, bands=()) if isinstance(part, Board) else part for part in parts]
    names = {part.name: f"bare {part.name}" for part in parts}
    made = set_solids(bare, cut, model.routing, names)
    return {**made.boards, **made.members}


@pytest.mark.parametrize(("demo", "at"), [case for case in CASES if case[1] < 2])
def test_cut_faces_are_as_large_as_the_kernel_cuts_them(demo: str, at: int) -> None:
    each, drawings = sets_of(demo).sets[at], drawings_of(demo, at)
    room_set, solids = each.model.room_set, without_holes(each)
    # What pictures leave out: two half discs where the bit overcuts an opening, or less.
    relief_mm2 = math.pi * each.model.routing.bit_radius_mm**2
    assert drawings.ties
    for tie, angle in zip(drawings.ties, room_set.assembly.angles, strict=True):
        out = room_set.outwards[angle.unit]
        assert_cut(tie.along, solids, out, angle.upright_leg.centre[out.axis], relief_mm2)
        passed = [
            board
            for board in room_set.assembly.boards
            if board.description in " ".join(view.title for view in tie.across)
        ]
        for view in tie.across:
            board = next(b for b in passed if view.title.endswith(f"the {b.description}"))
            middle = board.box.centre[angle.along]
            to_corner = Direction((angle.along, -1 if middle > 0 else 1))
            assert_cut(view, solids, to_corner, middle, relief_mm2)


@pytest.mark.parametrize(("demo", "at"), CASES)
def test_a_board_with_one_notch_is_drawn_without_seams(demo: str, at: int) -> None:
    """A prism over eight corners has 24 edges (V - E + F = 2 with 16 corners and 10 faces)."""
    model = sets_of(demo).sets[at].model
    passed = {j.through for j in model.room_set.assembly.joints if isinstance(j, Passing)}
    assert passed
    for name in passed:
        body = body_of(model.room_set.assembly.board(name), model.machining)
        assert len(body.edges) == 24, name


def shapes_of(face: CutFace) -> BaseGeometry:
    """A cut face as one shape, what is nearer than a hundredth taken together."""
    grown = [box(*each).buffer(0.01, join_style="mitre") for each in face.boxes]
    return unary_union(grown)


def test_a_cut_face_has_its_edge_and_no_seams_and_goes_on_where_a_view_is_broken_off() -> None:
    scale = 10.0
    for demo, at in CASES:
        for tie in drawings_of(demo, at).ties:
            for view in (tie.along, *tie.across):
                drawn = measured(sized(view, told(demo)), scale)
                rim = box(*view.box).boundary.buffer(0.5)
                edges = [shapes_of(face).boundary.difference(rim) for face in view.faces]
                wanted = math.fsum(edge.length for edge in edges) / scale
                lines = (LineString(line) for line in drawn.strokes.of(Stroke.CUT))
                assert math.fsum(line.length for line in lines) == pytest.approx(wanted, rel=0.005)


def assert_cut(
    view: SetView, solids: dict[str, cq.Solid], towards: Direction, at: float, relief_mm2: float
) -> None:
    camera = level_camera(towards)
    x0, y0, x1, y1 = view.box
    origin = Point(*(a * x0 + b * y0 for a, b in zip(camera.right, camera.up, strict=True)))
    origin = origin.at(towards.axis, at)
    corners = [
        Point(
            *(
                o + a * (x - x0) + b * (y - y0)
                for o, a, b in zip(origin, camera.right, camera.up, strict=True)
            )
        )
        for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    ]
    plane = cq.Face.makeFromWires(cq.Wire.makePolygon([cq.Vector(*p) for p in corners], close=True))
    areas = sorted(
        area for solid in solids.values() if (area := solid.intersect(plane).Area()) > NOISE_MM2
    )
    drawn = sorted(unary_union([box(*each) for each in face.boxes]).area for face in view.faces)
    assert len(drawn) == len(areas) >= 2, view.title
    for ours, kernels in zip(drawn, areas, strict=True):
        assert -NOISE_MM2 <= ours - kernels <= relief_mm2 + NOISE_MM2, view.title


def triangles_of(solid: cq.Shape, off: Point) -> Triangles:
    points, corners = solid.tessellate(0.5, 0.3)
    placed = np.array([(p.x, p.y, p.z) for p in points]) + np.array(off)
    return placed[np.array(corners)]


def first_met(triangles: dict[str, Triangles], camera: Camera, at: tuple[float, float]) -> str:
    """The part that a ray from the viewer meets first."""
    towards = np.array(camera.towards)
    start = np.array(camera.right) * at[0] + np.array(camera.up) * at[1] + 1e5 * towards
    best, name_of_best = math.inf, ""
    for name, corners in triangles.items():
        edge1, edge2 = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
        across = np.cross(-towards, edge2)
        volume = np.einsum("ij,ij->i", edge1, across)
        with np.errstate(divide="ignore", invalid="ignore"):
            off = start - corners[:, 0]
            u = np.einsum("ij,ij->i", off, across) / volume
            turned = np.cross(off, edge1)
            v = turned @ -towards / volume
            far = np.einsum("ij,ij->i", turned, edge2) / volume
            met = far[(u >= 0) & (v >= 0) & (u + v <= 1) & (np.abs(volume) > 1e-9)]
        if met.size and met.min() < best:
            best, name_of_best = float(met.min()), name
    return name_of_best.partition(" band ")[0]


@pytest.mark.parametrize(("demo", "at"), HALF)
def test_leaders_end_on_the_parts_that_they_number(demo: str, at: int) -> None:
    sets, drawings = sets_of(demo), drawings_of(demo, at)
    each = sets.sets[at]
    room_set, numbers = each.model.room_set, part_numbers(sets, each.model)
    short = {name: number.partition(",")[0] for name, number in numbers.items()}
    camera, installed = isometric(room_set.hand), dict(each.model.solids.installed)
    stands = {name: triangles_of(solid, Point(0, 0, 0)) for name, solid in installed.items()}
    owner = {
        name: next(p for p in sorted(numbers, key=len, reverse=True) if name.startswith(p))
        for name in installed
    }
    for callout in drawings.whole.numbers:
        assert short[owner[first_met(stands, camera, callout.at)]] == callout.label
    assembly = room_set.assembly
    for unit in drawings.units:
        parts = [p for p in (*assembly.boards, *assembly.members) if p.unit == unit.name]
        fitting = []
        for raised in (1.0, 1.5, 2.2, 3.2):
            places = set_apart(assembly, parts, raised)
            apart = {
                name: triangles_of(solid, places[owner[name]].pose.origin)
                for name, solid in installed.items()
                if owner[name] in places
            }
            met = [first_met(apart, camera, c.at) for c in unit.view.numbers]
            fitting.append([short[owner[n]] if n else "" for n in met])
        assert [callout.label for callout in unit.view.numbers] in fitting, unit.name


@pytest.mark.parametrize(("demo", "at"), CASES)
def test_every_part_has_its_number_in_a_drawing(demo: str, at: int) -> None:
    sets, drawings = sets_of(demo), drawings_of(demo, at)
    each = sets.sets[at]
    numbers = part_numbers(sets, each.model)
    shown = {callout.label for view in numbered_views(drawings) for callout in view.numbers}
    named = {tie.name.rpartition(" ")[2] for tie in drawings.ties}
    assert {number.partition(",")[0] for number in numbers.values()} == shown | named
    listed = [row for unit in drawings.units for row in unit.parts]
    alone = len(numbers) - sum(int(row[0]) for row in listed)
    assert alone == len(each.model.room_set.assembly.angles)


def moved_box(of: Box, pose: Pose) -> Box:
    return Box(pose.to_room(of.low), pose.to_room(of.high))


@pytest.mark.parametrize(("demo", "at"), CASES)
def test_parts_taken_apart_lie_apart(demo: str, at: int) -> None:
    assembly = sets_of(demo).sets[at].model.room_set.assembly
    for name in dict.fromkeys(board.unit for board in assembly.boards):
        parts = [part for part in (*assembly.boards, *assembly.members) if part.unit == name]
        places = set_apart(assembly, parts)
        moved = {part.name: moved_box(part.box, places[part.name].pose) for part in parts}
        for (one, a), (other, b) in combinations(moved.items(), 2):
            assert a.overlap(b) is None, (name, one, other)


def taken_apart(demo: str, at: int, unit: str) -> tuple[list[Any], dict[str, Box], Camera]:
    room_set = sets_of(demo).sets[at].model.room_set
    assembly = room_set.assembly
    parts = [part for part in (*assembly.boards, *assembly.members) if part.unit == unit]
    places = set_apart(assembly, parts)
    moved = {part.name: moved_box(part.box, places[part.name].pose) for part in parts}
    return parts, moved, isometric(room_set.hand)


def test_pieces_of_a_deck_come_apart() -> None:
    """Joined decks touch where they stand; seen from above to below they do not when drawn."""
    _, moved, camera = taken_apart("avalanche-centre", 2, "bed")
    one, other = moved["bed/deck 1"], moved["bed/deck 2"]
    assert one.low.z == other.low.z
    assert one.low.y - other.high.y > 100.0
    corners = [[camera.seen(p) for p in each.corners(Direction.Z_PLUS)] for each in (one, other)]
    shapes = [MultiPoint(points).convex_hull for points in corners]
    assert shapes[0].distance(shapes[1]) > 50.0


@pytest.mark.parametrize("at", [0, 2])
def test_plates_of_a_panel_show_their_faces(at: int) -> None:
    """Rays at all of the face that looks into the room meet the plate first, as solids are met."""
    each = sets_of("avalanche-centre").sets[at]
    parts, moved, camera = taken_apart("avalanche-centre", at, "wall panel")
    places = set_apart(each.model.room_set.assembly, parts)
    solids = {**each.model.solids.boards, **each.model.solids.members}
    apart = {p.name: triangles_of(solids[p.name], places[p.name].pose.origin) for p in parts}
    plates = [part.name for part in parts if isinstance(part, WallPlate)]
    assert len(plates) >= 2
    for name in plates:
        low, high = moved[name].low, moved[name].high
        for share_x, share_z in product((0.1, 0.35, 0.65, 0.9), repeat=2):
            x, z = low.x + share_x * (high.x - low.x), low.z + share_z * (high.z - low.z)
            met = first_met(apart, camera, camera.seen(Point(x, low.y, z)))
            assert met in ("", name), (name, met)  # plates may have holes


@pytest.mark.parametrize(("demo", "at"), CASES)
def test_texts_and_lines_stay_apart(demo: str, at: int) -> None:
    drawings = drawings_of(demo, at)
    for view in views(drawings):
        drawn = measured(sized(view, told(demo)), SCALE if view.from_corner else 10.0)
        for one, other in combinations(drawn.all_texts, 2):
            assert not boxes_meet(one.box, other.box), (view.title, one.text, other.text)
        for text in (dimension.text for dimension in drawn.dimensions):
            lines = [line for dimension in drawn.dimensions for line in dimension.lines]
            for line in lines:
                for start, end in pairwise(line):
                    assert not meets(text.box, start, end), (view.title, text.text)
    for numbered_view in numbered_views(drawings):
        balloons = numbered(numbered_view, (150.0, 140.0)).balloons
        for a, b in combinations(balloons, 2):
            assert not boxes_meet(a.box, b.box)
            assert not cross(a.leader, b.leader), (numbered_view.title, a.text, b.text)
            assert not meets(a.box, *b.leader) and not meets(b.box, *a.leader)


@pytest.mark.parametrize(("demo", "at"), CASES)
def test_lines_of_sizes_keep_out_of_the_picture(demo: str, at: int) -> None:
    """ISO 129-1: extension lines begin at the outline or a small gap off it, and cross no other
    line where that can be avoided.
    """
    for view in views(drawings_of(demo, at)):
        drawn = measured(sized(view, told(demo)), SCALE if view.from_corner else 10.0)
        shown = (Stroke.OUTLINE, Stroke.HIDDEN, Stroke.CUT)
        picture = unary_union([LineString(x) for kind in shown for x in drawn.strokes.of(kind)])
        for dimension in drawn.dimensions:
            for line in dimension.lines:
                assert not LineString(line).intersects(picture), (view.title, dimension.text)


def test_heights_of_the_table_stand_where_the_table_stands() -> None:
    """The wall panel hangs over the bed, away from the corner; nothing stands between the table and
    the side wall at the table's height.
    """
    each = sets_of("avalanche-centre").sets[0]
    front = drawings_of("avalanche-centre", 0).elevations[0]
    drawn = measured(sized(front, told("avalanche-centre")), SCALE)
    middle = drawn.size_mm[0] / 2
    tops = [b.box.high.z for b in each.model.room_set.assembly.boards if b.unit == "bedside table"]
    panel = [b.box for b in each.model.room_set.assembly.boards if b.unit == "wall panel"]
    text = told("avalanche-centre")(max(tops))
    assert panel and front.box.x0 < 0.0 and all(box.high.x < -600.0 for box in panel)
    places = [d.text.middle[0] for d in drawn.dimensions if d.text.text == text]
    assert places and all(x > middle for x in places)


def cross(one: tuple[Any, ...], other: tuple[Any, ...]) -> bool:
    return bool(LineString(one).crosses(LineString(other)))


def all_lines(drawings: SetDrawings) -> list[tuple[Line2, ...]]:
    of_views = [view.lines for view in views(drawings)]
    return of_views + [view.lines for view in numbered_views(drawings)]


def mirrored(lines: tuple[Line2, ...]) -> np.ndarray[Any, Any]:
    turned = [sorted(((-x, y) for x, y in line)) for line in lines]
    return np.array(turned).reshape(len(turned), 4)


@pytest.mark.parametrize("demo", ["avalanche-centre", "survey-ship", "field-station"])
def test_drawings_of_the_two_hands_mirror_each_other(demo: str) -> None:
    found: dict[str, list[SetDrawings]] = {}
    for at in range(len(sets_of(demo).sets)):
        drawings = drawings_of(demo, at)
        found.setdefault(drawings.set_name, []).append(drawings)
    pairs = [pair for pair in found.values() if len(pair) == 2]
    assert pairs
    for one, other in pairs:
        for ours, theirs in zip(all_lines(one), all_lines(other), strict=True):
            expected = mirrored(ours)
            seen = np.array([sorted(line) for line in theirs]).reshape(-1, 4)
            off = np.abs(expected[:, None, :] - seen[None, :, :]).max(axis=2)
            assert off.min(axis=1).max() <= SEEN_MM and off.min(axis=0).max() <= SEEN_MM


@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize(("demo", "at"), HALF)
def test_pages_on_both_papers(demo: str, at: int, paper: Paper) -> None:
    job, drawings = read_job(CONFIGS / f"{demo}.yaml"), drawings_of(demo, at)
    content = pdf_bytes(set_drawing_source(drawings, job.units, paper))
    pages = list(pypdfium2.PdfDocument(io.BytesIO(content)))
    assert len(pages) == 2 + len(drawings.ties) + len(drawings.units)
    for page in pages:
        assert assert_texts_apart(page) > 3
    assert "plan" in text_of(pages[0])
    assert_scales(" ".join(map(text_of, pages)), job.units)
    plates = sets_of(demo).sets[at].model.room_set.assembly.wall_plates
    told_so = "wall plates by their lower edge and middle" in " ".join(text_of(pages[1]).split())
    assert told_so is bool(plates)
    assert_no_way_is_larger(drawings, job.units, pages[1])


def assert_scales(text: str, units: Units) -> None:
    """Each scale is one of the job's units, and in inches tells what stands for a foot."""
    told_scales = re.findall(r"1 : ([0-9.]+)", text)
    assert len(told_scales) >= 3 and set(map(float, told_scales)) <= set(scales_of(units))
    feet = re.findall(r"1 : ([0-9]+), ([0-9 /]+)\" = 1'-0\"", text)
    assert len(feet) == (sum(1 for n in told_scales if n != "1") if units is Units.INCH else 0)
    for scale, inches in feet:
        assert int(scale) * sum(map(Fraction, inches.split())) == 12


def assert_no_way_is_larger(drawings: SetDrawings, units: Units, page: pypdfium2.PdfPage) -> None:
    """At the next larger scale the views have no room on the paper, whichever way they and it are
    turned: beside margins of 15 mm, 32 mm over and under, 14 for the head, 8 to spare, captions.
    """
    scales = scales_of(units)
    used = float(re.findall(r"1 : ([0-9.]+)", text_of(page))[0])
    larger = scales[scales.index(used) - 1]
    tell = functools.partial(taped_length, units=units)
    sizes = [measured(sized(view, tell), larger).size_mm for view in drawings.elevations]
    wide, high = zip(*sizes, strict=True)
    beside, below = (sum(wide) + 6.0, max(high) + 7.0), (max(wide), sum(high) + 14.0)
    sides = [points / 72 * 25.4 for points in page.get_size()]
    for across, up in (sides, sides[::-1]):
        room = across - 30.0, up - 54.0
        for needed in (beside, below):
            assert needed[0] > room[0] or needed[1] > room[1], (used, larger, needed, room)


def test_places_in_a_room_are_told_as_a_tape_has_them_and_cuts_exactly() -> None:
    """In inches to 1/32 from the corner, so that nothing is in thousandths there."""
    job, drawings = read_job(CONFIGS / "avalanche-centre.yaml"), drawings_of("avalanche-centre", 0)
    room = [(Way.BELOW, (250.0, 250.0))]
    for view in (drawings.plan, *drawings.elevations):
        _, (drawn,) = arranged([view], job.units, room)
        assert not any(re.search(r"\d\.\d{3}", text) for text in texts(drawn))
    view = replace(drawings.plan, from_corner=False)
    _, (drawn,) = arranged([view], job.units, room)
    assert any(re.search(r"\d\.\d{3}", text) for text in texts(drawn))


def test_views_take_the_way_in_which_they_are_larger() -> None:
    job, drawings = read_job(CONFIGS / "avalanche-centre.yaml"), drawings_of("avalanche-centre", 0)
    views_, units = drawings.elevations, job.units
    wide, high = (250.0, 150.0), (180.0, 230.0)
    beside, below = (arranged(views_, units, [(way, wide)])[1][0].scale for way in Way)
    at, drawn = arranged(views_, units, [(Way.BESIDE, wide), (Way.BELOW, wide), (Way.BELOW, high)])
    assert at == 2 and drawn[0].scale < min(beside, below)
    assert arranged(views_, units, [(Way.BELOW, high), (Way.BELOW, high)])[0] == 0
    page = pdf_bytes(set_drawing_source(drawings, job.units, Paper.LETTER))
    wide_mm, high_mm = list(pypdfium2.PdfDocument(io.BytesIO(page)))[1].get_size()
    assert high_mm > wide_mm


def test_a_long_name_stays_on_its_page() -> None:
    job, drawings = read_job(CONFIGS / "field-station.yaml"), drawings_of("field-station", 0)
    long = replace(drawings, set_name="W" * 60, rooms=tuple(map(str, range(480))))
    for page in pypdfium2.PdfDocument(
        io.BytesIO(pdf_bytes(set_drawing_source(long, job.units, Paper.A4)))
    ):
        assert_texts_apart(page)
