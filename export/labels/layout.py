"""How a label is laid out: its number over its lines at the left, at the right its square code over
its picture.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from math import fsum

from export.labels.content import Label, LabelKind
from export.labels.picture import label_picture_svg
from export.labels.stock import LEAST_HEIGHT_MM, LabelStock
from export.papers.cards import (
    LEAST_CAPITAL_MM,
    Card,
    Drawn,
    Look,
    Words,
    card_document,
    reckoned_mm,
)
from export.papers.square_code import code_svg
from export.papers.typesetting import Source

_NUMBER_MM = 7.0
"""Capitals of the number on the lowest label: read at arm's length (common practice, no source)."""

_LARGER = 1.6  # at most, on higher labels
_CODE_OF_HEIGHT, _CODE_OF_WIDTH = 0.6, 0.36
_LEAST_CODE_MM, _MOST_CODE_MM = 17.8, 30.0
_PICTURE_OF_WIDTH = 0.42
_APART_MM = 1.8
_PITCH = 1.62  # from line to line, of the height of its capitals
_BELOW = 0.3  # what hangs below a line, of the height of its capitals

_STEP = 0.97  # from one scale that is tried to the next
_SMALLEST = 1.8  # capitals of the smallest lines, on the lowest label
_SQUEEZED = 0.85  # of its height: a line that fits so is not broken
_NOISE_MM = 1e-6

_MOST_NAMED = 5  # pieces that a label names; beyond, the table does
_SECOND = "turn over"
_MARK, _MARK_WIDE = 0.27, 6.0  # height of its letters to the number's; its width to its height
_NUMBER_WIDE = 5.5  # of a number of four signs with such a mark, of the height of its capitals
_RISING, _FALLING = 0.15, 0.4  # of its height: what small letters rise above and hang below

Line = tuple[str, float, Look]
"""A line, the height of its capitals on the lowest label, and how it stands out."""


def labels_source(title: str, stock: LabelStock, labels: Iterable[Label]) -> Source:
    """Return the labels in their order on their stock."""
    cards = [label_card(label, stock) for label in labels]
    return card_document(title, stock.paper_mm, tuple(stock.corners()), cards)


def label_card(label: Label, stock: LabelStock) -> Card:
    """Return what stands on a label, and where; its rim is free."""
    rim = stock.rim_mm
    wide, high = stock.width_mm - 2 * rim, stock.height_mm - 2 * rim
    code = max(min(_CODE_OF_HEIGHT * high, _CODE_OF_WIDTH * wide, _MOST_CODE_MM), _LEAST_CODE_MM)
    items: list[Words | Drawn] = [
        Drawn(
            svg=code_svg(label.record),
            x_mm=rim + wide - code,
            y_mm=rim,
            width_mm=code,
            height_mm=code,
        )
    ]
    beside = wide - code - _APART_MM
    scale = min(high / LEAST_HEIGHT_MM, beside / _NUMBER_WIDE / _NUMBER_MM, _LARGER)
    number = max(scale, 1.0) * _NUMBER_MM
    items.extend(_head(label, rim, beside, number))
    below = code if label.picture is not None else high
    narrow = wide - _PICTURE_OF_WIDTH * wide - _APART_MM
    top = number + (_APART_MM if _of_capitals(label) else max(_APART_MM, _FALLING * number))
    items.extend(_lines(_content(label), rim, (top, high), below, (beside, min(beside, narrow))))
    if label.picture is not None:
        width, height = round(wide - narrow - _APART_MM, 3), round(high - code, 3)
        svg = label_picture_svg(label.picture, width, height)
        x = rim + wide - width
        items.append(Drawn(svg=svg, x_mm=x, y_mm=rim + code, width_mm=width, height_mm=height))
    return tuple(items)


def _head(label: Label, rim: float, wide: float, capital: float) -> Iterator[Words]:
    """Yield the number, and the mark of a second operation, in this width; the number's capitals
    are so high, or lower where its letters rise above them.
    """
    mark = _MARK * capital
    number = wide
    if label.second_operation:
        number -= (_MARK_WIDE + 1.5) * mark
        yield Words(
            text=_SECOND,
            x_mm=rim + number + mark,
            y_mm=rim + (capital - mark) / 2,
            width_mm=_MARK_WIDE * mark,
            capital_mm=mark,
            look=Look.WHITE_ON_BLACK,
        )
    rising = 0.0 if _of_capitals(label) else _RISING
    yield Words(
        text=label.number,
        x_mm=rim,
        y_mm=rim + rising * capital,
        width_mm=number,
        capital_mm=(1 - rising) * capital,
        look=Look.BOLD,
    )


