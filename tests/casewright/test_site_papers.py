"""The papers for the site, read back by another library (PDFium)."""

import functools
import json
from collections import Counter
from pathlib import PurePosixPath

import pypdfium2
import pytest

from casewright.stages.site.blocking_content import OfJob, blocking_plan
from casewright.stages.site.site_pictures import article_letters, step_pictures
from casewright.stages.site.site_stage import SiteSet, work_for
from export.papers.square_code import code_svg
from export.site.content import StepPicture
from parametric.geometry.hand import Hand
from parametric.geometry.space import Axis
from parametric.joints.joints import FixedToWall, Screwed
from parametric.pictures.scene import scenes_of
from parametric.stock.lengths import Units
from parametric.stock.paper import Paper, paper_for
from tests.casewright.site_example import CAUTION, fit, papers_of, room, site_set
from tests.pdf_pages import assert_texts_apart, text_of
from tests.square_codes import code_of, codes_in, modules_of

ROOMS = (room("101", Hand.RIGHT), room("102", Hand.LEFT), room("103", Hand.LEFT))

# ISO 216 for A4, ASME Y14.1 for letter (both from memory), in points of 1/72 inch.
PAGE_POINTS = {Paper.A4: (210 / 25.4 * 72, 297 / 25.4 * 72), Paper.LETTER: (612.0, 792.0)}


@functools.cache
def sets() -> tuple[SiteSet, SiteSet]:
    return site_set(Hand.RIGHT), site_set(Hand.LEFT)


@functools.cache
def papers(units: Units) -> dict[str, bytes]:
    fits = (fit("101"), fit("102", "the corner is too narrow"))
    return papers_of(work_for("Demo & job", sets(), ROOMS, fits, units, paper_for(units)))


def pages(units: Units, name: str) -> list[pypdfium2.PdfPage]:
    return list(pypdfium2.PdfDocument(papers(units)[f"site/{name}.pdf"]))


def pictures(each: SiteSet) -> tuple[tuple[StepPicture, ...], ...]:
    room_set = each.model.room_set
    letters = article_letters(room_set.assembly, each.steps)
    worked = each.model.machining
    scenes = tuple(scenes_of(room_set.assembly, worked, each.steps, room_set.outwards))
    return step_pictures(room_set, worked, each.steps, scenes, each.numbers, letters)


def test_every_set_and_hand_has_its_papers() -> None:
    assert sorted(papers(Units.MM)) == [
        "site/blocking-example-left.pdf",
        "site/blocking-example-right.pdf",
        "site/install-example-left.pdf",
        "site/install-example-right.pdf",
        "site/labels-boxes.pdf",
        "site/pick-list.pdf",
        "site/rooms.pdf",
    ]


@pytest.mark.parametrize("units", Units)
def test_pages_have_the_size_of_their_paper_and_are_counted(units: Units) -> None:
    width, height = PAGE_POINTS[paper_for(units)]
    for name in ("install-example-left", "blocking-example-right", "rooms", "pick-list"):
        listed = pages(units, name)
        for number, page in enumerate(listed, start=1):
            assert page.get_size() == pytest.approx((width, height), abs=0.1)
            assert f"page {number} of {len(listed)}" in text_of(page)
            assert ", revision " in text_of(page)


@pytest.mark.parametrize("units", Units)
def test_no_text_lies_on_another_or_off_the_page(units: Units) -> None:
    for path in papers(units):
        for page in pages(units, PurePosixPath(path).stem):
            assert assert_texts_apart(page) > 5


def test_papers_are_the_same_bytes_again() -> None:
    fits = (fit("101"), fit("102", "the corner is too narrow"))
    again = papers_of(work_for("Demo & job", sets(), ROOMS, fits, Units.MM, Paper.A4))
    assert again == papers(Units.MM)


def test_each_room_has_one_page_and_the_record_of_its_set() -> None:
    found = [text_of(page) for page in pages(Units.INCH, "rooms")]
    assert len(found) == len(ROOMS)
    for text, each in zip(found, ROOMS, strict=True):
        assert f"Room {each.number}" in text and f"{each.hand} hand" in text
    assert "1/2" in found[0] and "does not go" not in found[0]
    assert "the corner is too narrow" in found[1]
    assert "Not measured" in found[2] and "everything" in found[2]


@pytest.mark.parametrize("units", list(Units))
def test_the_square_code_on_paper_is_read_back_as_the_record(units: Units) -> None:
    """Each page is printed at 150 dots an inch and read by OpenCV, a reader of ISO/IEC 18004 codes
    that shares nothing with what drew them.
    """
    for page in pages(units, "rooms"):
        printed = page.render(scale=150 / 72).to_numpy()
        (code,) = codes_in(printed)
        record = json.loads(code)
        assert record["room"] and f"Room {record['room']}" in text_of(page)
        assert f"set {record['set']}, {record['hand']} hand" in text_of(page)
        assert record["revision"]


@pytest.mark.parametrize("set_name", ["plain", "größer", "3 × 4 – 雪"])
def test_the_square_code_says_the_record(set_name: str) -> None:
    record = json.dumps({"room": "101", "set": set_name}, ensure_ascii=False)
    assert code_of(code_svg(record)) == record


