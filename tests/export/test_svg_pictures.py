import math
import re
from itertools import combinations
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import box as box_of

from export.drawing.sheet_drawing import sheet_drawing
from export.dxf.content import DxfContent
from export.dxf.reader import read_dxf
from export.dxf.writer import dxf_bytes
from export.dxf_version import DxfVersion
from export.svg.dimensions import PictureDimension, drawn_dimensions
from export.svg.elements import closed_path_data
from export.svg.hand_plan import hand_plan_svg
from export.svg.line_picture import lines_svg
from export.svg.sheet_map import sheet_map_svg
from export.svg.sheet_marks import RISK_TEXT
from parametric.geometry.hand import Hand
from parametric.geometry.outline import Bounds, Vertex
from parametric.stock.lengths import Units
from tests.export.sample_parts import STOCK, sample_layers, sample_layout, sample_parts

SVG = "{http://www.w3.org/2000/svg}"
BOX = [[(0, 0), (2000, 0), (2000, 400), (0, 400), (0, 0)]]


def content() -> DxfContent:
    layers = sample_layers()
    drawing = sheet_drawing(sample_layout(), sample_parts(), STOCK, layers)
    return read_dxf(dxf_bytes(drawing, layers, DxfVersion.R2010))


def sheet_map(units: Units = Units.MM, runs: int = 3) -> ElementTree.Element:
    return ElementTree.fromstring(
        sheet_map_svg(content(), sample_layers(), title="board, layout 001", runs=runs, units=units)
    )


def texts(svg: ElementTree.Element) -> list[str]:
    return [element.text or "" for element in svg.iter(f"{SVG}text")]


def arc_centre_by_svg_rules(
    start: tuple[float, float], end: tuple[float, float], radius: float, large: int, sweep: int
) -> tuple[float, float]:
    """Centre of an arc from its end points: SVG 2, appendix B.2.4 (from
    memory), for a circle."""
    dx, dy = (start[0] - end[0]) / 2, (start[1] - end[1]) / 2
    squared = max(0.0, radius**2 / (dx**2 + dy**2) - 1)
    sign = -1 if large == sweep else 1
    factor = sign * math.sqrt(squared)
    return (
        factor * dy + (start[0] + end[0]) / 2,
        -factor * dx + (start[1] + end[1]) / 2,
    )


@pytest.mark.parametrize("degrees", [-300, -180, -90, -20, 20, 90, 170, 180, 200, 340])
def test_arcs_are_true_and_bend_the_right_way(degrees: float) -> None:
    # An arc round (10, 20) with radius 50 that starts to the right of its centre; y runs down in
    # SVG, so its centre must come out at (10, -20).
    angle = math.radians(degrees)
    start = (60.0, 20.0)
    end = (10 + 50 * math.cos(angle), 20 + 50 * math.sin(angle))
    data = closed_path_data((Vertex(*start, math.tan(angle / 4)), Vertex(*end)))
    found = re.match(r"M60 -20A(\S+) (\S+) 0 ([01]) ([01]) (\S+) ([^LAZ]+)", data)
    assert found
    radius, _, large, sweep, x, y = found.groups()
    assert float(radius) == pytest.approx(50)
    centre = arc_centre_by_svg_rules(
        (60, -20), (float(x), float(y)), float(radius), int(large), int(sweep)
    )
    assert centre == pytest.approx((10, -20), abs=0.02)
    assert int(large) == (abs(degrees) > 180)


def test_the_map_shows_the_parts_numbers_sizes_and_runs() -> None:
    shown = texts(sheet_map())
    assert {"A-01", "B-02", "C-03", "2440 mm", "1220 mm"} <= set(shown)
    assert "board, layout 001: cut 3 sheets like this" in shown
    assert "board, layout 001: cut 1 sheet like this" in texts(sheet_map(runs=1))
    # 2440 mm / 25.4 = 96.063 in: to the nearest 1/32 that is 96 1/16
    assert {'96 1/16"', '48 1/32"'} <= set(texts(sheet_map(Units.INCH)))


def test_each_part_on_the_map_says_which_it_is() -> None:
    """By hand, from the layout: A-01 lies at 10, 10 and is 500 by 300, B-02 at 520, 10 and turned,
    C-03 at 10, 600 and is 600 by 24; the map's y runs down.
    """
    places = {"A-01": (10, -10), "B-02": (520, -10), "C-03": (10, -600)}
    named = [path for path in sheet_map().iter(f"{SVG}path") if path.get("data-part")]
    assert [path.get("data-part") for path in named] == list(places)
    for path in named:
        points = re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", path.get("d", ""))
        left = min(float(x) for x, _ in points)
        low = max(float(y) for _, y in points)
        assert (left, low) == pytest.approx(places[path.get("data-part", "")])


