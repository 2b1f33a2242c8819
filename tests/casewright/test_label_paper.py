"""Labels on paper: read back by PDFium, their codes by OpenCV, their outlines from the DXF."""

import functools
import io
import itertools
import math
import re
from dataclasses import replace

import ezdxf
import pypdfium2
import pytest

from export.labels.content import Label, LabelKind, PartPicture
from export.labels.layout import label_card, labels_source
from export.labels.picture import label_picture_svg
from export.labels.stock import USUAL, LabelStock
from export.papers.cards import Drawn, Words, card_document
from export.papers.pdf import pdf_bytes
from export.papers.square_code import QUIET
from parametric.stock.lengths import Units, show_cut_length
from parametric.stock.paper import Paper, paper_for
from tests.casewright.label_example import POINTS, Printed, labelled, printed, stocks
from tests.square_codes import code_in, modules_of

DEMO = "keepers-room"
STOCKS = stocks()
DOTS_PER_MM = 300 / 25.4
LEAST_CODE_MM = 14.0
TOUCH_MM = 0.15  # boxes of letters are a little larger than what is black


def labels() -> tuple[Label, ...]:
    return labelled(DEMO).book.labels


@functools.cache
def on(stock: str) -> Printed:
    return printed(labels(), STOCKS[stock])


def named(label: Label, name: str) -> Label:
    """The label with a name in place of each that people give."""
    return replace(
        label,
        name=name,
        unit=name,
        room=label.room and name,
        material=name,
        layout=label.layout and f"{name}/001",
        bands=label.bands and f"edge 1, 2: {name}; edge 3, 4: {name}",
        number=f"Room {name}" if label.kind is LabelKind.BOX else label.number,
        second_operation="P001-second",
    )


def test_the_usual_stock_is_that_of_the_libraries() -> None:
    assert {stock.key for stock in USUAL.values()} <= set(STOCKS)
    for stock in USUAL.values():
        assert STOCKS[stock.key] == stock


@pytest.mark.parametrize("stock", STOCKS)
def test_pages_have_the_size_of_the_paper_and_labels_fill_them_in_order(stock: str) -> None:
    paper, document = STOCKS[stock].paper_mm, on(stock).document
    assert len(document) == math.ceil(len(labels()) / len(tuple(STOCKS[stock].corners())))
    for page in document:
        assert page.get_size() == pytest.approx([each * POINTS for each in paper], abs=0.1)
    for index, label in enumerate(labels()):
        (found,) = [text for _, text in on(stock).texts(index)[:1]]
        words = " ".join(text for _, text in on(stock).texts(index))
        assert label.number in words, (label.number, found)
        assert (f"Room {label.room}" if label.room else label.size) in words


@pytest.mark.parametrize("stock", STOCKS)
@pytest.mark.parametrize("name", ["", "i", "W" * 60, "long name of many words " * 3])
def test_no_text_meets_another_or_leaves_its_label(stock: str, name: str) -> None:
    """With the names of the demo, of one letter and of sixty wide ones."""
    used = [named(label, name) for label in labels()] if name else list(labels())
    paper, size = printed(used, STOCKS[stock]), STOCKS[stock]
    for index, label in enumerate(used):
        texts = paper.texts(index)
        card = label_card(label, size)
        pictures = [item for item in card if isinstance(item, Drawn)]
        assert len(texts) >= 3
        for box, text in texts:
            assert min(box[0], box[1]) > size.rim_mm - 0.7, (text, box)
            assert box[2] < size.width_mm - size.rim_mm + 0.7, (text, box)
            assert box[3] < size.height_mm - size.rim_mm + 0.9, (text, box)
        for (a, one), (b, other) in itertools.combinations(texts, 2):
            across, down = min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1])
            assert across <= TOUCH_MM or down <= TOUCH_MM, (one, other)
        code = pictures[0]
        for box, text in texts:
            across = min(box[2], code.x_mm + code.width_mm) - max(box[0], code.x_mm)
            down = min(box[3], code.y_mm + code.height_mm) - max(box[1], code.y_mm)
            assert across <= TOUCH_MM or down <= TOUCH_MM, text


@pytest.mark.parametrize("stock", ["a4-24", "letter-10", "roll-70x35"])
def test_codes_are_read_off_the_paper(stock: str) -> None:
    """Printed at 300 dots an inch; each code is seen by itself, as a scanner sees it."""
    for index, label in enumerate(labels()):
        code = next(item for item in label_card(label, STOCKS[stock]) if isinstance(item, Drawn))
        x, y, side = (round(DOTS_PER_MM * mm) for mm in (code.x_mm, code.y_mm, code.width_mm))
        seen = on(stock).picture(index, DOTS_PER_MM)[y : y + side, x : x + side]
        assert code_in(seen) == label.record


@pytest.mark.parametrize("stock", STOCKS)
def test_codes_and_numbers_are_large_enough(stock: str) -> None:
    """Common practice, no source: 14 mm for a code, 7 mm for letters read at arm's length."""
    for index, label in enumerate(labels()):
        code = next(item for item in label_card(label, STOCKS[stock]) if isinstance(item, Drawn))
        modules = len(modules_of(code.svg))
        assert code.width_mm * (modules - 2 * QUIET) / modules >= LEAST_CODE_MM
        if label.kind is LabelKind.PART:
            page, left, _ = on(stock).place(index)
            assert page is not None and left >= 0
            assert capital_mm(on(stock), index) >= 7.0 - 0.1


