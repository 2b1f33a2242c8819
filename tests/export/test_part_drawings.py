"""Part drawings: a part made again from its drawing alone is the part, and no text meets a line.

How far a shown size may be off is the last digit of its text: 0.1 mm, or a thousandth of an inch
(0.0254 mm); half of it each way, by rounding.
"""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import ezdxf
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from pypdfium2 import PdfDocument

from export.dxf.drawing_writer import drawing_dxf
from export.layer_names import LayerNames
from export.papers.page_format import page_format
from export.papers.pdf import pdf_bytes
from export.part_drawing.content import Kind, PartDrawing
from export.part_drawing.drawing import part_drawing
from export.part_drawing.pages import drawings_source, rooms_on
from export.part_drawing.seen import flattened
from export.svg.hand_plan import hand_plan_svg
from parametric.geometry.hand import Hand
from parametric.geometry.outline import Outline, Vertex
from parametric.lists.cut_list import PartHand
from parametric.shapes.panel import Face, FlatPanel, Pocket
from parametric.stock.lengths import Units
from parametric.stock.paper import Paper, paper_for
from tests.drawn_marks import collisions
from tests.drawn_part import Loop, MadeAgain, NotTold, as_read, made_again, squeezed
from tests.export.random_panels import panels
from tests.export.sample_parts import bore, flat_panel, notched_panel, part, two_sided_panel
from tests.pdf_pages import assert_texts_apart

EXACT_MM = 1e-6
OFF_MM = {Units.MM: 0.05 + EXACT_MM, Units.INCH: 0.0127 + EXACT_MM}
QUARTER = math.tan(math.pi / 8)


def groove_of_both_faces() -> FlatPanel:
    """Grooves with rounded corners on both faces, one open at an edge, and a hollow corner."""
    hollow = Outline(
        (
            Vertex(30.0, 0.0),
            Vertex(620.0, 0.0),
            Vertex(620.0, 200.0),
            Vertex(0.0, 200.0),
            Vertex(0.0, 30.0, -QUARTER),
        )
    )

    def slot(x: float, y: float, long: float, wide: float, r: float) -> Outline:
        return Outline(
            (
                Vertex(x + r, y),
                Vertex(x + long - r, y, QUARTER),
                Vertex(x + long, y + r),
                Vertex(x + long, y + wide - r, QUARTER),
                Vertex(x + long - r, y + wide),
                Vertex(x + r, y + wide, QUARTER),
                Vertex(x, y + wide - r),
                Vertex(x, y + r, QUARTER),
            )
        )

    open_one = Outline(
        (
            Vertex(300.0, 0.0),
            Vertex(319.3, 0.0),
            Vertex(319.3, 95.0, QUARTER),
            Vertex(314.3, 100.0),
            Vertex(305.0, 100.0, QUARTER),
            Vertex(300.0, 95.0),
        )
    )
    pockets = (
        Pocket(
            outline=slot(40.7, 50.2, 200.0, 18.4, 4.0), islands=(), depth_mm=6.0, face=Face.DOWN
        ),
        Pocket(outline=slot(390.0, 20.0, 90.0, 30.0, 6.35), islands=(), depth_mm=5.5, face=Face.UP),
        Pocket(outline=open_one, islands=(), depth_mm=9.45, face=Face.UP),
    )
    bores = (bore(100.0, 150.0, 8.0, None), bore(100.0, 150.0, 20.0, 4.0, Face.DOWN))
    return flat_panel(620.0, 200.0, outline=hollow, pockets=pockets, bores=bores)


SAMPLES = {
    "plain": flat_panel(600.0, 24.0),
    "notched": notched_panel(),
    "two-sided": two_sided_panel(),
    "grooves": groove_of_both_faces(),
}


def drawing_of(
    panel: FlatPanel, units: Units = Units.MM, paper: Paper | None = None
) -> PartDrawing:
    rooms = rooms_on(page_format(paper or paper_for(units)))
    return part_drawing(part("P001", panel), units, rooms)


def document_of(panel: FlatPanel, units: Units = Units.MM, paper: Paper | None = None) -> Any:
    return ezdxf.read(io.StringIO(drawing_dxf(drawing_of(panel, units, paper)).decode()))


