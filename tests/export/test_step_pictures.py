"""Pictures of the installer's steps: which lines are new, which are earlier, which are lengths."""

import re
from dataclasses import replace
from html import unescape
from math import fsum

import pytest

from export.papers.drawn import CAPITAL_MM
from export.papers.pdf import letter_widths
from export.site.content import Callout, StepPicture
from export.site.step_drawing import step_svg
from export.svg.elements import CAPITAL_SHARE

PICTURE = StepPicture(
    new=(((0.0, 0.0), (1000.0, 0.0)), ((1000.0, 0.0), (1000.0, 500.0))),
    earlier=(((0.0, 0.0), (0.0, 500.0)),),
    marks=(((200.0, 0.0), (200.0, 500.0)),),
    callouts=(Callout(label="A", at=(0.0, 250.0)), Callout(label="B", at=(1000.0, 250.0))),
)


def paths(svg: str) -> list[dict[str, str]]:
    """The attributes of each path that is a line, in the order of drawing."""
    found = [
        dict(re.findall(r'([\w-]+)="([^"]*)"', path)) for path in re.findall("<path[^>]*>", svg)
    ]
    return [each for each in found if "stroke" in each]


def test_new_parts_are_heavy_and_black_earlier_ones_thin_and_grey_lengths_dashed() -> None:
    """Rule: in black and white a person sees at once what this step adds (common practice)."""
    earlier, new, marks, heads, *leaders = paths(step_svg(PICTURE, "Step 1", 170.0, 90.0))
    black, grey = "#000", "#777"
    assert [each["stroke"] for each in (earlier, new, marks)] == [grey, black, black]
    widths = [float(each["stroke-width"]) for each in (earlier, marks, new)]
    assert widths == sorted(set(widths)), "each heavier than the one before"
    assert [("stroke-dasharray" in each) for each in (earlier, new, marks)] == [False, False, True]
    assert "stroke-dasharray" not in heads, "a length has a head at either end"
    assert len(leaders) == 2 * 2, "each leader has a head on what it means"
    assert {each["stroke"] for each in leaders} == {black}


def test_every_colour_is_one_that_svg_knows() -> None:
    """Three or six hexadecimal digits after a mark (CSS Color Module Level 3), or none."""
    svg = step_svg(PICTURE, "Step 1", 170.0, 90.0)
    colours = set(re.findall(r'(?:fill|stroke)="([^"]*)"', svg))
    assert colours
    assert all(re.fullmatch("none|#(?:[0-9a-f]{3}){1,2}", colour) for colour in colours)


def test_a_step_without_lines_has_no_picture() -> None:
    with pytest.raises(ValueError, match="at least one line"):
        step_svg(StepPicture(new=(), earlier=(), marks=(), callouts=()), "t", 170.0, 90.0)


def test_labels_have_white_ground_as_wide_as_they_are() -> None:
    """Lines do not run through letters; widths are those of the font that papers have."""
    names = ["WALL BASE", "side wall", '13 1/4" mm', "A001", "W"]
    callouts = tuple(Callout(label=name, at=(0.0, 90.0 * at)) for at, name in enumerate(names))
    svg = step_svg(replace(PICTURE, callouts=callouts), "Step 1", 170.0, 90.0)
    ground = r'<path d="([^"]+)Z" fill="#fff"/><text x="([^"]+)" [^>]*>([^<]+)</text>'
    grounds = re.findall(ground, svg)
    assert [unescape(text) for _, _, text in grounds] == names
    for data, middle, text in grounds:
        xs = [float(x) for x in re.findall(r"[ML]([^ ]+) ", data)]
        letters = map(letter_widths("regular").__getitem__, unescape(text))
        wide = fsum(letters) * CAPITAL_MM / CAPITAL_SHARE
        assert min(xs) < float(middle) - wide / 2 < float(middle) + wide / 2 < max(xs)