def capital_mm(paper: Printed, index: int) -> float:
    """The height of the capital P that the number of a part begins with."""
    page, left, top = paper.place(index)
    read, high = page.get_textpage(), page.get_height()
    for at in range(read.count_chars()):
        x0, y0, x1, y1 = read.get_charbox(at)
        x, y = (x0 + x1) / 2 / POINTS - left, (high - (y0 + y1) / 2) / POINTS - top
        inside = 0 < x < paper.stock.width_mm and 0 < y < paper.stock.height_mm
        if inside and read.get_text_range(at, 1) == "P":
            return float((y1 - y0) / POINTS)
    raise AssertionError("no number")


def test_the_outline_on_a_label_is_that_of_the_dxf_which_is_cut() -> None:
    """Each corner of the file, as ezdxf reads it, at one scale and in one place on the label."""
    each = labelled(DEMO)
    files = {file.part: file for file in each.shop.parts if file.operation.value == "first"}
    for label in labels():
        if isinstance(label.picture, PartPicture):
            document = ezdxf.read(io.StringIO(files[label.number].content.decode()))
            cut = document.modelspace().query('LWPOLYLINE[layer=="OUTLINE"]')
            (corners,) = [[(x, y) for x, y in path.get_points("xy")] for path in cut]
            drawn = corners_of(label_picture_svg(label.picture, 40.0, 15.0))
            assert len(drawn) == len(corners)
            scale = spread(drawn) / spread(corners)
            shifts = [
                (x - scale * cx, y - scale * cy)
                for (x, y), (cx, cy) in zip(drawn, corners, strict=True)
            ]
            for shift in shifts:
                assert shift == pytest.approx(shifts[0], abs=0.01)


def corners_of(svg: str) -> list[tuple[float, float]]:
    """The corners of the first path of a picture, y up."""
    data = re.findall(r'<path d="(M[^"]*?)Z', svg)[0]
    ends = re.findall(r"[ML]([-\d.]+) ([-\d.]+)|A\S+ \S+ 0 \d \d ([-\d.]+) ([-\d.]+)", data)
    points = [(float(a or c), -float(b or d)) for a, b, c, d in ends]
    # A path that ends in an arc comes back to where it began.
    return points[:-1] if points[-1] == points[0] else points


def spread(points: list[tuple[float, float]]) -> float:
    return max(x for x, _ in points) - min(x for x, _ in points)


def test_the_same_labels_are_the_same_bytes() -> None:
    first, again = (pdf_bytes(labels_source("Job", USUAL[Paper.A4], labels())) for _ in range(2))
    assert first == again


@pytest.mark.parametrize("units", Units)
def test_sizes_are_told_in_the_units_of_the_job(units: Units) -> None:
    each = labelled(DEMO, units)
    assert USUAL[paper_for(units)].key == ("letter-10" if units is Units.INCH else "a4-24")
    assert each.job.units is units
    parts = {part.number: part.panel for part in each.sets.cut_list.parts}
    for label in each.book.labels:
        if label.kind is LabelKind.PART:
            sides = parts[label.number].length_mm, parts[label.number].width_mm
            assert label.size == " x ".join(show_cut_length(side, each.job.units) for side in sides)


def test_a_roll_has_one_label_on_a_page() -> None:
    roll = replace(STOCKS["roll-70x35"])
    assert isinstance(roll, LabelStock) and roll.sheet is None
    assert list(roll.corners()) == [(0.0, 0.0)] and roll.paper_mm == (70.0, 35.0)


def test_capitals_are_as_high_as_cards_take_them_to_be() -> None:
    """The font's own capitals, as PDFium measures them."""
    card = (Words(text="HE", x_mm=5.0, y_mm=5.0, width_mm=80.0, capital_mm=20.0),)
    source = card_document("Job", (100.0, 50.0), ((0.0, 0.0),), [card])
    read = pypdfium2.PdfDocument(pdf_bytes(source))[0].get_textpage()
    _, low, _, high = read.get_charbox(0)
    assert (high - low) / POINTS == pytest.approx(20.0, rel=0.02)


def test_what_steers_the_work_is_read_beside_a_long_name() -> None:
    """The label of a part with names of 60 wide letters tells its run, its place in the order and
    what it goes into.
    """
    part = next(each for each in labels() if each.kind is LabelKind.PART and each.piece)
    long = printed([named(part, "w" * 60)], STOCKS[USUAL[Paper.A4].key])
    text = "".join(long.document[0].get_textpage().get_text_range().split())
    assert f"run{part.run}of{part.runs},cut{part.order}," in text
    assert f"into{part.piece}" in text


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("demo", ["keepers-room", "survey-ship", "field-station"])
def test_no_text_of_the_demos_is_cut_short_on_the_usual_labels(demo: str, paper: Paper) -> None:
    """An ellipsis stands where letters were left out; whole texts of each label stand on it."""
    used = labelled(demo).book.labels
    document = pypdfium2.PdfDocument(pdf_bytes(labels_source("job", USUAL[paper], used)))
    texts = [page.get_textpage().get_text_range() for page in document]
    assert not any("…" in text for text in texts)
    told = " ".join(" ".join(texts).split())
    for label in used:
        assert all(words in told for words in (label.name, label.size, label.bands, label.notes))
