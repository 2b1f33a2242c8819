"""Offcuts on a sheet map: their size stands in their middle, along their longer side (by hand)."""

import re

import pytest

from export.svg.sheet_marks import hatched_offcuts
from parametric.geometry.outline import Bounds
from parametric.stock.lengths import Units

CAPITAL_MM = 20.0


@pytest.mark.parametrize(
    ("box", "words", "place", "turn"),
    [
        # Level: the baseline lies half a letter, 10 mm, under the middle; y counts down in SVG.
        (Bounds(100, 50, 1100, 350), "offcut 1000 mm x 300 mm", (600, -190), None),
        # Upright, read from the right: half a letter to the right of the middle.
        (Bounds(100, 50, 400, 1050), "offcut 300 mm x 1000 mm", (260, -550), "-90"),
    ],
)
def test_the_size_of_an_offcut_stands_in_its_middle(
    box: Bounds, words: str, place: tuple[float, float], turn: str | None
) -> None:
    svg = "".join(hatched_offcuts([box], Units.MM, CAPITAL_MM, 1.0))
    text = re.search(r'<text x="([-\d.]+)" y="([-\d.]+)"[^>]*>([^<]*)</text>', svg)
    assert text is not None
    assert text[3] == words
    assert (float(text[1]), float(text[2])) == place
    turned = re.search(r"rotate\(([-\d.]+) ", svg)
    assert (turned and turned[1]) == turn
