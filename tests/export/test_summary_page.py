import ast
import re
from dataclasses import replace
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote

import pytest

from export.summary.checks_table import CHECKED
from export.summary.content import Picture, RoomCount, SetPictures, SheetMap, SummaryContent
from export.summary.markup import Align, Column, table
from export.summary.page import summary_html
from export.svg.line_picture import lines_svg
from export.tables.yield_table import yield_rows
from parametric.findings.check_set import check_set
from parametric.findings.finding import AID_ONLY, Basis, Finding, Sense, Severity
from parametric.findings.not_checked import NotChecked
from parametric.findings.telling import ToldFinding, told_findings
from parametric.findings.tightest import tightest
from parametric.geometry.hand import Hand
from parametric.joints.machining import machining
from parametric.lists.left_out import LeftOut, StockForm
from parametric.sets.room_set import build_set
from parametric.stock.lengths import Units
from tests.example_set import CONSTRUCTION, ROUTING, TRIM_MM, set_sizes
from tests.export.sample_nest import sample_nest
from tests.export.sample_parts import sample_cut_list

VOID = {"meta", "br", "hr", "img", "input", "link"}


class Page(HTMLParser):
    """Checks that every element is closed, and keeps texts by element."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.texts: list[tuple[str, str]] = []
        self.attributes: list[tuple[str, str, str]] = []
        self.feed(html)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.attributes += [(tag, name, value or "") for name, value in attrs]
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.attributes += [(tag, name, value or "") for name, value in attrs]

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if data.strip():
            self.texts.append((self.open[-1] if self.open else "", data.strip()))

    def of(self, tag: str) -> list[str]:
        return [text for element, text in self.texts if element == tag]


def finding(severity: Severity, where: str) -> Finding:
    return Finding(
        code="edge-distance",
        severity=severity,
        where=where,
        message="A pilot hole stands close to the edge",
        measured=12.7,
        sense=Sense.AT_LEAST,
        limit=19.05,
        unit="mm",
        source="common practice, no source",
        advice="Move the cleat inwards.",
    )


def in_inches(*findings: Finding) -> tuple[ToldFinding, ...]:
    return told_findings(findings, Units.INCH)


def sample_content() -> SummaryContent:
    picture = Picture(caption="from the foot of the bed", svg=lines_svg([[(0, 0), (9, 5)]]))
    return SummaryContent(
        job="North <wing> & annex",
        units=Units.INCH,
        currency="EUR",
        rooms=(
            RoomCount(set_name="double", hand=Hand.RIGHT, rooms=12),
            RoomCount(set_name="double", hand=Hand.LEFT, rooms=10),
            RoomCount(set_name="single", hand=Hand.RIGHT, rooms=14),
        ),
        findings=in_inches(
            finding(Severity.OK, "quiet"),
            finding(Severity.WARN, "double, panel B-02"),
            finding(Severity.FAIL, "double, panel A-01"),
        ),
        sets=tuple(SetPictures(set_name="double", hand=hand, pictures=(picture,)) for hand in Hand),
        sheet_maps=(
            SheetMap(
                material="laminated-18",
                file="shop/sheets/laminated-18/001.dxf",
                svg=lines_svg([[(0, 0), (9, 5)]]),
            ),
        ),
        yield_rows=yield_rows([sample_nest()]),
        cut_list=sample_cut_list(),
    )


@pytest.fixture(scope="module")
def html() -> str:
    return summary_html(sample_content())


@pytest.fixture(scope="module")
def page(html: str) -> Page:
    return Page(html)


def test_the_page_needs_nothing_from_outside(html: str, page: Page) -> None:
    assert "http" not in html
    assert "//" not in re.sub(r"<style>.*?</style>", "", html, flags=re.DOTALL)
    assert not any(tag in ("link", "img", "iframe") for tag, *_ in page.attributes)
    assert not any(name in ("src", "srcset", "xlink:href") for _, name, _ in page.attributes)
    asks = ("fetch(", "XMLHttpRequest", "WebSocket", "EventSource", "sendBeacon", "import(")
    assert not any(each in html for each in asks)
    assert "@import" not in html
    assert "url(" not in html
    links = [value for tag, name, value in page.attributes if (tag, name) == ("a", "href")]
    anchors = {value for _, name, value in page.attributes if name == "id"}
    assert links
    assert all(link.removeprefix("#") in anchors for link in links)


def test_texts_are_escaped(html: str, page: Page) -> None:
    assert page.of("h1") == ["North <wing> & annex"]
    assert "North &lt;wing&gt; &amp; annex" in html


def test_a_page_that_is_not_the_whole_job_says_so(html: str) -> None:
    assert "Not complete" not in html
    entry = LeftOut(material="ply", form=StockForm.SHEETS, why="stock.yaml:3: 1 on hand")
    page = Page(summary_html(replace(sample_content(), left_out=(entry,))))
    assert page.of("h2")[0] == "Not complete"
    cells = page.of("td")
    at = cells.index("ply")
    assert cells[at : at + 3] == ["ply", "sheets", "stock.yaml:3: 1 on hand"]


def test_key_figures(page: Page) -> None:
    figures = dict(zip(page.of("dt"), page.of("dd"), strict=True))
    assert figures == {
        "rooms": "36",
        "sheet parts": "12 (3 different)",
        "bars": "2 (1 different)",
        "sheets": "3",
        "sheets needed at least": "1",
        "warnings": "1",
        "failures": "1",
    }


def test_rooms_by_set_and_hand(html: str) -> None:
    def row(*cells: object) -> str:
        first, *numbers = cells
        rest = "".join(f'<td class="number">{cell}</td>' for cell in numbers)
        return f'<tr><td class="left">{first}</td>{rest}</tr>'

    assert row("double", 12, 10, 22) in html
    assert row("single", 14, 0, 14) in html
    assert row("all", 26, 10, 36) in html


def test_findings_that_fail_come_first_and_quiet_ones_are_only_counted(page: Page) -> None:
    cells = page.of("td")
    assert "3 checks: 1 ok, 1 warn, 1 fail." in page.of("p")
    assert cells.index("FAIL") < cells.index("WARN")
    told = {'1/2"', 'min 3/4"', "common practice, no source", "Move the cleat inwards."}
    assert told <= set(cells)
    assert "quiet" not in cells


def test_without_warnings_there_is_no_table_of_findings() -> None:
    content = replace(sample_content(), findings=in_inches(finding(Severity.OK, "quiet")))
    assert "advice" not in Page(summary_html(content)).of("th")


def of_code(code: str, sense: Sense, severity: Severity, measured: float, limit: float) -> Finding:
    return replace(
        finding(severity, "anywhere"), code=code, sense=sense, measured=measured, limit=limit
    )


def test_each_kind_of_check_has_a_row_with_its_tightest_value() -> None:
    # by hand: of spaces 4 and 7 over 1 the 4 is tighter, of steps 0.01 and 0.04 under 0.05 the 0.04
    least, most = Sense.AT_LEAST, Sense.AT_MOST
    found = (
        of_code("angle-clearance", least, Severity.OK, 7.0, 1.0),
        of_code("seat-height", most, Severity.OK, 0.04, 0.05),
        of_code("angle-clearance", least, Severity.OK, 4.0, 1.0),
        of_code("seat-height", most, Severity.OK, 0.01, 0.05),
        of_code("new-check", most, Severity.OK, 1.0, 2.0),
    )
    told = told_findings(found, Units.MM)
    html = summary_html(replace(sample_content(), findings=told))
    cells = Page(html).of("td")
    first = cells.index("angle-clearance")
    source = "common practice, no source"
    assert cells[first - 1 : first + 17] == [
        "clearance beside the steel angle in its notches",
        *("angle-clearance", "2", "4 mm", "min 1 mm", source),
        "supports at one height with the underside of what they carry",
        *("seat-height", "2", "0.04 mm", "max 0.05 mm", source),
        "new-check",
        *("new-check", "1", "1 mm", "max 2 mm", source),
    ]


def test_what_fails_is_tighter_than_any_warning() -> None:
    # one missed the limit of a warning by 29, the other that of a failure by 1
    warned = of_code("left", Sense.AT_LEAST, Severity.WARN, 21.0, 50.0)
    failed = of_code("left", Sense.AT_LEAST, Severity.FAIL, 19.0, 20.0)
    further = replace(failed, measured=18.0)
    assert tightest([warned, failed, further]) is further


def test_every_check_of_a_set_is_told_in_plain_words() -> None:
    room_set = build_set(set_sizes(), Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM)
    found = check_set(room_set, machining(room_set.assembly, ROUTING), ROUTING, TRIM_MM)
    assert {each.code for each in found} | {"overlap"} <= CHECKED.keys()


def test_each_hand_has_its_pictures_and_its_plan(page: Page) -> None:
    assert [head for head in page.of("h3") if "hand" in head] == [
        "double, right hand",
        "double, left hand",
    ]
    # one plan of each hand beside its pictures, one where the hand is explained
    titles = page.of("title")
    assert titles.count("plan of the right hand: the corner at the right") == 2
    assert titles.count("plan of the left hand: the corner at the left") == 2
    assert any("facing the head wall from inside the room" in text for text in page.of("p"))


def test_yield_and_cut_list_are_shown(page: Page) -> None:
    cells = page.of("td")
    assert {"10.6 %", "184.50", '96 1/16" x 48 1/32"'} <= set(cells)
    assert "All sheets: 184.50 EUR." in page.of("p")
    assert {"A-01", "B-02", "C-03", "D-04", '19.685" x 11.811"'} <= set(cells)
    assert "shop/sheets/laminated-18/001.dxf" in page.of("figcaption")


def table_rows(html: str, section: str) -> list[list[str]]:
    """All cells of the rows of a section, the blank ones too."""
    markup = html.partition(f'<section id="{section}">')[2].partition("</section>")[0]
    rows = re.findall(r"<tr[^>]*>(<td.*?)</tr>", markup)
    return [[unescape(cell) for cell in re.findall(r"<td[^>]*>(.*?)</td>", row)] for row in rows]


def headings(html: str, section: str) -> list[list[str]]:
    """The heads of the tables of a section."""
    markup = html.partition(f'<section id="{section}">')[2].partition("</section>")[0]
    heads = re.findall(r"<thead>(.*?)</thead>", markup)
    return [[unescape(cell) for cell in re.findall(r"<th[^>]*>(.*?)</th>", head)] for head in heads]


def test_every_column_says_what_it_holds() -> None:
    """Rule: a number that goes without its unit, or is of one piece of many, says so above."""
    basis = Basis("simple beam", ("resting, not clamped",), 1.67)
    findings = (finding(Severity.WARN, "here"), replace(finding(Severity.OK, "x"), basis=basis))
    left_out = LeftOut(material="ply", form=StockForm.SHEETS, why="1 on hand")
    told_here = told_findings(findings, Units.MM)
    html = summary_html(replace(sample_content(), findings=told_here, left_out=(left_out,)))
    assert headings(html, "left-out") == [["material", "left out", "why"]]
    assert headings(html, "rooms") == [["set", "right hand", "left hand", "rooms"]]
    checks = ["what is checked", "code", "checks", "tightest", "limit"]
    told = ["result", "where", "finding", "measured", "limit"]
    assert headings(html, "findings") == [
        [*told, "source of the limit", "advice"],
        [*checks, "source of the limit"],
    ]
    assert headings(html, "strength") == [
        ["result", "where", "finding", "method", "taken", "factor of safety"]
    ]
    assert headings(html, "sheets") == [
        [
            *("material", "stock", "sheet size", "sheets", "layouts", "sheet area m²"),
            *("part area m²", "yield", "material: sheets", "at least", "price", "cost"),
        ]
    ]
    both = ["part", "description", "units", "hand", "quantity", "material"]
    assert headings(html, "parts") == [
        [
            *(*both, "thickness", "finished size", "cut size", "grain", "bands", "show face"),
            *("two-sided", "kg"),
        ],
        [*both, "profile", "length", "drill positions", "kg"],
    ]


def aligned(html: str, section: str) -> list[list[str]]:
    """How the heads of a section's tables stand, and the cells of the rows after them."""
    markup = html.partition(f'<section id="{section}">')[2].partition("</section>")[0]
    of_rows = re.findall(r"<tr[^>]*>(.*?)</tr>", markup)
    return [re.findall(r'<t[hd] class="(\w+)"', row) for row in of_rows]


