"""What hides what, against the kernel's own hidden lines (Open CASCADE), which share no code."""

import itertools
import math
import random

import cadquery as cq
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parametric.geometry.pose import Pose
from parametric.geometry.space import Box, Point, dot
from parametric.pictures.bodies import Body, Edge, of_boxes
from parametric.pictures.camera import Camera
from parametric.pictures.sight import (
    DIGITS,
    SKIN_MM,
    Line,
    _rounded,
    seen_lines,
    seen_points,
)
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


def test_what_is_shifted_lies_where_its_frame_puts_it() -> None:
    body = of_boxes((boxes_apart(3)[0],))
    shift = Pose(Point(100.0, -40.0, 7.0), Point(1.0, 0.0, 0.0), Point(0.0, 0.0, 1.0))
    moved = body.placed(shift)
    for edge, other in zip(body.edges, moved.edges, strict=True):
        assert other[:2] == (shift.to_room(edge.start), shift.to_room(edge.end))
    for side, other_side in zip(body.pieces[0].sides, moved.pieces[0].sides, strict=True):
        assert other_side.out == side.out
        far = Point(*(value * side.distance for value in side.out))  # it is square to an axis
        to = shift.to_room(far)
        assert dot(to, side.out) == pytest.approx(other_side.distance)


@pytest.mark.parametrize("camera", CAMERAS)
def test_upside_down_shows_the_underside_upright(camera: Camera) -> None:
    below = camera.upside_down
    assert below.up.z == pytest.approx(-camera.up.z)
    assert below.towards.z == -camera.towards.z
    # No mirror: right, up and towards the viewer are still a right-handed frame.
    x, y, z = below.right, below.up, below.towards
    box = x.x * (y.y * z.z - y.z * z.y) - x.y * (y.x * z.z - y.z * z.x)
    assert box + x.z * (y.x * z.y - y.y * z.x) == pytest.approx(1.0)


HEAD_ON = Camera.slanting(0.0, -1.0, 0.0)


def posts(*spans: tuple[float, float]) -> list[Body]:
    """Posts in front of what lies along x in the wall, from so far to so far along it."""
    return [
        of_boxes((Box(Point(low, -50.0, -10.0), Point(high, -20.0, 10.0)),)) for low, high in spans
    ]


@pytest.mark.parametrize(
    ("spans", "left"),
    [
        ([], [(0, 1000)]),
        ([(100, 300), (250, 400), (600, 700)], [(0, 100), (400, 600), (700, 1000)]),
        ([(600, 700), (250, 400), (100, 300)], [(0, 100), (400, 600), (700, 1000)]),
        ([(100, 900), (200, 300)], [(0, 100), (900, 1000)]),
        ([(200, 300), (100, 900)], [(0, 100), (900, 1000)]),
        ([(-10, 500), (900, 1010)], [(500, 900)]),
        ([(-10, 500), (400, 1010)], []),
        ([(-300, -10), (1010, 1300)], [(0, 1000)]),
        (
            [(at + 10, at + 30) for at in range(0, 1000, 40)],
            [(0, 10), *((at - 10, at + 10) for at in range(40, 1000, 40)), (990, 1000)],
        ),
    ],
)
def test_posts_leave_what_lies_between_them(
    spans: list[tuple[float, float]], left: list[tuple[float, float]]
) -> None:
    """Worked out by hand; each post hides as if smaller all round by the skin."""
    edge = Edge(Point(0.0, 0.0, 0.0), Point(1000.0, 0.0, 0.0))
    ((*lines,),) = seen_lines([[edge]], posts(*spans), HEAD_ON)
    ends = [sorted((start[0], end[0])) for start, end in lines]
    skin = [(SKIN_MM if low else 0.0, SKIN_MM if high < 1000 else 0.0) for low, high in left]
    assert ends == [
        pytest.approx([low - before, high + after])
        for (low, high), (before, after) in zip(left, skin, strict=True)
    ]


def _half(count: int) -> float:
    """So many halves of a hundredth."""
    return count / 200


@given(st.lists(st.one_of(st.floats(-1e5, 1e5), st.integers(-(10**7), 10**7).map(_half))))
def test_places_in_a_picture_are_rounded_as_python_rounds(values: list[float]) -> None:
    """Against `round`, which is exact; halves of the last digit among them."""
    rounded = _rounded(np.array(values, dtype=np.float64)).tolist()
    assert rounded == [round(value, DIGITS) for value in values]
    assert all(math.copysign(1.0, value) > 0 for value in rounded if not value)
