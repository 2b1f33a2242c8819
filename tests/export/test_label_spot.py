import math

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, affinity, box

from export.drawing.label_spot import label_on
from export.drawing.primitives import Label
from export.drawing.sheet_drawing import sheet_drawing
from parametric.geometry.outline import Outline, Vertex
from tests.export.sample_parts import (
    STOCK,
    bore,
    flat_panel,
    notched_panel,
    sample_layers,
    sample_layout,
    sample_parts,
)


def text_box(label: Label) -> Polygon:
    """The box of the text, a character as wide as high; shapely knows nothing of the placing."""
    flat = box(0, 0, len(label.text) * label.height_mm, label.height_mm)
    turned = affinity.rotate(flat, label.angle_deg, origin=(0, 0))
    return affinity.translate(turned, label.x, label.y)


def outline_polygon(outline: Outline) -> Polygon:
    return Polygon([vertex[:2] for vertex in outline.vertices])


def test_a_text_keeps_clear_of_every_cut_where_there_is_room() -> None:
    panel = notched_panel()
    text = text_box(label_on(panel, "A-01", "PART_TEXT"))
    assert outline_polygon(panel.outline).contains(text)
    for opening in panel.openings:
        assert text.disjoint(outline_polygon(opening))
    for pocket in panel.pockets:
        assert text.disjoint(outline_polygon(pocket.outline))
    for hole in panel.bores:
        assert text.disjoint(Point(hole.x, hole.y).buffer(hole.diameter_mm / 2))


def test_a_text_on_a_plain_panel_is_large_level_and_in_the_middle() -> None:
    label = label_on(flat_panel(600, 300), "A-01", "PART_TEXT")
    assert (label.height_mm, label.angle_deg) == (50.0, 0.0)
    assert text_box(label).centroid.distance(Point(300, 150)) < 1e-6


def test_a_text_on_an_upright_strip_reads_from_the_right() -> None:
    panel = flat_panel(40, 700)
    label = label_on(panel, "A-01", "PART_TEXT")
    assert label.angle_deg == 90.0
    assert outline_polygon(panel.outline).contains(text_box(label))


def test_a_text_avoids_through_holes_when_it_cannot_avoid_grooves() -> None:
    panel = flat_panel(100, 40, bores=(bore(50, 20, 36, 3), bore(20, 20, 5, None)))
    text = text_box(label_on(panel, "LONG-NUMBER", "PART_TEXT"))
    assert text.disjoint(Point(20, 20).buffer(2.5))


def test_a_text_does_not_lie_within_an_opening_that_it_would_not_touch() -> None:
    """By hand: four letters of 50 mm with their margins are 240 x 90 mm, and the opening in the
    middle of the part, 260 x 110 mm, has room for them: but there is no part to write on.
    """
    corners = ((170, 95), (430, 95), (430, 205), (170, 205))
    opening = Outline(tuple(Vertex(*corner) for corner in corners))
    text = text_box(label_on(flat_panel(600, 300, openings=(opening,)), "A-01", "PART_TEXT"))
    assert text.disjoint(outline_polygon(opening))
    for x in (120, 300, 480):  # a hole that goes right through, and a pocket, are no better
        hole = label_on(flat_panel(600, 300, bores=(bore(x, 150, 280, None),)), "A", "PART_TEXT")
        assert text_box(hole).disjoint(Point(x, 150).buffer(140))


@settings(max_examples=60, deadline=None)
@given(
    length=st.floats(3, 2400),
    width=st.floats(3, 1200),
    number=st.text("ABC0123456789-", min_size=1, max_size=14),
    holes=st.lists(st.tuples(st.floats(0.1, 0.9), st.floats(0.1, 0.9)), max_size=6),
)
def test_a_text_never_leaves_its_part(
    length: float, width: float, number: str, holes: list[tuple[float, float]]
) -> None:
    bores = tuple(bore(length * x, width * y, min(length, width) / 9, None) for x, y in holes)
    label = label_on(flat_panel(length, width, bores=bores), number, "PART_TEXT")
    assert label.height_mm > 0
    assert box(0, 0, length, width).buffer(1e-6).contains(text_box(label))


def test_no_two_texts_of_a_sheet_overlap() -> None:
    labels = sheet_drawing(sample_layout(), sample_parts(), STOCK, sample_layers()).labels
    boxes = [text_box(label) for label in labels]
    assert len(boxes) == 3
    for index, first in enumerate(boxes):
        assert all(first.disjoint(second) for second in boxes[index + 1 :])


def test_the_text_of_a_round_part_stays_off_its_arc() -> None:
    panel = flat_panel(200, 200, outline=Outline.circle(100, 100, 200))
    text = text_box(label_on(panel, "A-01", "PART_TEXT"))
    arc = LineString(
        [(100 + 100 * math.cos(a / 50), 100 + 100 * math.sin(a / 50)) for a in range(315)]
    )
    assert text.disjoint(arc)
    assert text.within(Point(100, 100).buffer(100))