def test_figures_stand_to_the_right_and_words_to_the_left(html: str) -> None:
    """Rule: figures of a column stand one below the other, under a head that stands as they do."""
    left, figure = ["left"], ["number"]
    assert aligned(html, "rooms") == [left + figure * 3] * 4
    assert aligned(html, "sheets") == [left * 3 + figure * 9] * 2
    checks = left * 2 + figure * 3 + left
    told = left * 3 + figure * 2 + left * 2
    assert aligned(html, "findings") == [told] * 4 + [checks] * 2
    parts = left * 4 + figure + left + figure * 3 + left * 4 + figure
    bars = left * 4 + figure + left * 2 + figure + left + figure
    assert aligned(html, "parts") == [parts] * 4 + [bars] * 2


def test_every_code_that_a_check_is_given_is_told_in_plain_words() -> None:
    """A code that has no words is shown as it stands, which tells a person nothing."""
    root = Path(__file__).parents[2]
    codes = set()
    for package in ("parametric", "casewright"):
        for path in (root / package).rglob("*.py"):
            text = path.read_text(encoding="utf-8")
            if "code=" not in text:
                continue
            for node in ast.walk(ast.parse(text)):
                if isinstance(node, ast.keyword) and node.arg == "code":
                    codes |= {
                        each.value
                        for each in ast.walk(node.value)
                        if isinstance(each, ast.Constant) and isinstance(each.value, str)
                    }
    assert len(codes) > 40
    assert codes - CHECKED.keys() == set()


