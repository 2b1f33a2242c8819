"""The shop's papers: every piece of a demo job has a page, and tables and papers agree."""

import csv
import io
import re
from collections import Counter
from pathlib import Path

import pypdfium2
import pytest

from tests.pdf_pages import assert_texts_apart, text_of


def table(out: Path, name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO((out / "shop" / name).read_text(encoding="utf-8"))))


@pytest.fixture(params=["keeper", "centre", "station"])
def out(request: pytest.FixtureRequest) -> Path:
    folder: Path = request.getfixturevalue(request.param)
    return folder


def test_each_piece_has_a_page_with_its_parts(out: Path) -> None:
    pages = [text_of(page) for page in pypdfium2.PdfDocument(out / "shop" / "assembly.pdf")]
    rows = table(out, "pieces.csv")
    pieces = list(dict.fromkeys(row["piece"] for row in rows))
    own = [page for page in pages if "joined in the shop, make" in page]
    assert len(own) == len(pieces)
    for piece, page in zip(pieces, own, strict=True):
        mine = [row for row in rows if row["piece"] == piece]
        assert piece in page and f"make {mine[0]['quantity']}" in page
        assert all(row["part"] in page for row in mine)


def test_no_text_lies_on_another(out: Path) -> None:
    for page in pypdfium2.PdfDocument(out / "shop" / "assembly.pdf"):
        assert_texts_apart(page)


def test_pieces_use_the_parts_of_the_cut_lists(out: Path) -> None:
    """No more of any than are cut; of cleats all but those on walls, since each is put on a panel
    in the shop. A box is joined from pieces that have rows of their own, no more than are made;
    legs that the shop puts on are in its hardware.
    """
    used: Counter[str] = Counter()
    for row in table(out, "pieces.csv"):
        used[row["part"]] += int(row["quantity"]) * int(row["parts_in_piece"])
    made = {row["piece"]: int(row["quantity"]) for row in table(out, "pieces.csv")}
    bought = {
        row["description"]: int(row["needed"])
        for row in table(out, "hardware.csv")
        if row["unit"] == "pieces"
    }
    cut = {row["part"]: int(row["quantity"]) for row in table(out, "cutlist.csv")}
    bars = table(out, "linear.csv")
    cleats = {
        row["part"]: int(row["quantity"])
        for row in bars
        if "cleat" in row["description"] and "wall cleat" not in row["description"]
    }
    assert all(used[part] == count for part, count in cleats.items())
    assert all(count <= (cut | cleats | made | bought)[part] for part, count in used.items())
    assert all(used[article] == bought[article] for article in bought.keys() & used.keys())


def test_pieces_of_the_same_parts_have_one_number(out: Path) -> None:
    """In the demos parts go together in one way, whatever hand or unit the piece is for."""
    made_of: dict[str, list[tuple[str, str]]] = {}
    for row in table(out, "pieces.csv"):
        made_of.setdefault(row["piece"], []).append((row["part"], row["parts_in_piece"]))
    assert len({tuple(parts) for parts in made_of.values()}) == len(made_of)


def test_the_name_of_a_bit_stands_in_one_line(out: Path) -> None:
    """Between its words is a blank that no line ends at."""
    document = pypdfium2.PdfDocument(out / "shop" / "assembly.pdf")
    lines = [page.get_textpage().get_text_range().splitlines() for page in document]
    told = [line for page in lines for line in page if "Driver, " in line or line.startswith("bit")]
    assert told
    assert all(re.search(r"bit \S+.*\d", line.replace("\xa0", " ")) for line in told), told


def test_each_step_of_the_installation_ends_on_its_own_page(out: Path) -> None:
    """The first page is the kit with the list of steps; then each step has one page."""
    sheets = sorted((out / "site").glob("install-*.pdf"))
    assert sheets
    for path in sheets:
        first, *steps = (text_of(page) for page in pypdfium2.PdfDocument(path))
        assert "Kit of one room" in first and "Before the first step" in first
        for number, page in enumerate(steps, start=1):
            assert page.startswith(f"{number}. "), path
        assert steps[-1].split(". ", 1)[1].startswith(("Close ", "Clean up"))
