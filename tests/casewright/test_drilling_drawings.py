"""Drilling drawings hold the holes of the hole list, and tell mirror images apart."""

import csv
import io
import itertools
import re
from collections.abc import Iterator
from dataclasses import replace
from math import isclose
from pathlib import Path

import pypdfium2
import pytest

from casewright.stages.shop.drilling_content import drilling_book
from export.papers.pdf import pdf_bytes
from export.shop.drilling import drawing_width_mm, drilling_source
from export.svg.bar_drilling import bar_drilling_svg
from parametric.lists.bar_catalogue import FLAT_LEG, NARROW_FACE, WIDE_FACE
from parametric.lists.cut_list import BarHole, BarPart, PartHand
from parametric.lists.mirrored_bars import mirrored_bars
from parametric.stock.lengths import Units
from parametric.stock.paper import Paper
from tests.pdf_pages import assert_texts_apart, text_of


def hole(at: float, across: float, face: str = WIDE_FACE, diameter: float = 4.5) -> BarHole:
    return BarHole(face=face, from_end_mm=at, across_mm=across, diameter_mm=diameter)


def bar(number: str, *holes: BarHole, length: float = 400.0, angle: bool = False) -> BarPart:
    return BarPart(
        number=number,
        description="cleat",
        units=("bench",),
        hand=PartHand.EITHER,
        material="steel" if angle else "spruce",
        material_name="steel" if angle else "spruce",
        profile="50 x 50 x 6 mm" if angle else "20 x 40 mm",
        length_mm=length,
        stock_length_mm=4000.0,
        holes=holes,
        quantity=7,
        mass_kg=0.1,
        section_mm=(50.0, 6.0) if angle else (20.0, 40.0),
    )


def table(out: Path, name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO((out / "shop" / name).read_text(encoding="utf-8"))))


@pytest.fixture(params=["keeper", "centre"])
def out(request: pytest.FixtureRequest, keeper: Path, centre: Path) -> Path:
    return {"keeper": keeper, "centre": centre}[request.param]


def drawings(out: Path) -> Iterator[tuple[str, str]]:
    """The number of each drawn bar, and all that stands on its drawing."""
    _, *pages = pypdfium2.PdfDocument(out / "shop" / "drilling.pdf")
    text = " ".join(map(text_of, pages))
    titles = list(re.finditer(r"(L\d{3}) [a-z -]+: make \d+", text))
    for title, following in itertools.zip_longest(titles, titles[1:]):
        end = following.start() if following else len(text)
        yield title[1], text[title.start() : end]


def test_each_bar_with_holes_is_drawn_once_with_its_figures(out: Path) -> None:
    rows = table(out, "linear-holes.csv")
    drawn = dict(drawings(out))
    assert list(drawn) == list(dict.fromkeys(row["part"] for row in rows))
    for number, text in drawn.items():
        mine = [row for row in rows if row["part"] == number]
        assert f"make {mine[0]['quantity']} " in text
        for row in mine:
            # Once below its hole, once in the table; one place may serve several holes.
            assert text.count(row["from_left_end"]) >= 2, (number, row)
            across = row["across_from"].split(" (")
            assert f"{row['across']} from {across[0]}" in text
            assert across[1].rstrip(")") in text


def test_all_bars_are_listed_with_how_many_to_make(out: Path) -> None:
    first = text_of(next(iter(pypdfium2.PdfDocument(out / "shop" / "drilling.pdf"))))
    for row in table(out, "linear.csv"):
        assert re.search(rf"{row['part']} .*?{re.escape(row['length'])} {row['quantity']}\b", first)
    assert ("Swarf" in first) == any("angle" in r["description"] for r in table(out, "linear.csv"))


def test_mirror_images_are_told_apart(centre: Path) -> None:
    """The angles of the demo: the same holes from the other end, by the hole list."""
    rows = table(centre, "linear-holes.csv")
    bars = {row["part"]: row for row in table(centre, "linear.csv")}
    drawn = dict(drawings(centre))
    pairs = re.findall(r"mirror image of (L\d+)", " ".join(drawn.values()))
    assert len(pairs) >= 2
    for number, text in drawn.items():
        named = re.search(r"The mirror image of (L\d+)", text)
        if named is None:
            continue
        length = float(bars[number]["length_mm"])
        own, other = (
            sorted((float(r["from_left_end_mm"]), r["across_mm"]) for r in rows if r["part"] == n)
            for n in (number, named[1])
        )
        turned = sorted((round(length - at, 3), across) for at, across in own)
        assert all(isclose(a[0], b[0], abs_tol=0.01) for a, b in zip(turned, other, strict=True))
        assert own != other
        assert bars[number]["hand"] in text  # right or left