def test_each_finding_that_is_not_well_has_a_whole_row(html: str) -> None:
    """Rule: what failed stands before what warns; each with its limit, its source and advice."""
    message, source = "A pilot hole stands close to the edge", "common practice, no source"
    rest = [f"{message} (edge-distance)", '1/2"', 'min 3/4"', source, "Move the cleat inwards."]
    failed, warned, checks = table_rows(html, "findings")
    assert checks[1:] == ["edge-distance", "3", '1/2"', 'min 3/4"', source]
    assert failed == ["FAIL", "double, panel A-01", *rest]
    assert warned == ["WARN", "double, panel B-02", *rest]


def test_each_part_and_bar_has_a_whole_row(html: str) -> None:
    """Rule: a person reads sizes in the job's units, to 1/32 in, and masses to 10 g.

    By hand: 18 mm = 0.709 in, 500 = 19.685, 301 = 11.850, 300 = 11.811, 600 = 23.622,
    25 = 0.984, 24 = 0.945 in, and 812.8 mm = 32 in.
    """
    assert table_rows(html, "parts") == [
        [
            *("A-01", "sample panel", "bench", "either", "4", "laminated-18", '0.709"'),
            *('19.685" x 11.850"', '19.685" x 11.811"', "lengthwise"),
            *("edge 1: white-1", "down", "yes", "3.25"),
        ],
        [
            *("B-02", "sample panel", "bench", "either", "4", "raw-18", '0.709"'),
            *('19.685" x 11.850"', '19.685" x 11.811"', "none"),
            *("edge 1: white-1", "down", "no", "3.25"),
        ],
        [
            *("C-03", "sample panel", "bench", "either", "4", "laminated-18", '0.709"'),
            *('23.622" x 63/64"', '23.622" x 0.945"', "lengthwise"),
            *("edge 1: white-1", "down", "no", "3.25"),
        ],
        [
            *("D-04", "steel angle", "bench, bed", "right", "2", "steel", "50 x 50 x 6", '32"'),
            'flat leg: 5 mm dia at 35 mm (1 3/8"), 410 mm (16 5/32") from left end,'
            ' 25.4 mm (1") from heel;'
            ' flat leg: 6.5 mm dia at 60 mm (2 3/8") from left end, 30 mm (1 3/16") from heel',
            "3.60",
        ],
    ]


