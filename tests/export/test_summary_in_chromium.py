"""The summary page in Debian's Chromium: it runs without a fault, finds, zooms, turns and tells."""

import json
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given

from export.drawing.sheet_drawing import sheet_drawing
from export.dxf.reader import read_dxf
from export.dxf.writer import dxf_bytes
from export.dxf_version import DxfVersion
from export.markup_text import in_script
from export.summary.content import RoomLine, SheetMap, TurnedPart, TurnedSet
from export.summary.page import summary_html
from export.summary.turned_data import turned_data
from export.svg.sheet_map import sheet_map_svg
from parametric.geometry.hand import Hand
from parametric.stock.lengths import Units
from tests.chromium import needs_chromium, painted_in_chromium, seen_in_chromium
from tests.export.sample_parts import STOCK, sample_layers, sample_layout, sample_parts
from tests.export.test_summary_page import Page, sample_content
from tests.hostile_texts import HOSTILE

CUBE = (
    *(0, 0, 0, 800, 0, 0, 800, 800, 0, 0, 800, 0),
    *(0, 0, 800, 800, 0, 800, 800, 800, 800, 0, 800, 800),
)
SIDES = (
    *(0, 2, 1, 0, 3, 2, 4, 5, 6, 4, 6, 7, 0, 1, 5, 0, 5, 4),
    *(1, 2, 6, 1, 6, 5, 2, 3, 7, 2, 7, 6, 3, 0, 4, 3, 4, 7),
)
BAD = "</script><script>boom()</script><!--<script>"


def cube(hand: Hand, name: str = "bench/box") -> TurnedSet:
    part = TurnedPart(number="A-01", name=name, points=CUBE, triangles=SIDES)
    return TurnedSet(set_name="double", hand=hand, parts=(part,))


@cache
def whole_page() -> str:
    """Return a page with three rooms, a real sheet map, and a cube to turn in either hand."""
    layers = sample_layers()
    drawing = sheet_drawing(sample_layout(), sample_parts(), STOCK, layers)
    svg = sheet_map_svg(
        read_dxf(dxf_bytes(drawing, layers, DxfVersion.R2010)),
        layers,
        title="Sheet 1",
        runs=3,
        units=Units.INCH,
    )
    rooms = (
        RoomLine(number="101", floor="1", set_name="double", hand=Hand.RIGHT),
        RoomLine(number="102", floor="1", set_name="double", hand=Hand.LEFT),
        RoomLine(number="203", floor="2", set_name="single", hand=Hand.RIGHT),
    )
    content = replace(
        sample_content(),
        sheet_maps=(SheetMap(material="laminated-18", file="001.dxf", svg=svg),),
        schedule=rooms,
        sets_of={
            "A-01": (("double", Hand.RIGHT), ("double", Hand.LEFT)),
            "B-02": (("single", Hand.RIGHT),),
            "C-03": (("double", Hand.LEFT),),
            "D-04": (("double", Hand.RIGHT),),
        },
        turned=(cube(Hand.RIGHT, BAD), cube(Hand.LEFT)),
    )
    return summary_html(content)


def told(act: str, folder: Path, width: int = 1280) -> object:
    """Return what the statements return in the page, which nothing went wrong on."""
    seen = seen_in_chromium(whole_page(), folder, act, width)
    assert seen["heard"] == []
    return seen["said"]


SHOWN = """
  const shown = (lines) => [...document.querySelectorAll(lines)]
    .filter((line) => !line.classList.contains("not-sought"));
  const seek = (words) => {
    const place = document.getElementById("sought");
    place.value = words;
    place.dispatchEvent(new Event("input", { bubbles: true }));
    return [
      shown("tr[data-part]").map((line) => line.dataset.part).join(" "),
      shown("tr[data-room]").map((line) => line.dataset.room).join(" "),
      shown(".maps figure").length,
      document.getElementById("found").textContent.trim(),
    ];
  };
"""


@needs_chromium
def test_the_search_finds_parts_and_rooms_and_says_how_many(tmp_path: Path) -> None:
    act = f"""{SHOWN}
      const of = Object.fromEntries(["b-02", "203", "102", "angle", "nothing"].map((each) =>
        [each, seek(each)]));
      const open = document.querySelector("#rooms details").open;
      seek("203");
      press(document.getElementById("sought"), "Escape");
      return {{ of, open, whole: seek("") }};
    """
    said = told(act, tmp_path)
    assert isinstance(said, dict)
    assert said["of"] == {
        "b-02": ["B-02", "203", 1, "1 of 4 parts and bars 1 of 3 rooms 1 of 1 sheet maps"],
        "203": ["B-02", "203", 1, "1 of 4 parts and bars 1 of 3 rooms 1 of 1 sheet maps"],
        "102": ["A-01 C-03", "102", 1, "2 of 4 parts and bars 1 of 3 rooms 1 of 1 sheet maps"],
        "angle": ["D-04", "101", 0, "1 of 4 parts and bars 1 of 3 rooms 0 of 1 sheet maps"],
        "nothing": ["", "", 0, "0 of 4 parts and bars 0 of 3 rooms 0 of 1 sheet maps"],
    }
    assert said["open"] is False
    assert said["whole"] == ["A-01 B-02 C-03 D-04", "101 102 203", 1, ""]