def crooked(document: Any) -> Any:
    squeezed(
        document,
        lambda x: 0.9 * x + 3e-5 * x * abs(x) + 7.0,
        lambda y: 1.1 * y + 2e-5 * y * abs(y) - 3.0,
    )
    return document


def differences(made: MadeAgain, panel: FlatPanel, places_mm: float, table_mm: float) -> list[str]:
    """What is not as in the panel: places by more than `places_mm`, what tables tell by more than
    `table_mm`, so also the ends of rounded corners whose radius is in a table.
    """
    ends_mm = max(places_mm, table_mm)
    found = []
    size = (made.length, made.width, made.thickness)
    wanted = (panel.length_mm, panel.width_mm, panel.thickness_mm)
    if any(abs(a - b) > table_mm for a, b in zip(size, wanted, strict=True)):
        found.append(f"size {size}")
    found += loops_differ("outline", [made.outline], [panel.outline], places_mm, places_mm)
    found += loops_differ("openings", made.openings, panel.openings, places_mm, ends_mm)
    grooves = sorted(panel.pockets, key=lambda each: first(vertices(each.outline)))
    drawn = sorted(made.pockets, key=lambda each: first(each[2][0]))
    if len(grooves) != len(drawn):
        return [*found, "grooves"]
    for (face, depth, edges), pocket in zip(drawn, grooves, strict=True):
        if face != {Face.UP: "upper", Face.DOWN: "lower"}[pocket.face]:
            found.append("face of a groove")
        if abs(depth - pocket.depth_mm) > table_mm:
            found.append("depth of a groove")
        own = (pocket.outline, *pocket.islands)
        found += loops_differ("groove", edges, own, places_mm, ends_mm)
    return [*found, *holes_differ(made, panel, table_mm)]


def loops_differ(
    what: str, drawn: Sequence[Loop], outlines: Sequence[Outline], off_mm: float, arcs_mm: float
) -> list[str]:
    """Corners off by more than `off_mm`, ends of arcs by more than `arcs_mm`."""
    if len(drawn) != len(outlines):
        return [f"{what}: {len(drawn)} edges"]
    for one, other in zip(
        sorted(drawn, key=first), sorted(map(vertices, outlines), key=first), strict=True
    ):
        if len(one) != len(other):
            return [what]
        for index, (a, b) in enumerate(zip(one, other, strict=True)):
            off = arcs_mm if b[2] or other[index - 1][2] else off_mm
            # A bulge is a ratio: off by no more than the ends of its chord make it.
            if math.dist(a[:2], b[:2]) > 2 * off or abs(a[2] - b[2]) > max(off, 1e-5):
                return [f"{what}: {a} is not {b}"]
    return []


def vertices(outline: Outline) -> Loop:
    return [tuple(vertex) for vertex in outline.vertices]


def first(loop: Loop) -> tuple[float, float, float]:
    """What sorts loops alike that are nearly the same: where they begin, and how large they are."""
    xs, ys = [v[0] for v in loop], [v[1] for v in loop]
    return round(min(xs)), round(min(ys)), round(max(xs) - min(xs), 1)


def holes_differ(made: MadeAgain, panel: FlatPanel, off_mm: float) -> list[str]:
    faces = {Face.UP: "upper", Face.DOWN: "lower"}
    left = [
        (b.x, b.y, b.diameter_mm, b.depth_mm, "both" if b.depth_mm is None else faces[b.face])
        for b in panel.bores
    ]
    for hole in made.holes:
        for other in left:
            told = zip(hole[:4], other[:4], strict=True)
            near = all(
                a is b if a is None or b is None else abs(a - b) <= off_mm + EXACT_MM
                for a, b in told
            )
            if near and hole[4] == other[4]:
                left.remove(other)
                break
        else:
            return [f"hole {hole}"]
    edges = [
        (
            e.x,
            e.y,
            e.z_mm,
            e.diameter_mm,
            e.depth_mm,
            math.degrees(math.atan2(e.direction_y, e.direction_x)) % 360,
        )
        for e in sorted(panel.edge_bores, key=lambda each: (each.x, each.y))
    ]
    if len(edges) != len(made.edge_holes):
        left.append(edges[0][:5])  # type: ignore[arg-type]
    for one, other in zip(made.edge_holes, edges, strict=False):
        if any(abs(a - b) > off_mm + EXACT_MM for a, b in zip(one, other, strict=True)):
            return [f"hole into an edge {one}"]
    return [f"no hole {other}" for other in left]


