"""What one sees first on the summary page, and the chart: the same figures as in the tables."""

import re
from dataclasses import replace

import pytest

from export.summary.content import RoomLine, SummaryContent
from export.summary.page import summary_html
from export.summary.verdict import verdict
from export.tables.yield_table import YieldRow
from parametric.findings.finding import Severity
from parametric.findings.not_checked import NotChecked
from parametric.geometry.hand import Hand
from parametric.lists.left_out import LeftOut, StockForm
from tests.export.sample_parts import LAMINATED, RAW, STOCK
from tests.export.test_summary_page import Page, finding, in_inches, sample_content, table_rows


def found(*severities: Severity) -> SummaryContent:
    findings = in_inches(*(finding(each, f"place {at}") for at, each in enumerate(severities)))
    return replace(sample_content(), findings=findings)


@pytest.mark.parametrize(
    ("severities", "answer"),
    [
        ((Severity.OK, Severity.OK), "yes. All 2 checks pass"),
        ((Severity.OK, Severity.WARN), "yes, once 1 warning is read"),
        ((Severity.WARN, Severity.WARN), "yes, once 2 warnings are read"),
        ((Severity.FAIL, Severity.WARN), "no. 1 check fails"),
        ((Severity.FAIL, Severity.FAIL), "no. 2 checks fail"),
        ((), "not known, as nothing was checked"),
    ],
)
def test_what_fails_forbids_cutting_and_what_warns_is_to_be_read(
    severities: tuple[Severity, ...], answer: str
) -> None:
    content = found(*severities)
    assert verdict(content).answer == answer
    assert f"Safe to cut: {answer}" in Page(summary_html(content)).of("strong")


def test_the_answer_says_where_it_is_not_whole() -> None:
    entry = LeftOut(material="ply <b>", form=StockForm.SHEETS, why="1 on hand")
    unchecked = NotChecked(what="fire", where="twin, both hands: bed", why="wood burns")
    content = replace(found(Severity.OK), left_out=(entry,), not_checked=(unchecked,))
    lines = " ".join(verdict(content).lines)
    assert "not the whole job: ply <b> left out" in lines
    assert "what is not checked" in lines
    assert "first" in lines
    failed = found(Severity.FAIL)
    assert "asked for all the same" in " ".join(verdict(failed).lines)
    assert "no cut files" in " ".join(verdict(replace(failed, sheet_maps=())).lines)


def first_rows(html: str) -> list[list[str]]:
    """The rows of the prices at the head of the page."""
    head = html.partition("<header>")[2].partition("</header>")[0]
    rows = re.findall(r"<tr>(<td.*?)</tr>", head)
    return [re.findall(r"<td[^>]*>(.*?)</td>", row) for row in rows]


def two_materials() -> SummaryContent:
    content = sample_content()
    (row,) = content.yield_rows
    other: YieldRow = replace(row, material=RAW, sheets=5, stock=replace(STOCK, price=20.05))
    return replace(content, yield_rows=(row, other, row))


def test_prices_are_told_for_each_material_and_together() -> None:
    """By hand: 3 sheets at 61.50 are 184.50, twice that 369.00; 5 more at 20.05 make it 469.25."""
    assert first_rows(summary_html(sample_content())) == [[LAMINATED.description, "3", "184.50"]]
    assert first_rows(summary_html(two_materials())) == [
        [LAMINATED.description, "6", "369.00"],
        [RAW.description, "5", "100.25"],
        ["all sheets", "11", "469.25"],
    ]


def test_the_first_picture_is_that_of_the_first_set() -> None:
    html = summary_html(sample_content())
    head = html.partition("<header>")[2].partition("</header>")[0]
    assert head.count("<figure") == 1
    assert "<figcaption>double, right hand</figcaption>" in head
    bare = summary_html(replace(sample_content(), sets=()))
    assert "<figure" not in bare.partition("</header>")[0]