def test_the_square_code_is_of_level_m_and_stands_free() -> None:
    """ISO/IEC 18004 (from memory): the first two modules of the ninth row tell the level; dark and
    light is M, which mends 15 of 100 codewords. Four modules round a code stay free.
    """
    modules = modules_of(code_svg("any record"))
    assert list(modules[4 + 8, 4:6]) == [0, 255]
    quiet = (modules[:4], modules[-4:], modules[:, :4], modules[:, -4:])
    assert all(edge.min() == 255 for edge in quiet)


def test_the_store_packs_spares_for_all_rooms_of_a_hand() -> None:
    (page,) = pages(Units.MM, "pick-list")
    text = text_of(page)
    assert "example, left hand: 2 boxes" in text and "example, right hand: 1 box" in text
    assert "44 88 No. 8 screw" in text and "310 ml 620 ml adhesive" in text
    assert "spirit level" not in text


def test_texts_come_out_as_they_went_in() -> None:
    whole = " ".join(map(text_of, pages(Units.MM, "install-example-right")))
    assert CAUTION in whole
    assert "Local codes, and the people licensed" in whole


def test_mirrored_sets_have_mirrored_pictures() -> None:
    right, left = ([view for step in pictures(each) for view in step] for each in sets())
    for a, b in zip(right, left, strict=True):
        assert a.caption == b.caption
        for one, other in zip(a.screws, b.screws, strict=True):
            assert (one.label, one.seen) == (other.label, other.seen)
            assert (-one.at[0], one.at[1]) == pytest.approx(other.at, abs=1e-6)
        for c, d in zip(a.callouts, b.callouts, strict=True):
            assert c.label == d.label
            assert (-c.at[0], c.at[1]) == pytest.approx(d.at, abs=1e-6)
        for lines, others in ((a.new, b.new), (a.earlier, b.earlier)):
            mirrored = {(round(-x), round(y)) for line in lines for x, y in line}
            same = {(round(x), round(y)) for line in others for x, y in line}
            near = {(x + i, y + j) for x, y in same for i in (-1, 0, 1) for j in (-1, 0, 1)}
            assert mirrored <= near


def test_mirrored_sets_have_the_same_words() -> None:
    """By their characters: letters at screws that stand close are read as one word or as several,
    as they happen to lie.
    """
    right = [text_of(page) for page in pages(Units.MM, "install-example-right")]
    left = [text_of(page) for page in pages(Units.MM, "install-example-left")]
    assert len(right) == len(left)
    for a, b in zip(right, left, strict=True):
        plain_a = a.split(", revision ")[0].replace("right hand", "left hand").replace(" ", "")
        plain_b = b.split(", revision ")[0].replace(" ", "")
        assert Counter(plain_a) == Counter(plain_b)


def test_mirrored_sets_have_mirrored_blocking() -> None:
    right, left = (
        blocking_plan("job", each.model.room_set, OfJob(units=Units.MM)) for each in sets()
    )
    assert [wall.title for wall in right.walls] == ["head wall", "side wall"]
    for a, b in zip(right.walls, left.walls, strict=True):
        assert a.rows == b.rows
        for zone, other in zip(a.zones, b.zones, strict=True):
            assert zone.area.x0 == pytest.approx(-other.area.x1)
            assert zone.area.x1 == pytest.approx(-other.area.x0)
    # Facing the head wall, a right hand's corner is at the right: everything is left of it.
    assert all(zone.area.x1 <= 0 for zone in right.walls[0].zones)
    assert all(zone.area.x0 >= 0 for zone in right.walls[1].zones)


def test_the_blocking_plan_tells_its_rooms_and_its_scale() -> None:
    """102 and 103 have the left hand, 101 the right one; the scale is what both pictures have."""
    for hand, rooms in ((Hand.LEFT, "rooms 102, 103"), (Hand.RIGHT, "room 101")):
        text = "\n".join(map(text_of, pages(Units.INCH, f"blocking-example-{hand}")))
        assert f'example, {hand} hand, {rooms}. Seen from the room, 1 : 24, 1/2" = 1\'-0";' in text
        assert 'rounded outwards to 1/16"' in text
        assert text.index("Caution") < text.index("Solid wood between the studs")
        assert "Made as the head wall." in text


def test_every_screw_of_a_step_is_drawn_once_with_its_articles_letter() -> None:
    each = sets()[0]
    assembly = each.model.room_set.assembly
    letters = article_letters(assembly, each.steps)
    for step, views in zip(each.steps, pictures(each), strict=True):
        joints = [assembly.joints[at] for at in step.joints]
        driven = [joint for joint in joints if isinstance(joint, Screwed | FixedToWall)]
        wanted = Counter(letters[joint.screw.key] for joint in driven)
        drawn = Counter(screw.label.split("+")[0] for view in views for screw in view.screws)
        assert drawn == wanted


def test_every_wall_screw_lies_in_a_zone() -> None:
    plan = blocking_plan("job", sets()[0].model.room_set, OfJob(units=Units.MM))
    shown = sum(len(zone.screws) for wall in plan.walls for zone in wall.zones)
    joints = sets()[0].model.room_set.assembly.joints
    wall = [j for j in joints if isinstance(j, FixedToWall)]
    assert shown == len(wall) > 0
    assert {j.direction.axis for j in wall} == {Axis.X, Axis.Y}