def test_each_stock_has_a_whole_row(html: str) -> None:
    """By hand: 3 sheets of 2.44 x 1.22 m are 8.9304 m2, on each 0.5 x 0.3 m twice and
    0.6 x 0.024 m, 0.9432 m2 in all; three sheets at 61.50.
    """
    assert table_rows(html, "sheets") == [
        [
            *("laminated-18", "board 2440", '96 1/16" x 48 1/32"', "3", "1", "8.93", "0.94"),
            *("10.6 %", "3", "1", "61.50", "184.50"),
        ]
    ]


def test_without_bars_there_is_no_table_of_them() -> None:
    content = sample_content()
    html = summary_html(replace(content, cut_list=replace(content.cut_list, bars=())))
    assert [row[0] for row in table_rows(html, "parts")] == ["A-01", "B-02", "C-03"]
    assert "Bars" not in Page(html).of("h3")


def test_maps_of_one_material_stand_together_with_nothing_between() -> None:
    svg = lines_svg([[(0, 0), (9, 5)]])
    maps = [
        SheetMap(material=material, file=f"{number}.dxf", svg=svg)
        for number, material in enumerate(("ash", "ply", "ash"), start=1)
    ]
    page = Page(summary_html(replace(sample_content(), sheet_maps=tuple(maps))))
    assert page.of("h3")[-3:-1] == ["ash", "ply"]
    assert page.of("figcaption")[-3:] == ["1.dxf", "3.dxf", "2.dxf"]
    assert page.of("div") == []