def on_the_board(panel: FlatPanel) -> FlatPanel:
    """The panel without what a strategy put over its edge."""

    def lies_on(outline: Outline) -> bool:
        box = outline.bounds
        inside = box.x0 >= 0 and box.y0 >= 0
        return inside and box.x1 <= panel.length_mm and box.y1 <= panel.width_mm

    return replace(
        panel,
        openings=tuple(each for each in panel.openings if lies_on(each)),
        pockets=tuple(each for each in panel.pockets if lies_on(each.outline)),
    )


@pytest.mark.parametrize("units", Units)
@pytest.mark.parametrize("name", SAMPLES)
def test_a_part_made_again_from_its_drawing_is_the_part(name: str, units: Units) -> None:
    panel = SAMPLES[name]
    document = document_of(panel, units)
    assert differences(made_again(document), panel, EXACT_MM, OFF_MM[units]) == []
    read = made_again(document, as_read)
    assert differences(read, panel, 2 * OFF_MM[units], OFF_MM[units]) == []
    assert differences(made_again(crooked(document)), panel, EXACT_MM, OFF_MM[units]) == []


# Shrinking takes minutes and gives little: a panel has many features.
def test_an_edge_that_is_hardly_bent_has_no_text_on_it() -> None:
    """Its one chord lies off it: 0.005 / 2 of 3000 mm is 7.5 mm, and 0.4 mm on the page."""
    edge = [
        Vertex(0.0, 0.0, -0.005),
        Vertex(3000.0, 0.0),
        Vertex(3000.0, 110.0),
        Vertex(0.0, 110.0),
    ]
    shifted = flattened(Outline(tuple(Vertex(v.x / 20, v.y / 20, v.bulge) for v in edge)))
    middle = max(shifted, key=lambda at: at[1] if at[1] < 2.0 else -1.0)
    assert middle[1] == pytest.approx(0.375, abs=0.01)


@settings(max_examples=40, deadline=None, phases=[Phase.explicit, Phase.reuse, Phase.generate])
@given(panels(), st.sampled_from(Units), st.sampled_from(Paper))
def test_random_parts_made_again_and_no_text_on_a_line(
    drawn: FlatPanel, units: Units, paper: Paper
) -> None:
    panel = on_the_board(drawn)
    document = document_of(panel, units, paper)
    assert collisions(document) == []
    assert differences(made_again(document), panel, EXACT_MM, OFF_MM[units]) == []
    assert differences(made_again(crooked(document)), panel, EXACT_MM, OFF_MM[units]) == []


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("name", SAMPLES)
def test_no_text_of_the_samples_meets_a_line(name: str, paper: Paper) -> None:
    for units in Units:
        assert collisions(document_of(SAMPLES[name], units, paper)) == []


def test_a_text_on_a_line_would_be_seen() -> None:
    document = document_of(SAMPLES["notched"])
    text = document.modelspace().query("TEXT[layer=='DRAWING-LETTER']")[0]
    line = document.modelspace().query("LWPOLYLINE[layer=='DRAWING-PART']")[0]
    text.dxf.align_point = (*line[0][:2], 0)
    assert collisions(document)


def dimension_count(panel: FlatPanel) -> int:
    return len(document_of(panel).modelspace().query("DIMENSION"))


@pytest.mark.parametrize("name", ["notched", "two-sided", "grooves"])
def test_every_dimension_counts(name: str) -> None:
    """A wrong value makes another part, and without any of them the part cannot be made."""
    panel = SAMPLES[name]
    for index in range(dimension_count(panel)):
        document = document_of(panel)
        dimension = document.modelspace().query("DIMENSION")[index]
        dimension.dxf.actual_measurement += 0.2
        assert differences(made_again(document), panel, EXACT_MM, OFF_MM[Units.MM])
        document = document_of(panel)
        space = document.modelspace()
        space.delete_entity(space.query("DIMENSION")[index])
        try:
            assert differences(made_again(document), panel, EXACT_MM, OFF_MM[Units.MM])
        except (NotTold, ValueError):
            continue