def test_only_what_no_turn_makes_the_same_is_a_mirror_image() -> None:
    """A cleat may be laid end for end or upside down, an angle may not."""
    lopsided = bar("L001", hole(50, 10), hole(300, 10))
    mirrored = bar("L002", hole(350, 10), hole(100, 10))
    assert mirrored_bars([lopsided, mirrored]) == {}  # upside down and end for end: the same
    both = bar("L003", hole(50, 10), hole(60, 5, NARROW_FACE))
    image = bar("L004", hole(350, 10), hole(340, 5, NARROW_FACE))
    assert mirrored_bars([both, image]) == {"L003": "L004", "L004": "L003"}
    same = bar("L005", hole(350, 30), hole(340, 5, NARROW_FACE))
    assert mirrored_bars([both, same]) == {}  # end for end it is the same
    right = bar("L006", hole(50, 30, FLAT_LEG), hole(300, 30, FLAT_LEG), angle=True)
    left = bar("L007", hole(350, 30, FLAT_LEG), hole(100, 30, FLAT_LEG), angle=True)
    even = bar("L008", hole(50, 30, FLAT_LEG), hole(350, 30, FLAT_LEG), angle=True)
    assert mirrored_bars([right, left, even]) == {"L006": "L007", "L007": "L006"}
    assert mirrored_bars([right, replace(left, length_mm=500.0)]) == {}


def test_holes_lie_where_they_are_drilled() -> None:
    """Along to one scale from the left end; across from the lower edge, of an angle from the upper
    one.
    """
    svg = bar_drilling_svg(bar("L001", hole(40, 10), hole(200, 30)), Units.MM, 180.0)
    (x0, y0), (x1, y1) = circles(svg)
    left, top, low = 30.0, 0.0, -16.0  # where the face of 40 mm stands, 16 mm high
    scale = (180 - 30 - 26) / 400
    assert (x0 - left, x1 - left) == pytest.approx((40 * scale, 200 * scale), abs=0.01)
    assert (y0 - low, y1 - low) == pytest.approx((4.0, 12.0), abs=0.01)
    angle = bar("L002", hole(40, 10, FLAT_LEG), angle=True)
    ((_, y),) = circles(bar_drilling_svg(angle, Units.MM, 180.0))
    assert top - y == pytest.approx(16 * 10 / 50, abs=0.01)


def circles(svg: str) -> list[tuple[float, float]]:
    found = re.findall(r'<circle cx="([^"]+)" cy="([^"]+)" r="[^"]+"[^>]* class="hole"', svg)
    return [(float(x), -float(y)) for x, y in found]


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("name", ["a", "W" * 60, "a name of sixty letters " * 3])
def test_no_text_lies_on_another_or_off_the_page(paper: Paper, name: str) -> None:
    """Holes close together, one bar with many, three rows near each other."""
    bars = [
        bar("L001", *(hole(20 + 9 * n, 12 + n % 3) for n in range(30))),
        bar("L002", hole(3, 2), hole(397, 38), hole(399, 20, NARROW_FACE)),
        bar("L003", hole(30, 20), length=60.0),
        bar("L004", *(hole(80 * n + 40, 30, FLAT_LEG) for n in range(5)), angle=True),
        bar("L005"),
    ]
    bars = [replace(each, description=name) for each in bars]
    book = drilling_book(name, bars, Units.MM, drawing_width_mm(paper))
    made = pdf_bytes(drilling_source(book, paper))
    assert made == pdf_bytes(drilling_source(book, paper))
    for page in pypdfium2.PdfDocument(made):
        assert_texts_apart(page)


def test_a_bar_without_a_section_is_no_drawing() -> None:
    with pytest.raises(ValueError, match="no section"):
        bar_drilling_svg(replace(bar("L001", hole(1, 1)), section_mm=(0.0, 0.0)), Units.MM, 180.0)
