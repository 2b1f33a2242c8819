"""The picture of a bar and its cuts, to scale along its length."""

from __future__ import annotations

from collections.abc import Iterator

from export.svg.elements import number, svg_document, text_element
from nesting.linear.bar_nest import NumberedPattern
from nesting.question.ticks import to_mm
from parametric.stock.lengths import Units, show_length

_HEIGHT_SHARE = 1 / 36  # of the longest bar: bars of one page are drawn alike
_TEXT_SHARE = 0.36  # of the bar's height
_LETTER_SHARE = 0.95  # width of a character, of a capital's height, with room to spare
_PART, _REMNANT, _WASTE = "#ededed", "#fff", "#b9b9b9"


def bar_picture_svg(each: NumberedPattern, longest_mm: float, units: Units) -> str:
    """Return the bar as SVG, as long as its share of `longest_mm`: pieces pale with their numbers,
    what is kept white, what is lost grey, and above it how many bars are cut so.

    Raises:
        ValueError: the longest bar is shorter than this one.
    """
    length_mm = each.stock_length_mm
    if length_mm > longest_mm:
        raise ValueError(f"a bar of {length_mm} mm on a page for {longest_mm} mm")
    height = longest_mm * _HEIGHT_SHARE
    text = height * _TEXT_SHARE
    runs = each.pattern.runs
    heading = (
        f"{each.number}: cut {runs} {'bar' if runs == 1 else 'bars'} of "
        f"{show_length(length_mm, units)} like this"
    )
    body = [
        _box(0.0, length_mm, height, _WASTE),
        *_pieces(each, height, text, units),
        *_rest(each, height, text, units),
        text_element(heading, 0.0, height + 0.8 * text, text),
    ]
    frame = (-text, -text, longest_mm + text, height + 3 * text)
    return svg_document(frame, heading, body)


def _pieces(each: NumberedPattern, height: float, text: float, units: Units) -> Iterator[str]:
    rules = each.nest.question.rules
    at = to_mm(rules.end_trim)
    for part, length_mm in each.cuts_mm:
        yield _box(at, length_mm, height, _PART)
        words = f"{part}, {show_length(length_mm, units)}"
        yield from _label((words, part), at, length_mm, height, text)
        at += length_mm + to_mm(rules.kerf)


def _rest(each: NumberedPattern, height: float, text: float, units: Units) -> Iterator[str]:
    if not each.keeps_remnant:
        return
    rest_mm = to_mm(each.pattern.remnant)
    at = each.stock_length_mm - rest_mm
    yield _box(at, rest_mm, height, _REMNANT)
    shown = show_length(rest_mm, units)
    yield from _label((f"keep {shown}", shown), at, rest_mm, height, text)


def _label(
    texts: tuple[str, ...], at: float, length_mm: float, height: float, text: float
) -> Iterator[str]:
    """Yield the first of the texts that there is room for."""
    for words in texts:
        if len(words) * text * _LETTER_SHARE <= length_mm:
            middle = at + length_mm / 2
            yield text_element(words, middle, (height - text) / 2, text, anchor="middle")
            return


def _box(x: float, length_mm: float, height: float, colour: str) -> str:
    return (
        f'<rect x="{number(x)}" y="{number(-height)}" width="{number(length_mm)}"'
        f' height="{number(height)}" fill="{colour}" stroke="#111"'
        f' stroke-width="{number(height / 40)}"/>'
    )
