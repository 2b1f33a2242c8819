"""What hides what, against the kernel's own hidden lines (Open CASCADE), which share no code."""

import itertools
import math
import random

import cadquery as cq
import pytest

from parametric.geometry.pose import Pose
from parametric.geometry.space import Box, Point
from parametric.pictures.bodies import Body, of_boxes
from parametric.pictures.camera import Camera
from parametric.pictures.sight import Line, seen_lines, seen_points
from parametric.solids.hidden_lines import Drawn, line_picture

CAMERAS = [
    Camera.slanting(sideways, outwards, up)
    for sideways, outwards, up in ((0.6, -0.8, 30), (-0.7, -0.5, 48), (0.3, 0.9, -35))
]


def boxes_apart(seed: int) -> list[Box]:
    """Ten boxes that share no volume."""
    dice, found = random.Random(seed), []
    while len(found) < 10:
        low = Point(*(dice.uniform(0, 800) for _ in range(3)))
        box = Box(low, Point(*(value + dice.uniform(20, 400) for value in low)))
        if all(box.overlap(other) is None for other in found):
            found.append(box)
    return found


def solid(box: Box) -> cq.Shape:
    size = [high - low for low, high in zip(box.low, box.high, strict=True)]
    return cq.Workplane().box(*size, centered=False).translate(box.low).val()


def length(lines: tuple[Line, ...]) -> float:
    return math.fsum(math.dist(*line) for line in lines)


def seen(bodies: list[Body], camera: Camera) -> tuple[Line, ...]:
    (lines,) = seen_lines([[edge for body in bodies for edge in body.edges]], bodies, camera)
    return lines


@pytest.mark.parametrize("camera", CAMERAS)
@pytest.mark.parametrize("seed", range(4))
def test_as_much_is_seen_as_the_kernel_sees(seed: int, camera: Camera) -> None:
    boxes = boxes_apart(seed)
    ours = seen([of_boxes((box,)) for box in boxes], camera)
    solids = [Drawn(solid(box), repr(box)) for box in boxes]
    theirs = line_picture("boxes", solids, camera.towards, camera.right).visible
    assert length(ours) == pytest.approx(
        math.fsum(math.dist(a, b) for line in theirs for a, b in itertools.pairwise(line)),
        rel=2e-3,
    )
    ends = [end for line in theirs for end in (line[0], line[-1])]
    for end in (end for line in ours for end in line):
        assert min(math.dist(end, other) for other in ends) < 1.0


def test_a_notched_board_is_drawn_without_its_seams() -> None:
    """A block of 3 by 2 by 1 less a corner of 1 by 1 by 1 is an L: 18 edges (V - E + F = 2 with 12
    corners and 8 faces)."""
    parts = (
        Box(Point(0.0, 0.0, 0.0), Point(2.0, 2.0, 1.0)),
        Box(Point(2.0, 0.0, 0.0), Point(3.0, 1.0, 1.0)),
    )
    edges = of_boxes(parts).edges
    assert len(edges) == 18
    # Around an L of these sizes: 3 + 1 + 1 + 1 + 2 + 2, twice, and six uprights of 1.
    assert math.fsum(math.dist(edge.start, edge.end) for edge in edges) == pytest.approx(26.0)


def test_a_point_behind_a_wall_is_hidden_and_one_before_it_seen() -> None:
    wall = of_boxes((Box(Point(-500.0, 0.0, 0.0), Point(500.0, 20.0, 1000.0)),))
    camera = Camera.slanting(0.0, -1.0, 20.0)
    points = [Point(0.0, 100.0, 300.0), Point(0.0, -1.0, 300.0), Point(0.0, 0.0, 300.0)]
    assert seen_points(points, [wall], camera) == [False, True, True]


def test_what_moves_with_the_viewer_looks_the_same() -> None:
    boxes = boxes_apart(7)
    camera = CAMERAS[0]
    turn = Pose(Point(100.0, -40.0, 7.0), Point(0.6, 0.8, 0.0), Point(0.0, 0.0, 1.0))
    turned = Camera(turn.turned(camera.towards), turn.turned(camera.right))
    before = seen([of_boxes((box,)) for box in boxes], camera)
    after = seen([of_boxes((box,)).placed(turn) for box in boxes], turned)
    assert length(after) == pytest.approx(length(before), rel=1e-4)


@pytest.mark.parametrize("camera", CAMERAS)
def test_upside_down_shows_the_underside_upright(camera: Camera) -> None:
    below = camera.upside_down
    assert below.up.z == pytest.approx(-camera.up.z)
    assert below.towards.z == -camera.towards.z
    # No mirror: right, up and towards the viewer are still a right-handed frame.
    x, y, z = below.right, below.up, below.towards
    box = x.x * (y.y * z.z - y.z * z.y) - x.y * (y.x * z.z - y.z * z.x)
    assert box + x.z * (y.x * z.y - y.y * z.x) == pytest.approx(1.0)