def test_the_head_links_every_section_and_nothing_else() -> None:
    html = summary_html(sample_content())
    links = re.findall(r'<a href="#([^"]+)">', html.partition("</header>")[0])
    assert links == re.findall(r'<section id="([^"]+)">', html)


def test_the_chart_is_as_long_as_its_figures_say() -> None:
    """By hand: 10.56 % becomes parts, which the bar shows of 100; 100.25 of the dearest 369.00 is
    27.168 %.
    """
    html = summary_html(two_materials())
    chart = html.partition('<section id="chart">')[2].partition("</section>")[0]
    long = [float(each) for each in re.findall(r'class="part" width="([^"]+)"', chart)]
    words = re.findall(r"<p>(.*?)</p>", chart)[1:]
    assert words[1::2] == ["369.00 EUR, 6 sheets", "100.25 EUR, 5 sheets"]
    shares = [float(each.partition(" %")[0]) for each in words[::2]]
    assert long[::2] == pytest.approx(shares, abs=0.06)
    assert long[1::2] == pytest.approx([100.0, 27.168], abs=0.001)


def test_where_no_sheet_is_cut_nothing_is_told_of_sheets() -> None:
    html = summary_html(replace(sample_content(), yield_rows=(), sheet_maps=()))
    assert first_rows(html) == []
    sections = re.findall(r'<section id="([^"]+)">', html)
    assert not {"chart", "sheets", "maps"} & set(sections)
    assert re.findall(r'<a href="#([^"]+)">', html) == sections


def test_passes_are_folded_away_with_their_count() -> None:
    html = summary_html(found(Severity.OK, Severity.OK, Severity.WARN))
    assert Page(html).of("summary") == ["Passed: 2 of 3 checks, and how close each came"]
    folded = html.partition("<details>")[2].partition("</details>")[0]
    assert "what is checked" in folded
    assert "WARN" not in folded
    assert "Warnings: 1" in Page(html).of("h3")
    assert "Failures: 1" not in Page(html).of("h3")


def test_warnings_of_one_kind_stand_together() -> None:
    kinds = ("seat-height", "leg-load", "seat-height")
    findings = [
        replace(finding(Severity.WARN, f"place {at}"), code=code) for at, code in enumerate(kinds)
    ]
    html = summary_html(replace(sample_content(), findings=in_inches(*findings)))
    places = [row[1] for row in table_rows(html, "findings") if row[0] == "WARN"]
    assert places == ["place 0", "place 2", "place 1"]


def test_warnings_that_read_the_same_are_one_line() -> None:
    alike = [finding(Severity.WARN, "bed/deck") for _ in range(3)]
    html = summary_html(replace(sample_content(), findings=in_inches(*alike)))
    assert "Warnings: 3" in Page(html).of("h3")
    places = [row[1] for row in table_rows(html, "findings") if row[0] == "WARN"]
    assert places == ["bed/deck (3 times)"]


def test_the_schedule_is_folded_and_told_room_by_room() -> None:
    rooms = (
        RoomLine(number="<101>", floor="1", set_name='a "b"', hand=Hand.LEFT),
        RoomLine(number="102", floor="", set_name="double", hand=Hand.RIGHT),
    )
    html = summary_html(replace(sample_content(), schedule=rooms))
    page = Page(html)
    assert "Room by room: 2" in page.of("summary")
    rows = table_rows(html, "rooms")
    assert rows[-2:] == [["<101>", "1", 'a "b"', "left"], ["102", "", "double", "right"]]
    marks = [value for tag, name, value in page.attributes if (tag, name) == ("tr", "data-sets")]
    assert marks[:2] == ['["left a \\"b\\""]', '["right double"]']


def test_without_its_script_the_page_promises_nothing() -> None:
    """The search has no answers then: it is there, and hidden until the script shows it."""
    html = summary_html(sample_content())
    assert '<form class="search" role="search" hidden>' in html
    markup = html.partition("<script>")[0]
    assert "<button" not in markup
    assert "<canvas" not in markup
