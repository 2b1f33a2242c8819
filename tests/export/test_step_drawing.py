"""The picture of a step on paper: every screw's arrow ends at its hole, letters keep clear."""

import itertools
import math
import re
from dataclasses import replace

import pytest

from export.site.content import Callout, DrivenScrew, StepPicture
from export.site.step_drawing import scale_of, step_svg
from parametric.geometry.outline import Bounds

SIZE = (180.0, 100.0)
SQUARE = (
    ((0.0, 0.0), (400.0, 0.0)),
    ((400.0, 0.0), (400.0, 200.0)),
    ((0.0, 200.0), (400.0, 200.0)),
    ((0.0, 0.0), (0.0, 200.0)),
)


def screw(x: float, y: float, label: str = "A", *, seen: bool = True) -> DrivenScrew:
    return DrivenScrew(label=label, at=(x, y), way=(0.5, -0.5), seen=seen, thread=None)


def picture(screws: int = 12, callouts: int = 6) -> StepPicture:
    return StepPicture(
        new=SQUARE,
        earlier=(),
        marks=(),
        callouts=tuple(
            Callout(label=f"P-{at:02}", at=(60.0 * at, 200.0)) for at in range(callouts)
        ),
        screws=tuple(screw(20.0 + 8 * at, 90.0) for at in range(screws)),
    )


def texts(svg: str) -> dict[str, list[tuple[float, float, float]]]:
    """Place and size of each text."""
    found: dict[str, list[tuple[float, float, float]]] = {}
    pattern = r'<text x="([-\d.]+)" y="([-\d.]+)"[^>]* font-size="([\d.]+)"[^>]*>([^<]+)<'
    for x, y, size, text in re.findall(pattern, svg):
        found.setdefault(text, []).append((float(x), float(y), float(size)))
    return found


@pytest.mark.parametrize("size", [(180.0, 100.0), (60.0, 40.0), (30.0, 25.0)])
def test_edges_of_a_board_stand_clear_of_each_other(size: tuple[float, float]) -> None:
    """Of one of 18 mm, by more than half of what lies between the middles of its edges."""
    (width,) = re.findall(
        r'stroke="#000"[^>]* stroke-width="([\d.]+)"', step_svg(picture(0, 0), "t", *size)
    )
    assert float(width) < 18.0 * scale_of(picture(0, 0), *size) / 2


def test_each_screw_has_its_letter_and_its_hole() -> None:
    svg = step_svg(picture(), "t", *SIZE)
    assert len(texts(svg)["A"]) == 12
    assert svg.count("<circle") == 12
    # Holes stand as far apart on paper as they do in the set, times the scale.
    centres = [float(x) for x in re.findall(r'<circle cx="([\d.]+)"', svg)]
    apart = [b - a for a, b in itertools.pairwise(centres)]
    assert apart == pytest.approx([8 * scale_of(picture(), *SIZE)] * 11, abs=0.01)


def test_letters_and_labels_keep_clear_of_each_other_and_on_the_page() -> None:
    placed = [
        (text, x, y, size)
        for text, at in texts(step_svg(picture(), "t", *SIZE)).items()
        for x, y, size in at
    ]
    assert len(placed) == 18
    for _, x, y, _ in placed:
        assert 0 <= x <= SIZE[0] and 0 <= -y <= SIZE[1]
    for (one, x, y, size), (other, x2, y2, _) in itertools.combinations(placed, 2):
        # A character of the papers' font is at most as wide as 0.55 of its size, on average.
        wide = 0.55 * size * (len(one) + len(other)) / 2
        assert abs(x - x2) >= wide or abs(y - y2) >= 0.7 * size


def test_type_on_a_picture_is_read_at_arms_length() -> None:
    """11 pt: common practice, no source. 1 pt is 25.4 / 72 mm."""
    for at in texts(step_svg(picture(), "t", *SIZE)).values():
        assert all(size >= 10 * 25.4 / 72 for _, _, size in at)


def test_a_screw_that_is_not_seen_has_a_dashed_arrow() -> None:
    plain, hidden = (
        step_svg(
            StepPicture(
                new=SQUARE, earlier=(), marks=(), callouts=(), screws=(screw(9, 9, seen=s),)
            ),
            "t",
            *SIZE,
        )
        for s in (True, False)
    )
    assert "dasharray" not in plain and "dasharray" in hidden


