"""Pictures of walls: what stands under the floor can be read, whatever the zones."""

import re
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, box

from export.dimensions.scales import scales_of
from export.site.content import BlockingZone, WallElevation
from export.site.wall_picture import WALL_SIZE_MM, wall_scale, wall_svg
from parametric.geometry.outline import Bounds
from parametric.stock.lengths import Units

CHARACTER_MM, CAPITAL_MM = 1.3, 2.2
"""Of the papers' typeface, about: capitals of 2.2 mm, measured on the page."""


@st.composite
def walls(draw) -> WallElevation:
    """Up to five zones on one side of the corner, as close to each other as they come."""
    edges = draw(st.lists(st.integers(10, 2400), min_size=2, max_size=10, unique=True).map(sorted))
    hand = draw(st.sampled_from((1, -1)))
    zones = []
    for number, (near, far) in enumerate(zip(edges[::2], edges[1::2], strict=False)):
        low = draw(st.integers(50, 900))
        x0, x1 = sorted((float(hand * near), float(hand * far)))
        area = Bounds(x0, float(low), x1, low + 90.0)
        zones.append(BlockingZone(label="ABCDE"[number], area=area, screws=()))
    used = edges[: 2 * len(zones)]
    across = tuple((float(hand * edge), f'{edge} 15/32"') for edge in used)
    return WallElevation(
        title="w",
        wanted=(),
        cautions=(),
        wants_blocking=True,
        zones=tuple(zones),
        across=across,
        heights=(),
        rows=(),
    )


def under_the_floor(svg: str) -> tuple[list, list[LineString]]:
    """The boxes of the distances, and the lines that lead to them."""
    texts = [
        (float(x), -float(y), words)
        for x, y, words in re.findall(r'<text x="([-\d.]+)" y="([-\d.]+)"[^>]*>([^<]*)</text>', svg)
        if "/" in words
    ]
    boxes = [
        box(x - half, y, x + half, y + CAPITAL_MM)
        for x, y, words in texts
        for half in [CHARACTER_MM * len(words.replace("&quot;", '"')) / 2]
    ]
    lines = [
        LineString([(float(x), -float(y)) for x, y in re.findall(r"([-\d.]+)[ ,]([-\d.]+)", data)])
        for data in re.findall(r'<path d="([^"]*)"[^>]*stroke="#777"', svg)
    ]
    return boxes, lines


@given(walls())
def test_no_distance_lies_on_another_nor_under_a_line(wall):
    boxes, lines = under_the_floor(wall_svg(wall, wall_scale([wall], Units.INCH)))
    assert len(boxes) == len(lines) == len(wall.across)
    page = box(0, 0, *WALL_SIZE_MM)
    assert all(page.contains(each) for each in boxes)
    assert not any(one.intersects(other) for one, other in combinations(boxes, 2))
    assert not any(line.intersects(each) for line in lines for each in boxes)
    below = [line for line in lines if line.length > 0]
    assert not any(one.crosses(other) for one, other in combinations(below, 2))


def lengths(svg: str, of: str) -> list[float]:
    """How wide each zone, or how high the corner, is on the page."""
    if of == "zones":
        drawn = re.findall(r'<path d="([^"]*)" fill="#ddd"', svg)
        return sorted(
            max(xs) - min(xs)
            for data in drawn
            for xs in [[float(x) for x, _ in re.findall(r"([-\d.]+)[ ,]([-\d.]+)", data)]]
        )
    (data,) = re.findall(r'<path d="([^"]*)"[^>]*stroke-width="0.7"', svg)
    ys = [float(y) for _, y in re.findall(r"([-\d.]+)[ ,]([-\d.]+)", data)]
    return [max(ys) - min(ys)]


@given(walls(), walls(), st.sampled_from(Units))
def test_walls_are_drawn_to_one_scale_that_can_be_measured(one, other, units):
    """A millimetre of either wall is as long on the page, at a scale of drawings of the job's
    units, and no picture is too high.
    """
    scale = wall_scale([one, other], units)
    assert scale == min(wall_scale([each], units) for each in (one, other))
    assert 1 / scale in scales_of(units)
    for wall in (one, other):
        svg = wall_svg(wall, scale)
        wide = sorted((zone.area.x1 - zone.area.x0) * scale for zone in wall.zones)
        assert lengths(svg, "zones") == pytest.approx(wide, abs=0.011)
        top = max(zone.area.y1 for zone in wall.zones)
        assert lengths(svg, "corner") == pytest.approx([top * scale], abs=0.011)
        (height,) = re.findall(r'viewBox="0 [-\d.]+ 170 ([\d.]+)"', svg)
        assert float(height) <= WALL_SIZE_MM[1] + 0.01
