"""What a set covers of the floor, from the sizes of the example set."""

from itertools import pairwise

import pytest

from export.papers.blocks import Head, Page
from export.papers.page_format import page_format
from export.papers.typesetting import document
from export.svg.hand_plan import hand_plan_svg
from parametric.geometry.hand import Hand
from parametric.sets.room_set import build_set
from parametric.sets.standing_plan import stands_in_plan
from parametric.stock.paper import Paper
from tests.example_set import CONSTRUCTION, ROUTING, TRIM_MM, set_sizes


@pytest.mark.parametrize("hand", Hand)
def test_units_stand_alike_in_both_hands_and_the_panel_is_none(hand: Hand) -> None:
    """By hand: bench, table and bed along the head wall, from the corner; the panel hangs."""
    room_set = build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM)
    stands = stands_in_plan(room_set)
    assert len(stands) == 3
    assert stands[0].x0 == pytest.approx(0.0)
    assert all(one.x1 <= other.x0 + 1e-6 for one, other in pairwise(stands))
    assert all(each.y0 >= -1e-6 for each in stands)


def test_the_head_of_a_page_shows_what_stands() -> None:
    room_set = build_set(set_sizes(), Hand.LEFT, CONSTRUCTION, ROUTING, TRIM_MM)
    stands = stands_in_plan(room_set)
    page = Page(blocks=(Head(title="x", hand=Hand.LEFT, stands=stands),))
    made = document(page_format(Paper.A4), "job", [page])
    drawn = "".join(content for _, content in made.files)
    assert drawn.count('fill="#e4e4e4"') == 3
    assert hand_plan_svg(Hand.LEFT, stands) != hand_plan_svg(Hand.LEFT)