def test_a_long_title_stays_on_the_map_with_its_run_count() -> None:
    """At 0.6 of the letters' height a character, the common width of a sans serif."""
    long = "a board whose description is as long as a whole line of text may ever be " * 2
    svg = ElementTree.fromstring(
        sheet_map_svg(content(), sample_layers(), title=long, runs=3, units=Units.MM)
    )
    heading = next(e for e in svg.iter(f"{SVG}text") if "cut 3 sheets" in "".join(e.itertext()))
    x, _, width, _ = map(float, svg.get("viewBox", "").split())
    right = float(heading.get("x", "")) + 0.6 * len(long) * float(heading.get("font-size", ""))
    assert right < x + width


def test_the_map_draws_everything_that_the_file_holds() -> None:
    svg, drawing = sheet_map(), content().drawing
    assert len(list(svg.iter(f"{SVG}circle"))) == len(drawing.circles) == 4
    data = "".join(path.get("d", "") for path in svg.iter(f"{SVG}path") if path.get("fill-rule"))
    assert data.count("Z") == len(drawing.paths)
    # true arcs: two for each of the 2 slots, 2 routed grooves and 2 routed openings, one for each
    # of the 2 rounded corners
    assert data.count("A") == 2 * (2 + 2 + 2) + 2


def test_an_island_is_left_out_of_its_groove() -> None:
    grooves = [path for path in sheet_map().iter(f"{SVG}path") if path.get("fill") == "#b9b9b9"]
    assert all(path.get("fill-rule") == "evenodd" for path in grooves)
    # one path for each depth; the deep one holds two areas with an island each
    assert sorted(path.get("d", "").count("Z") for path in grooves) == [2, 4]


def test_a_map_without_a_sheet_is_an_error() -> None:
    layers = sample_layers()
    empty = read_dxf(dxf_bytes(content().drawing.__class__(), layers, DxfVersion.R12))
    with pytest.raises(ValueError, match="no sheet edge"):
        sheet_map_svg(empty, layers, title="x", runs=1, units=Units.MM)


def test_lines_fit_the_view() -> None:
    svg = ElementTree.fromstring(lines_svg([*BOX, [(0, 0), (100, 700)]]))
    x, y, width, height = map(float, svg.get("viewBox", "").split())
    assert x < 0  # x runs right
    assert x + width > 2000
    assert y < -700  # y runs down
    assert y + height > 0
    assert width < 2200
    assert height < 900


def test_a_picture_of_nothing_is_an_error() -> None:
    with pytest.raises(ValueError, match="at least one line"):
        lines_svg([])


def dimension(
    start: tuple[float, float], end: tuple[float, float], offset: float
) -> PictureDimension:
    return PictureDimension(start=start, end=end, offset_mm=offset, text='78 3/4"')


def test_a_dimension_has_arrowheads_at_its_ends_and_an_upright_text() -> None:
    svg = ElementTree.fromstring(lines_svg(BOX, [dimension((0, 0), (2000, 0), -200)]))
    (text,) = svg.iter(f"{SVG}text")
    assert text.text == '78 3/4"'
    assert text.get("transform") is None
    (heads,) = [path for path in svg.iter(f"{SVG}path") if path.get("fill") == "#333"]
    assert re.findall(r"M(\S+ \S+?)L", heads.get("d", "")) == ["0 200", "2000 200"]


def test_the_view_grows_by_the_dimensions() -> None:
    svg = ElementTree.fromstring(lines_svg(BOX, [dimension((0, 0), (2000, 0), -200)]))
    _, y, _, height = map(float, svg.get("viewBox", "").split())
    assert y + height > 200


points = st.tuples(st.floats(0, 2000), st.floats(0, 1000))


@given(
    st.lists(
        st.tuples(points, points, st.floats(-300, 300)).filter(lambda d: math.dist(d[0], d[1]) > 1),
        min_size=1,
        max_size=6,
    )
)
def test_texts_of_dimensions_never_overlap(
    lines: list[tuple[tuple[float, float], tuple[float, float], float]],
) -> None:
    drawn = drawn_dimensions([dimension(*line) for line in lines], 40.0)
    for a, b in combinations([item.text_box for item in drawn], 2):
        assert a.x1 <= b.x0 or b.x1 <= a.x0 or a.y1 <= b.y0 or b.y1 <= a.y0


def test_a_text_stays_off_what_is_measured() -> None:
    (drawn,) = drawn_dimensions([dimension((0, 0), (0, 400), 1.0)], 40.0)
    assert drawn.text_box.x1 < 0


def test_a_dimension_of_no_length_is_an_error() -> None:
    with pytest.raises(ValueError, match="between one point"):
        drawn_dimensions([dimension((5, 5), (5, 5), 10)], 40.0)