def test_cautions_defer_to_local_rules_and_licensed_people(page: Page) -> None:
    subjects = page.of("strong")
    assert {"Cutting.", "Dust.", "Lifting.", "Walls.", "Loads."} <= set(subjects)
    assert any("Local codes" in text and "licensed" in text for text in page.of("p"))


def test_same_content_same_page(html: str) -> None:
    assert summary_html(sample_content()) == html


def test_a_row_that_does_not_fit_its_table_is_an_error() -> None:
    with pytest.raises(ValueError, match="shorter"):
        table([Column("a"), Column("b", Align.NUMBER)], [("1",)])


def test_strength_says_what_it_rests_on_and_that_it_is_no_certificate(html: str) -> None:
    basis = Basis("simple beam", ("resting, not clamped", "square corners"), 1.67)
    about = replace(finding(Severity.OK, "double, angle"), code="angle-bending", basis=basis)
    tighter = replace(about, where="single, angle", measured=19.0)
    content = replace(sample_content(), findings=in_inches(about, tighter))
    page = Page(summary_html(content))
    cells = page.of("td")
    assert {"simple beam", "resting, not clamped; square corners", "1.67"} <= set(cells)
    assert AID_ONLY in page.of("p")
    assert "Strength" not in Page(html).of("h2"), "nothing there is about strength"


LINES = (
    NotChecked(what="fire <all>", where="twin, both hands: bed", why="wood burns"),
    NotChecked(what="floods", where="twin, right hand: bench", why="it is dry"),
)


def test_what_is_not_checked_has_a_table_after_the_findings_about_strength(html: str) -> None:
    basis = Basis("simple beam", ("resting, not clamped",), 1.67)
    about = replace(finding(Severity.OK, "double, angle"), code="angle-bending", basis=basis)
    content = replace(sample_content(), findings=in_inches(about), not_checked=LINES)
    whole = summary_html(content)
    assert headings(whole, "strength")[1:] == [["what", "where", "why"]]
    first, *rest = table_rows(whole, "strength")
    assert first[1] == "double, angle"
    assert rest == [
        ["fire <all>", "twin, both hands: bed", "wood burns"],
        ["floods", "twin, right hand: bench", "it is dry"],
    ]
    page = Page(whole)
    assert page.of("h3").count("Not checked") == 1
    assert page.of("p").count(AID_ONLY) == 1
    assert "Not checked" not in html


def test_what_is_not_checked_is_told_where_no_finding_is_about_strength() -> None:
    """It is neither a warning nor a failure, and the way to it is at the head of the page."""
    page = Page(summary_html(replace(sample_content(), not_checked=LINES)))
    assert "Strength" in page.of("h2")
    assert "Strength" in page.of("a")
    assert AID_ONLY in page.of("p")
    assert "3 checks: 1 ok, 1 warn, 1 fail." in page.of("p")
    assert not any("tightest finding of each kind" in text for text in page.of("p"))


def test_papers_are_linked_from_where_the_page_lies() -> None:
    papers = ("site/install-a b-left.pdf", "site/rooms.pdf")
    page = Page(summary_html(replace(sample_content(), papers=papers)))
    links = [value for tag, name, value in page.attributes if (tag, name) == ("a", "href")]
    assert [unquote(link) for link in links if not link.startswith("#")] == list(papers)