def _of_capitals(label: Label) -> bool:
    """Return whether the number is a capital and digits, not a word."""
    return label.kind in (LabelKind.PART, LabelKind.BUNDLE)


def _lines(
    lines: tuple[Line, ...],
    rim: float,
    between: tuple[float, float],
    below: float,
    widths: tuple[float, float],
) -> Iterator[Words]:
    """Yield the lines from one height to another, as large as they can be; what reaches further
    down than `below` has the second width. What is too long is broken at a blank, if all lines have
    room then, in smaller letters or not.
    """
    top, end = between
    asked = fsum(_PITCH * capital for _, capital, _ in lines)
    scale = largest = min((end - top) / asked, _LARGER)

    def width_at(y: float, capital: float) -> float:
        return widths[0] if y + capital * (1 + _BELOW) <= below else widths[1]

    placed, low = _broken(lines, top, scale, width_at)
    while low > end + _NOISE_MM and scale * _STEP * _SMALLEST >= LEAST_CAPITAL_MM:
        scale *= _STEP
        placed, low = _broken(lines, top, scale, width_at)
    if low > end + _NOISE_MM:
        placed, _ = _broken(lines, top, largest, lambda _y, _capital: math.inf)
    for text, y, capital, look in placed:
        width = width_at(y, capital)
        yield Words(
            text=text, x_mm=rim, y_mm=rim + y, width_mm=width, capital_mm=capital, look=look
        )


def _broken(
    lines: Iterable[Line], top: float, scale: float, width_at: Callable[[float, float], float]
) -> tuple[list[tuple[str, float, float, Look]], float]:
    """Return the lines at a scale, each with its height and that of its capitals, broken where they
    are longer than the label has room for there, and the height below them.
    """
    placed: list[tuple[str, float, float, Look]] = []
    y = top
    for text, least, look in lines:
        capital, left = least * scale, text.split(" ")
        while left:
            width = width_at(y, capital)
            count = len(left)
            if reckoned_mm(" ".join(left), _SQUEEZED * capital, look) > width:
                while count > 1 and reckoned_mm(" ".join(left[:count]), capital, look) > width:
                    count -= 1
            placed.append((" ".join(left[:count]), y, capital, look))
            left = left[count:]
            y += _PITCH * capital
    return placed, y


def _content(label: Label) -> tuple[Line, ...]:
    """Return the lines of a label below its number: names last, since ends may be left out."""
    run = f"run {label.run} of {label.runs}"
    found: tuple[Line, ...]
    match label.kind:
        case LabelKind.PART:
            place = f"Room {label.room}" if label.room else label.unit
            unit = label.unit if label.room and label.unit != label.name else ""
            into = f"into {label.piece}" if label.piece else ""
            found = (
                (label.name, 2.4, Look.BOLD),
                (place, 3.0, Look.BOLD),
                (_listed(into, unit), 2.0, Look.PLAIN),
                (_listed(label.size, label.notes), 2.0, Look.PLAIN),
                (f"{run}, cut {label.order}, {label.layout}", 1.8, Look.PLAIN),
                (label.bands, 1.8, Look.PLAIN),
            )
        case LabelKind.SHEET | LabelKind.OFFCUT:
            offcut = label.kind is LabelKind.OFFCUT
            found = (
                (label.size if offcut else run, 3.0, Look.BOLD),
                (label.name, 2.2, Look.PLAIN),
                (f"{run}, {label.layout}" if offcut else label.size, 2.0, Look.PLAIN),
                (label.notes if offcut else label.layout, 2.0, Look.PLAIN),
                ("" if offcut else label.notes, 2.0, Look.PLAIN),
            )
        case LabelKind.BUNDLE:
            pieces = label.piece.split(", ")
            joined = label.piece if len(pieces) <= _MOST_NAMED else f"{len(pieces)} kinds of pieces"
            place = f"Room {label.room}" if label.room else f"for {joined or label.unit}"
            found = (
                (f"{label.quantity} x {label.name}", 2.6, Look.BOLD),
                (place, 2.6, Look.BOLD),
                (label.unit, 2.0, Look.PLAIN),
                (label.size, 2.0, Look.PLAIN),
                (label.notes, 2.0, Look.PLAIN),
            )
        case LabelKind.BOX:
            found = ((label.name, 3.0, Look.BOLD), (label.notes, 2.2, Look.PLAIN))
    return tuple(line for line in found if line[0])


def _listed(*words: str) -> str:
    return ", ".join(filter(None, words))