@needs_chromium
def test_a_map_zooms_by_keys_and_buttons_and_stays_on_the_sheet(tmp_path: Path) -> None:
    act = """
      const svg = document.querySelector(".maps svg");
      const frame = () => svg.getAttribute("viewBox").split(" ").map(Number);
      const first = frame();
      press(svg, "+");
      const larger = frame();
      for (let i = 0; i < 40; i += 1) press(svg, "ArrowRight");
      const right = frame();
      for (let i = 0; i < 60; i += 1) press(svg, "+");
      const largest = frame();
      press(svg, "Home");
      const again = frame();
      document.querySelector(".maps .tools button").click();
      return { first, larger, right, largest, again, clicked: frame(), tab: svg.tabIndex };
    """
    said = told(act, tmp_path)
    assert isinstance(said, dict)
    x, y, wide, high = said["first"]
    assert said["larger"] == pytest.approx([x + wide / 6, y + high / 6, wide / 1.5, high / 1.5])
    assert said["right"][0] + said["right"][2] == pytest.approx(x + wide)
    assert said["largest"][2] == pytest.approx(wide / 24)
    assert said["again"] == said["first"]
    assert said["clicked"] == pytest.approx(said["larger"])
    assert said["tab"] == 0


@needs_chromium
def test_a_wheel_turns_the_page_until_the_map_is_chosen(tmp_path: Path) -> None:
    act = """
      const svg = document.querySelector(".maps svg");
      const wheel = (deltaY, more = {}) => {
        const event = new WheelEvent("wheel",
          { deltaY, clientX: 5, clientY: 5, bubbles: true, cancelable: true, ...more });
        svg.dispatchEvent(event);
        return [event.defaultPrevented, svg.classList.contains("zoomed")];
      };
      const first = wheel(-1);
      const held = wheel(-1, { ctrlKey: true });
      press(svg, "Home");
      svg.focus();
      return [first, held, wheel(1), wheel(-1)];
    """
    assert told(act, tmp_path) == [[False, False], [True, True], [False, False], [True, True]]


@needs_chromium
def test_a_map_that_is_dragged_moves_with_the_pointer(tmp_path: Path) -> None:
    """A map at twice its size that is dragged 10 pixels to the left shows what lay 10 to the right,
    and tells of no part.
    """
    act = """
      const svg = document.querySelector(".maps svg");
      press(svg, "+"); press(svg, "+");
      const left = () => Number(svg.getAttribute("viewBox").split(" ")[0]);
      const before = left();
      const pixel = 1 / svg.getScreenCTM().a;
      const at = (type, clientX) => svg.dispatchEvent(new PointerEvent(type,
        { clientX, clientY: 50, pointerId: 1, pointerType: "touch", bubbles: true }));
      svg.setPointerCapture = () => {};
      at("pointerdown", 100); at("pointermove", 95); at("pointermove", 90); at("pointerup", 90);
      return [(left() - before) / pixel, svg.parentElement.querySelector(".told").textContent];
    """
    said = told(act, tmp_path)
    assert isinstance(said, list)
    assert said[0] == pytest.approx(10, abs=0.01)
    assert said[1] == ""


@needs_chromium
def test_a_map_tells_of_the_part_that_is_touched_or_stepped_to(tmp_path: Path) -> None:
    act = """
      const svg = document.querySelector(".maps svg");
      const told = svg.parentElement.querySelector(".told");
      const texts = [];
      for (let i = 0; i < 3; i += 1) { press(svg, "Enter"); texts.push(told.textContent); }
      press(svg, "Enter", { shiftKey: true });
      texts.push(told.textContent);
      press(svg, "Escape");
      texts.push(told.textContent);
      const part = svg.querySelector('[data-part="B-02"]');
      part.scrollIntoView({ block: "center" });
      const box = part.getBoundingClientRect();
      const at = { clientX: box.x + box.width / 2, clientY: box.y + box.height / 2,
        bubbles: true, pointerId: 1, pointerType: "touch" };
      const hit = document.elementFromPoint(at.clientX, at.clientY);
      hit.dispatchEvent(new PointerEvent("pointerdown", at));
      hit.dispatchEvent(new PointerEvent("pointerup", at));
      texts.push(told.textContent);
      told.querySelector("button").click();
      return { texts, focus: document.activeElement.dataset.part };
    """
    said = told(act, tmp_path)
    assert isinstance(said, dict)
    size = '19.685" x 11.850"'
    of = {
        "A-01": f"A-01: sample panel, {size}, unit: bench, 4 in the job, laminated-18.",
        "B-02": f"B-02: sample panel, {size}, unit: bench, 4 in the job, raw-18.",
    }
    texts = [text.removesuffix(" Show in the cut list") for text in said["texts"]]
    assert texts[0] == of["A-01"]
    assert texts[1] == of["B-02"] == texts[3] == texts[5]
    assert texts[2].startswith("C-03")
    assert texts[4] == ""
    assert said["focus"] == "B-02"