def test_the_arrow_points_the_way_the_screw_goes() -> None:
    one = StepPicture(new=SQUARE, earlier=(), marks=(), callouts=(), screws=(screw(100.0, 100.0),))
    svg = step_svg(one, "t", *SIZE)
    (tail_x, tail_y, tip_x, tip_y) = map(
        float,
        re.findall(r'd="M([\d.]+) (-[\d.]+)L([\d.]+) (-[\d.]+)"', svg)[-1],
    )
    # y runs down in SVG: a way of (0.5, -0.5) goes right and down.
    assert tip_x > tail_x and tip_y > tail_y
    assert math.isclose(tip_x - tail_x, tip_y - tail_y, rel_tol=0.01)


def test_the_picture_fills_its_room() -> None:
    """A square twice as wide as high, less the rim of 9 mm on all sides, is limited by its width
    on narrow paper and by its height on low paper.
    """
    low = scale_of(picture(0, 0), 180.0, 80.0)
    assert 200 * low == pytest.approx(80.0 - 18.0)
    assert 400 * scale_of(picture(0, 0), 120.0, 100.0) == pytest.approx(120.0 - 18.0)


def test_what_stands_around_goes_on_to_the_rim_of_the_picture_and_no_further() -> None:
    """A frame of 400 x 200 in 180 x 80 less 4 mm: 2.78 set millimetres to one of the page."""
    frame = Bounds(0.0, 0.0, 400.0, 200.0)
    earlier = (((-5000.0, 100.0), (5000.0, 100.0)), ((0.0, 900.0), (400.0, 900.0)))
    shown = replace(picture(0, 0), earlier=earlier, frame=frame)
    assert scale_of(shown, 180.0, 80.0) == pytest.approx((80.0 - 8.0) / 200.0)
    grey = re.findall(
        r'd="M([\d.]+) (-[\d.]+)L([\d.]+) (-[\d.]+)"[^>]*"#777"', step_svg(shown, "t", 180.0, 80.0)
    )
    assert grey == [("0", "-40", "180", "-40")]


def test_a_small_circle_stays_whole() -> None:
    """24 chords of a circle of 20 mm, each 2.6 mm, are 1 mm long or less on paper."""
    turns = [math.radians(15 * step) for step in range(25)]
    points = [(100 + 10 * math.cos(turn), 100 + 10 * math.sin(turn)) for turn in turns]
    ring = tuple(itertools.pairwise(points))
    shown = replace(picture(0, 0), earlier=ring, frame=Bounds(0.0, 0.0, 400.0, 200.0))
    (data,) = re.findall(r'd="([^"]*)"[^>]*"#777"', step_svg(shown, "t", 180.0, 80.0))
    assert data.count("M") == 24


def test_a_picture_with_more_labels_than_room_grows() -> None:
    crowded = picture(40, 20)
    assert len(texts(step_svg(crowded, "t", 60.0, 30.0))["A"]) == 40


def test_a_label_wider_than_its_picture_is_cut_short() -> None:
    """At no height would there be room for it, so that looking for one would never end."""
    label = "Steel leg, 60 mm tube, 90 mm plate, for desks"
    named = replace(picture(0, 0), callouts=(Callout(label=label, at=(0.0, 0.0)),))
    (told,) = texts(step_svg(named, "t", 60.0, 40.0))
    assert told.endswith("…") and label.startswith(told[:-1]) and len(told) > 20
    (whole,) = texts(step_svg(named, "t", 180.0, 40.0))
    assert whole == label


def test_names_lie_on_no_furniture_where_nothing_new_comes() -> None:
    """Of the last step: a name that would lie on an edge stands beside it, with a leader."""
    last = StepPicture(
        new=(), earlier=SQUARE, marks=(), callouts=(), names=(("filler", (400.0, 100.0)),)
    )
    svg = step_svg(last, "t", *SIZE)
    ((x, _, size),) = texts(svg)["filler"]
    scale = scale_of(last, *SIZE)
    left = SIZE[0] / 2 - 200.0 * scale
    edge = left + 400.0 * scale
    # 0.5 of its size is what a letter is wide, about.
    assert not x - 1.5 * size < edge < x + 1.5 * size
    assert svg.count('stroke-width="0.13"') == 2, "a leader and its head"
    on_wall = replace(last, names=(("side wall", (200.0, 100.0)),))
    assert 'stroke-width="0.13"' not in step_svg(on_wall, "t", *SIZE)
