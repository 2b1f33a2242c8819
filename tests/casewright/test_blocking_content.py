"""Where blocking goes for the example set, by hand from its sizes.

Zones reach 50 mm beyond the outermost screws (common practice, no source), and neither under the
floor nor into the corner. Where the screws are: `tests/parametric/test_sizes_by_hand.py`.
"""

from dataclasses import replace

import pytest

from casewright.stages.blocking_content import blocking_plan
from export.site.content import WallElevation
from parametric.geometry.hand import Hand
from parametric.sets.room_set import build_set
from parametric.stock.lengths import Units
from tests.example_set import CONSTRUCTION, ROUTING, TRIM_MM, set_sizes

# Zone, from the corner (from, to), above the floor (from, to), screws; nearest to the corner first.
HEAD_WALL = (
    ("A", "59.1 mm", "347.4 mm", "151.9 mm", "251.9 mm", "3"),  # rail: 109.05 to 297.35, 201.93 up
    ("B", "643.4 mm", "985.4 mm", "490.6 mm", "590.6 mm", "2"),  # table: 693.41 and 935.36, 540.55
    # Plates: 6 in long from 1079.18, 1705.18 and 2330.98; holes 4 in apart, 1027.52 up.
    ("C", "1054.6 mm", "1256.2 mm", "977.5 mm", "1077.5 mm", "2"),
    ("D", "1069.2 mm", "2493.2 mm", "343.3 mm", "443.3 mm", "3"),  # panel: 1119.18 to 2443.18
    ("E", "1680.4 mm", "1882 mm", "977.5 mm", "1077.5 mm", "2"),
    ("F", "2306.2 mm", "2507.8 mm", "977.5 mm", "1077.5 mm", "2"),
)
SIDE_WALL = (("A", "40 mm", "855.4 mm", "151.9 mm", "251.9 mm", "4"),)  # rail: 90 to 805.35


def walls(hand: Hand) -> tuple[WallElevation, ...]:
    room_set = build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM)
    return blocking_plan("job", room_set, Units.MM).walls


@pytest.mark.parametrize("hand", list(Hand))
def test_the_zones_of_both_walls(hand: Hand) -> None:
    head, side = walls(hand)
    assert (head.title, side.title) == ("head wall", "side wall")
    assert head.rows == HEAD_WALL
    assert side.rows == SIDE_WALL


@pytest.mark.parametrize("hand", list(Hand))
def test_the_picture_has_the_same_distances(hand: Hand) -> None:
    """Facing the head wall a right hand's corner is at the right, facing its side wall at the left;
    each edge of a zone is a dimension, once.
    """
    for wall, away in zip(walls(hand), (-1, 1) if hand is Hand.RIGHT else (1, -1), strict=True):
        edges = {text for row in wall.rows for text in row[1:3]}
        heights = {text for row in wall.rows for text in row[3:5]}
        assert {text for _, text in wall.across} == edges
        assert {text for _, text in wall.heights} == heights
        assert all(x * away > 0 for x, _ in wall.across)
        for at, text in (*wall.across, *wall.heights):
            assert abs(at) == pytest.approx(float(text.removesuffix(" mm")), abs=0.0501)


def test_no_zone_reaches_under_the_floor() -> None:
    """The bench alone, its base 75 mm high: screws 45 mm up."""
    alone = dict.fromkeys(("table", "bed", "wall_panel", "angle"))
    low = replace(set_sizes(), base_height_mm=75.0, **alone)
    for hand in Hand:
        room_set = build_set(low, hand, CONSTRUCTION, ROUTING, TRIM_MM)
        for wall in blocking_plan("job", room_set, Units.MM).walls:
            assert {row[3:5] for row in wall.rows} == {("0 mm", "95 mm")}