@pytest.mark.parametrize(
    ("head", "was", "becomes"),
    [
        ("x", "480", "481"),
        ("diameter", "8", "8.5"),
        ("depth", "10", "9"),
        ("face", "lower", "upper"),
        ("corner radius", "6.4", "6"),
        ("thickness", "18", "19"),
    ],
)
def test_every_column_of_a_table_counts(head: str, was: str, becomes: str) -> None:
    panel = SAMPLES["grooves" if head == "corner radius" else "two-sided"]
    document = document_of(panel)
    changed = 0
    for text in document.modelspace().query("MTEXT"):
        lines = text.plain_text(split=True)
        named = lines[0] == head or "thickness" in lines or lines[0] == "P001"
        if named and was in lines:
            lines[lines.index(was)] = becomes
            text.text = "\\P".join(lines)
            changed += 1
    assert changed
    assert differences(made_again(document), panel, EXACT_MM, OFF_MM[Units.MM])


@pytest.mark.parametrize("name", SAMPLES)
def test_what_programs_measure_is_what_the_drawing_tells(name: str) -> None:
    """A dimension's value is the distance of its points, so a program that works it out anew shows
    the same; its text is that value, rounded.
    """
    for units in Units:
        for dimension in document_of(SAMPLES[name], units).modelspace().query("DIMENSION"):
            told = dimension.dxf.actual_measurement
            assert as_read(dimension) == pytest.approx(told, abs=OFF_MM[units])
            found = dimension.get_measurement()
            if dimension.dimtype == 6:
                away = dimension.dxf.defpoint2 - dimension.dxf.defpoint
                found = abs(away.x if dimension.dxf.dimtype & 64 else away.y)
            assert found == pytest.approx(told, abs=EXACT_MM)


def test_the_same_drawing_has_the_same_bytes_and_no_fault() -> None:
    for panel in SAMPLES.values():
        content = drawing_dxf(drawing_of(panel))
        assert content == drawing_dxf(drawing_of(panel))
        auditor = ezdxf.read(io.StringIO(content.decode())).audit()
        assert (auditor.errors, auditor.fixes) == ([], [])


def test_no_layer_of_a_drawing_is_one_that_a_router_cuts() -> None:
    names = LayerNames()
    cut = {names.sheet, names.outline, names.opening, names.text}
    for panel in SAMPLES.values():
        layers = {each.dxf.layer for each in document_of(panel).modelspace()}
        assert all(layer.startswith("DRAWING-") for layer in layers)
        assert layers.isdisjoint(cut)


def test_holes_into_edges_have_a_mark_and_a_row() -> None:
    space = document_of(SAMPLES["two-sided"]).modelspace()
    assert "E1" in {text.dxf.text for text in space.query("TEXT")}
    assert any(text.plain_text(split=True) == ["edge hole", "E1"] for text in space.query("MTEXT"))


@pytest.mark.parametrize("name", SAMPLES)
def test_each_edge_keeps_its_name_when_the_part_is_turned_over(name: str) -> None:
    """Counter-clockwise from the lower one as seen from above, so that over the part's length 1 and
    3 change places and 2 and 4 stay: which each is nearest to on the page.
    """
    ways = {Face.UP: {1: "below", 2: "right", 3: "above", 4: "left"}}
    ways[Face.DOWN] = {**ways[Face.UP], 1: "above", 3: "below"}
    for view in drawing_of(SAMPLES[name]).views:
        (outline,) = [edge.outline for edge in view.edges if edge.kind is Kind.PART]
        box = outline.bounds
        names = [each.text for each in view.marks if each.text.text.startswith("edge ")]
        assert len(names) >= 3
        for text in names:
            x, y = text.middle
            away = {
                "below": abs(y - box.y0),
                "above": abs(y - box.y1),
                "left": abs(x - box.x0),
                "right": abs(x - box.x1),
            }
            number = int(text.text.removeprefix("edge "))
            assert min(away, key=away.__getitem__) == ways[view.face][number]


def u_groove() -> Pocket:
    """Along three sides of a board, 19.3 wide at its two ends and 18.4 along it; depth 9.45."""
    corners = (
        *((6.0, 50.0), (294.0, 50.0), (294.0, 290.0), (274.7, 290.0)),
        *((274.7, 68.4), (25.3, 68.4), (25.3, 290.0), (6.0, 290.0)),
    )
    edge = Outline(tuple(Vertex(*corner) for corner in corners))
    return Pocket(outline=edge, islands=(), depth_mm=9.45, face=Face.UP)