@pytest.mark.parametrize("hand", list(Hand))
def test_the_corner_is_on_the_side_that_names_the_hand(hand: Hand) -> None:
    # Seen from above with the head wall at the top, one looks at the head wall upwards on the page:
    # right stays right.
    svg = ElementTree.fromstring(hand_plan_svg(hand))
    x = {text.text: float(text.get("x", "")) for text in svg.iter(f"{SVG}text")}
    assert (x["1"] > x["3"]) == (hand is Hand.RIGHT)
    assert f"{hand} hand" in x


@pytest.mark.parametrize("hand", list(Hand))
def test_the_plan_of_a_set_has_its_own_units(hand: Hand) -> None:
    """Four units, the last out along the side wall: as they lie, by one measure."""
    stands = (
        Bounds(0, 0, 500, 600),
        Bounds(510, 0, 810, 300),
        Bounds(820, 0, 1700, 2000),
        Bounds(0, 900, 500, 2400),
    )
    svg = hand_plan_svg(hand, stands)
    drawn = [
        box_of(min(xs), min(ys), max(xs), max(ys))
        for data in re.findall(r'<path d="([^"]*)" fill="#e4e4e4"', svg)
        for xs, ys in [corners_of(data)]
    ]
    assert len(drawn) == len(stands)
    first = drawn[0].area / (500 * 600)
    for shown, unit in zip(drawn, stands, strict=True):
        area = (unit.x1 - unit.x0) * (unit.y1 - unit.y0)
        assert shown.area / area == pytest.approx(first, rel=0.02)
    xs = [each.centroid.x if hand is Hand.LEFT else -each.centroid.x for each in drawn]
    assert xs[0] < xs[1] < xs[2] and xs[3] == pytest.approx(xs[0], abs=0.02)
    texts = [text.text for text in ElementTree.fromstring(svg).iter(f"{SVG}text")]
    assert texts == ["1", "2", "3", "4", f"{hand} hand"]


def corners_of(data: str) -> tuple[list[float], list[float]]:
    numbers = [(float(x), float(y)) for x, y in re.findall(r"([-\d.]+)[ ,]([-\d.]+)", data)]
    return [x for x, _ in numbers], [y for _, y in numbers]


def test_the_two_plans_are_mirror_images() -> None:
    right, left = (ElementTree.fromstring(hand_plan_svg(hand)) for hand in Hand)
    width = float(right.get("viewBox", "").split()[2])

    def places(svg: ElementTree.Element) -> dict[str, float]:
        return {
            text.text or "": float(text.get("x", ""))
            for text in svg.iter(f"{SVG}text")
            if text.text in ("1", "2", "3")
        }

    assert places(left) == {name: pytest.approx(width - x) for name, x in places(right).items()}


def test_offcuts_are_hatched_and_labelled_and_parts_at_risk_are_marked() -> None:
    kept, narrow = Bounds(1200, 10, 2430, 1210), Bounds(900, 10, 1190, 1210)
    part = Bounds(10, 10, 110, 60)
    svg = ElementTree.fromstring(
        sheet_map_svg(
            content(),
            sample_layers(),
            title="x",
            runs=1,
            units=Units.MM,
            offcuts=(kept, narrow),
            at_risk=(part,),
        )
    )
    assert "offcut 1230 mm x 1200 mm" in texts(svg)
    assert "offcut 290 mm x 1200 mm" in texts(svg)
    (upright,) = (e for e in svg.iter(f"{SVG}text") if e.text == "offcut 290 mm x 1200 mm")
    assert upright.get("transform", "").startswith("rotate(-90 ")
    hatches = [e.get("d", "") for e in svg.iter(f"{SVG}path") if e.get("stroke-dasharray")]
    assert len(hatches) == 2
    for data, box in zip(hatches, (kept, narrow), strict=True):
        points = [(float(x), -float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", data)]
        assert len(points) > 10
        assert all(box.x0 - 0.01 <= x <= box.x1 + 0.01 for x, _ in points)
        assert all(box.y0 - 0.01 <= y <= box.y1 + 0.01 for _, y in points)
    mark, legend = (e.get("d", "") for e in svg.iter(f"{SVG}path") if e.get("class") == "risk")
    corners = [(float(x), -float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", mark)]
    assert all(part.x0 < x < part.x1 and part.y0 < y < part.y1 for x, y in corners)
    left, top, length, height = map(float, svg.get("viewBox", "").split())
    for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", legend):
        assert left <= float(x) <= left + length
        assert top <= float(y) <= top + height
    assert RISK_TEXT in texts(svg)
    assert RISK_TEXT not in texts(sheet_map())
