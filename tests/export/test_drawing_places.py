"""Where texts of part drawings go, what sizes read like, what other readers make of the file."""

from __future__ import annotations

import itertools
from pathlib import Path

import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st

from export.dimensions.content import CHARACTER_MM, Reading
from export.dimensions.free_space import meets
from export.dimensions.reading import drawn_length
from export.dimensions.spread import spread
from export.dxf.drawing_writer import drawing_dxf
from export.papers.pdf import pdf_bytes
from export.part_drawing.needed import needed
from export.part_drawing.pages import drawings_source
from parametric.geometry.outline import Bounds, Outline, Vertex
from parametric.stock.lengths import Units
from parametric.stock.paper import Paper
from tests.export.sample_parts import notched_panel
from tests.export.test_part_drawings import QUARTER, SAMPLES, drawing_of
from tests.outside.gdal_reading import entity_count, needs_gdal, read_by_gdal

POINTS_PER_MM = 72 / 25.4

places = st.lists(st.floats(0, 100), min_size=1, max_size=12).map(sorted)


@given(places, st.floats(0.5, 8))
def test_labels_stand_apart_in_their_order_and_within_bounds(
    wanted: list[float], apart: float
) -> None:
    high = max(100.0, apart * (len(wanted) - 1))
    got = spread(wanted, apart, 0.0, high)
    assert len(got) == len(wanted)
    assert all(b - a >= apart - 1e-9 for a, b in itertools.pairwise(got))
    assert got[0] >= -1e-9 and got[-1] <= high + 1e-9


@given(places, st.floats(0.5, 8))
def test_no_small_shift_of_one_label_is_better(wanted: list[float], apart: float) -> None:
    """The sum of squares is convex: what no run of neighbours can better by moving together is the
    least there is.
    """
    got = list(spread(wanted, apart, -1000.0, 1000.0))

    def cost(at: list[float]) -> float:
        return float(sum(((a - b) ** 2 for a, b in zip(at, wanted, strict=True)), start=0))

    for first, last in itertools.combinations(range(len(got) + 1), 2):
        for step in (0.01, -0.01):
            moved = [at + step * (first <= i < last) for i, at in enumerate(got)]
            if all(b - a >= apart - 1e-9 for a, b in itertools.pairwise(moved)):
                assert cost(moved) >= cost(got) - 1e-9


def test_labels_that_have_room_stay_where_they_belong() -> None:
    assert spread([1.0, 9.0, 30.0], 3.0, 0.0, 40.0) == (1.0, 9.0, 30.0)
    assert spread([10.0, 10.0], 4.0, 0.0, 40.0) == (8.0, 12.0)  # alike to both sides, by hand
    assert spread([], 3.0, 0.0, 1.0) == ()


@pytest.mark.parametrize(
    ("mm", "units", "text"),
    [
        (9.45, Units.MM, "9.5"),  # tenths, halves upwards
        (404.0, Units.MM, "404"),
        (0.0, Units.MM, "0"),
        (9.525, Units.INCH, '3/8"'),
        (2.778125, Units.INCH, '7/64"'),  # a drill by its fraction
        (336.55, Units.INCH, '13 1/4"'),
        (25.4, Units.INCH, '1"'),
        (404.4, Units.INCH, '15.921"'),  # 404.4 / 25.4 = 15.92126
        (25.5, Units.INCH, '1.004"'),
    ],
)
def test_sizes_read_as_they_are_measured(mm: float, units: Units, text: str) -> None:
    assert drawn_length(mm, units) == text


@pytest.mark.parametrize(
    ("start", "end", "met"),
    [
        ((0, 0), (10, 10), True),  # through the box from (2, 4) to (6, 5)
        ((0, 6), (10, 6), False),
        ((4, 4.5), (4, 4.6), True),  # wholly inside
        ((0, 4.5), (1.9, 4.5), False),  # ends before it
        ((7, 0), (7, 10), False),
    ],
)
def test_lines_that_come_into_a_box(
    start: tuple[float, float], end: tuple[float, float], met: bool
) -> None:
    assert meets(Bounds(2.0, 4.0, 6.0, 5.0), start, end) is met


def test_what_must_be_told_of_edges() -> None:
    """By hand: a rounded corner is where its edges meet, a hollow one its two ends, a circle its
    middle.
    """
    corner = (Vertex(10, 0, QUARTER), Vertex(20, 10), Vertex(20, 30), Vertex(0, 30), Vertex(0, 0))
    round_one = needed(Outline(corner))
    assert set(round_one.places) == {(20, 0), (20, 30), (0, 30), (0, 0)}
    assert [arc.radius_mm for arc in round_one.rounded] == pytest.approx([10.0])
    hollow = (Vertex(10, 0, -QUARTER), *corner[1:])
    hollow_one = needed(Outline(hollow))
    assert set(hollow_one.places) == {(10, 0), (20, 10), (20, 30), (0, 30), (0, 0)}
    assert (hollow_one.rounded, len(hollow_one.arcs)) == ((), 1)
    circle = needed(Outline.circle(5.0, 6.0, 4.0))
    assert circle.circle is not None
    assert (circle.places, circle.circle.radius_mm) == (((5.0, 6.0),), 2.0)


@pytest.mark.parametrize("paper", Paper)
def test_printed_texts_keep_to_their_boxes(paper: Paper) -> None:
    """The boxes that are kept free have a fixed width for each character; what the PDF prints is no
    wider. Texts that read upwards are printed letter by letter; they are as wide as level ones.
    """
    drawing = drawing_of(notched_panel(), Units.INCH, paper)
    source = drawings_source("job", [drawing], Units.INCH, paper)
    text = pypdfium2.PdfDocument(pdf_bytes(source))[1].get_textpage()
    rects = [text.get_rect(index) for index in range(text.count_rects())]
    printed = {text.get_text_bounded(*rect).strip(): rect for rect in rects}
    level = [
        each.text.text
        for each in drawing.views[0].dimensions
        if each.text.reading is Reading.LEVEL and each.text.text in printed
    ]
    assert len(level) >= 4
    for each in level:
        x0, _, x1, _ = printed[each]
        assert x1 - x0 <= len(each) * CHARACTER_MM * POINTS_PER_MM


@needs_gdal
@pytest.mark.parametrize("name", SAMPLES)
def test_another_reader_sees_the_part_and_its_sizes(name: str, tmp_path: Path) -> None:
    """GDAL draws a dimension from its own points and shows its text; the first part edge is the
    board, full size, its corner at the origin.
    """
    drawing = drawing_of(SAMPLES[name])
    path = tmp_path / "drawing.dxf"
    path.write_bytes(drawing_dxf(drawing))
    assert entity_count(path) > 0
    entities = read_by_gdal(path)
    edges = [each.shape.bounds for each in entities if each.layer == "DRAWING-PART"]
    panel = SAMPLES[name]
    assert edges[0] == pytest.approx((0.0, 0.0, panel.length_mm, panel.width_mm), abs=0.02)
    shown = {each.text for each in entities if each.layer == "DRAWING-DIMENSION"}
    assert {each.text.text for view in drawing.views for each in view.dimensions} <= shown
    table = " ".join(each.text for each in entities if each.layer == "DRAWING-TABLE")
    assert all(head in table for grid in drawing.grids for head in grid.heads)