def test_a_groove_that_turns_corners_tells_its_channel_and_its_depth_as_it_is_set() -> None:
    """The operator's pack and the layer's name tell 9.45 as well."""
    cuts = drawing_of(flat_panel(300.0, 300.0, pockets=(u_groove(),))).cuts
    (row,) = cuts.rows
    told = dict(zip(cuts.heads, row, strict=True))
    assert (told["length"], told["width"], told["channel"]) == ("288", "240", "18.4, 19.3")
    assert told["depth"] == "9.45"
    assert "channel" not in drawing_of(SAMPLES["grooves"]).cuts.heads


def test_a_notch_tells_the_radius_of_its_corners() -> None:
    """Of its own: that of the board's rounded corner is another."""
    outline = Outline(
        (
            *(Vertex(0.0, 0.0), Vertex(500.0, 0.0), Vertex(500.0, 240.0, QUARTER)),
            *(Vertex(440.0, 300.0), Vertex(180.0, 300.0), Vertex(180.0, 256.0, -QUARTER)),
            *(Vertex(174.0, 250.0), Vertex(126.0, 250.0, -QUARTER), Vertex(120.0, 256.0)),
            *(Vertex(120.0, 300.0), Vertex(0.0, 300.0)),
        )
    )
    cuts = drawing_of(flat_panel(500.0, 300.0, outline=outline)).cuts
    (row,) = cuts.rows
    assert row[cuts.heads.index("corner radius")] == "6"


def test_a_crowded_part_is_drawn_for_larger_paper_and_told_whole() -> None:
    """Thirty slots of different sizes in a narrow strip: more texts than stand round it on A4."""
    slots = tuple(
        Outline(
            tuple(
                Vertex(v.x + 8.3 + 39.7 * index, v.y + 11.0 + 1.3 * (index % 7))
                for v in Outline.rectangle(9.0 + index / 3, 21.0 + 0.9 * index).vertices
            )
        )
        for index in range(30)
    )
    panel = flat_panel(1200.0, 80.0, openings=slots)
    drawing = drawing_of(panel)
    assert drawing.times > 1.0
    document = ezdxf.read(io.StringIO(drawing_dxf(drawing).decode()))
    assert collisions(document) == []
    assert differences(made_again(document), panel, EXACT_MM, OFF_MM[Units.MM]) == []
    source = drawings_source("job", [drawing], Units.MM, Paper.A4)
    pages = [page.get_textpage().get_text_range() for page in PdfDocument(pdf_bytes(source))]
    assert f"print this page {drawing.times:g} times as large" in pages[1]


def test_hostile_names_stay_names() -> None:
    """A brace, a backslash and a line break steer nothing in a text of several lines."""
    odd = replace(part("P001", SAMPLES["notched"]), description="a {\\P} \\A1; b\nc")
    odd = replace(odd, units=("x {\\fArial;y}\\Pz",))
    drawing = part_drawing(odd, Units.MM, rooms_on(page_format(Paper.A4)))
    document = ezdxf.read(io.StringIO(drawing_dxf(drawing).decode()))
    made = made_again(document)
    assert differences(made, odd.panel, EXACT_MM, OFF_MM[Units.MM]) == []
    words = [text.plain_text() for text in document.modelspace().query("MTEXT")]
    assert any("x {\\fArial;y}\\Pz" in text for text in words)


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("hand", PartHand)
def test_a_part_for_one_hand_shows_the_plan_of_that_hand(hand: PartHand, paper: Paper) -> None:
    handed = replace(part("P001", SAMPLES["notched"]), hand=hand)
    drawing = part_drawing(handed, Units.MM, rooms_on(page_format(paper)))
    source = drawings_source("job", [drawing], Units.MM, paper)
    shown = {svg for _, svg in source.files}
    plans = [each for each in Hand if hand_plan_svg(each, small=True) in shown]
    assert plans == [each for each in Hand if each.value == hand.value]
    pages = list(PdfDocument(pdf_bytes(source)))
    assert len(pages) == 2
    assert_texts_apart(pages[1])