@needs_chromium
def test_a_set_is_drawn_turned_and_told_of(tmp_path: Path) -> None:
    act = """
      const canvas = document.querySelectorAll(".turn canvas")[1];
      const told = canvas.parentElement.querySelector(".told");
      const data = JSON.parse(document.getElementById("turned-sets").textContent);
      const name = data[0].parts[0].name;
      press(document.querySelectorAll(".turn canvas")[0], "Enter");
      press(canvas, "Enter");
      return { name, turns: document.querySelectorAll(".turn canvas").length,
        told: told.textContent, first: document.querySelector(".turn .told").textContent };
    """
    said = told(act, tmp_path)
    assert isinstance(said, dict)
    assert said["turns"] == 2
    assert said["name"] == BAD
    assert said["told"].startswith('A-01: bench/box, 19.685" x 11.850", unit: bench')
    assert BAD in said["first"]


PAINTED = """
  const solid = solidOf({ parts: [{ points: %s, triangles: %s }] });
  const look = (turn, rise) => {
    const [wide, high] = [160, 160];
    const seen = new Int32Array(wide * high), depth = new Float32Array(wide * high);
    nearest(solid, viewFrom(turn, rise), wide, high, 0.1, seen, depth);
    const faces = [...seen].map((each) => each && solid.triangles[each - 1].face);
    return { pixels: faces.filter(Boolean).length,
      faces: new Set(faces.filter(Boolean)).size };
  };
  return [look(0, 0), look(0, 90), look(45, 0), look(30, 30)];
"""


@needs_chromium
def test_what_is_seen_of_a_cube_has_its_area(tmp_path: Path) -> None:
    """Rule: a parallel projection of a box along the unit vector v shows the areas of its sides
    times |v_x|, |v_y| and |v_z|. A cube of 800 mm at 0.1 pixels to a mm has sides of 6400 pixels.
    """
    script = (Path(__file__).parents[2] / "export/summary/script/surface.js").read_text("utf-8")
    html = "<!doctype html><html><head></head><body></body></html>"
    act = script + PAINTED % (list(CUBE), list(SIDES))
    seen = seen_in_chromium(html, tmp_path, act)
    assert seen["heard"] == []
    front, above, corner, slanting = seen["said"]  # type: ignore[misc]
    side, rim = 80 * 80, 4 * 81
    for each, area, faces in (
        (front, side, 1),
        (above, side, 1),
        (corner, side * 2**0.5, 2),
        (slanting, side * (0.5 + 3**0.5 / 2 * (0.5 + 3**0.5 / 2)), 3),
    ):
        assert each["faces"] == faces
        assert each["pixels"] == pytest.approx(area, abs=rim)


@needs_chromium
def test_a_set_is_painted(tmp_path: Path) -> None:
    """The picture holds the yellow of the part that was chosen, and more of the ink than without.

    Black and white apart it has no other colour that is more red than blue.
    """
    alone = "for (const each of document.querySelectorAll('body > :not(#sets)')) each.remove();"
    chosen = f"{alone} press(document.querySelector('.turn canvas'), 'Enter');"
    yellow = [
        sum(count for count, (red, _, blue) in colours if red - blue > 60)
        for act in (alone, chosen)
        for colours in [painted_in_chromium(whole_page(), tmp_path, act)]
    ]
    assert yellow[0] == 0
    assert yellow[1] > 5000


@needs_chromium
def test_on_a_phone_nothing_is_wider_than_the_page(tmp_path: Path) -> None:
    act = """
      const wide = document.documentElement.clientWidth;
      return [...document.querySelectorAll("body *")]
        .filter((each) => !each.closest(".wide *") && !each.closest("svg *"))
        .filter((each) => each.getBoundingClientRect().right > wide + 1)
        .map((each) => each.outerHTML.slice(0, 80));
    """
    assert told(act, tmp_path, width=500) == []


def test_a_name_cannot_end_the_script_that_holds_it() -> None:
    """HTML, 13.2.5.4: only `</script` ends a script's text, and only `<!--` changes how it is read;
    a text without `<` has neither.
    """
    data = whole_page().partition('id="turned-sets">')[2].partition("</script>")[0]
    assert "boom" in data
    assert "<" not in data
    page = Page(whole_page())
    assert [value for tag, name, value in page.attributes if (tag, name) == ("script", "id")] == [
        "turned-sets"
    ]


@given(HOSTILE)
def test_data_in_a_script_reads_as_it_was_and_holds_no_markup(text: str) -> None:
    shown = in_script([text])
    assert json.loads(shown) == [text]
    assert not {"<", ">", "&"} & set(shown)


def test_what_would_steer_a_display_stands_as_an_escape() -> None:
    """U+202E turns the line round that it stands in; the script would show it as it is."""
    data = turned_data([cube(Hand.LEFT, "a\u202eb")])
    (listed,) = json.loads(data.partition(">")[2].partition("</script>")[0])
    assert listed["parts"][0]["name"] == r"a\u202eb"


def test_same_content_same_page_with_its_data() -> None:
    first = whole_page()
    whole_page.cache_clear()
    assert whole_page() == first
