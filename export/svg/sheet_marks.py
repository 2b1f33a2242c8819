"""Marks on a sheet map: offcuts, parts at risk on a vacuum, defects, the order of cutting."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence

from export.svg.dimensions import CHARACTER_SHARE
from export.svg.elements import at, number, open_path_data, text_element
from parametric.geometry.outline import Bounds
from parametric.stock.lengths import Units, show_length

RISK_TEXT = "small or narrow part: hold it down"
ORDER_TEXT = "numbers in circles: the order of cutting"

_HATCH = 4
"""Distance of hatch lines, in heights of a label."""

_LINES_APART = 1.7  # heights of a letter
_WIDER = 0.9  # the widest letters than others, as a share of a capital's height


def hatched_offcuts(
    offcuts: Sequence[Bounds],
    units: Units,
    capital_mm: float,
    line_mm: float,
    labels: Sequence[str] = (),
) -> Iterator[str]:
    """Yield each offcut with hatch lines at 45 degrees and its size in the middle, after its label
    where there are any.
    """
    names = labels or ["offcut"] * len(offcuts)
    for box, name in zip(offcuts, names, strict=True):
        edge = ((box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1))
        lines = [(*edge, edge[0]), *_hatch(box, _HATCH * capital_mm)]
        yield (
            f'<path d="{open_path_data(lines)}" fill="none" stroke="#999"'
            f' stroke-width="{number(line_mm)}" stroke-dasharray="{number(8 * line_mm)}"/>'
        )
        size = f"{show_length(box.x1 - box.x0, units)} x {show_length(box.y1 - box.y0, units)}"
        yield from _in_the_middle([name, size] if labels else [f"{name} {size}"], box, capital_mm)


def _in_the_middle(lines: Sequence[str], box: Bounds, capital_mm: float) -> Iterator[str]:
    """Yield lines of text in the middle of a box along its longer side, smaller if they must be."""
    length, width = box.x1 - box.x0, box.y1 - box.y0
    height = min(capital_mm, max(length, width) / max(map(_wide, lines)))
    x, y = (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2
    upright = width > length
    for row, line in enumerate(lines):
        # The baseline lies half a letter beside the middle, of the middle line.
        aside = height / 2 - ((len(lines) - 1) / 2 - row) * _LINES_APART * height
        place = (x + aside, y) if upright else (x, y - aside)
        angle = 90.0 if upright else 0.0
        yield text_element(line, *place, height, anchor="middle", angle=angle, over_lines=True)


def _wide(text: str) -> float:
    """Return how wide a text is at most, in heights of a capital."""
    return len(text) * CHARACTER_SHARE + sum(map(text.count, "mwMW")) * _WIDER


def risk_marks(at_risk: Iterable[Bounds], side_mm: float, line_mm: float) -> Iterator[str]:
    """Yield a black triangle in the lower left corner of each part."""
    for box in at_risk:
        side = min(side_mm, 0.8 * (box.x1 - box.x0), 0.8 * (box.y1 - box.y0))
        yield _triangle(box.x0 + side / 8, box.y0 + side / 8, side, line_mm)


def risk_legend(x: float, y: float, capital_mm: float, line_mm: float) -> str:
    """Return the line that explains the mark, its baseline starting at (x, y)."""
    text = text_element(RISK_TEXT, x + 2 * capital_mm, y, capital_mm)
    return _triangle(x, y, capital_mm, line_mm) + text


def order_marks(parts: Sequence[Bounds], capital_mm: float, line_mm: float) -> Iterator[str]:
    """Yield the place of each part in the order, in a circle in its upper right corner."""
    for place, box in enumerate(parts, start=1):
        text = str(place)
        # Wide enough for the number, and no more than a third of the part.
        room = min(box.x1 - box.x0, box.y1 - box.y0) / 3
        across = min(capital_mm * (1.2 + CHARACTER_SHARE * len(text)), room)
        height = across / (1.2 + CHARACTER_SHARE * len(text))
        x, y = box.x1 - 0.6 * across, box.y1 - 0.6 * across
        yield (
            f'<circle cx="{number(x)}" cy="{number(-y)}" r="{number(across / 2)}" fill="#fff"'
            f' stroke="#555" stroke-width="{number(line_mm)}" class="order"/>'
        )
        yield text_element(text, x, y - height / 2, height, anchor="middle")


def origin_mark(sheet: Bounds, words: str, capital_mm: float, line_mm: float) -> Iterator[str]:
    """Yield the sheet's lower left corner as the origin, with its axes below and beside the sheet;
    nothing without words, which stand at the end of the arrow along x.
    """
    if not words:
        return
    x, y, away, long = sheet.x0, sheet.y0, 0.9 * capital_mm, 6 * capital_mm
    tip, half = capital_mm, 0.3 * capital_mm
    right, top = (x + long, y - away), (x - away, y + long)
    lines = [((x, y - away), right), ((x - away, y), top)]
    heads = (
        f"M{at(right[0] + tip, right[1])}L{at(right[0], right[1] + half)}"
        f"L{at(right[0], right[1] - half)}Z"
        f"M{at(top[0], top[1] + tip)}L{at(top[0] - half, top[1])}L{at(top[0] + half, top[1])}Z"
    )
    yield (
        f'<path d="{open_path_data(lines)}" fill="none" stroke="#111"'
        f' stroke-width="{number(2 * line_mm)}"/><path d="{heads}" fill="#111"/>'
        f'<circle cx="{number(x)}" cy="{number(-y)}" r="{number(0.6 * capital_mm)}" fill="#111"'
        ' class="origin"/>'
    )
    level = right[1] - capital_mm / 2
    yield text_element(f"X  {words}", right[0] + 1.5 * tip, level, capital_mm)
    yield text_element("Y", top[0], top[1] + 1.5 * tip, capital_mm, anchor="middle")


def grain_mark(sheet: Bounds, words: str, capital_mm: float, line_mm: float) -> Iterator[str]:
    """Yield an arrow along the sheet above it, both ways, and what it means; nothing without."""
    if not words:
        return
    x, y, long = sheet.x0 + capital_mm, sheet.y1 + 1.3 * capital_mm, 10 * capital_mm
    half = 0.3 * capital_mm
    heads = "".join(
        f"M{at(end + turn * capital_mm, y)}L{at(end, y + half)}L{at(end, y - half)}Z"
        for end, turn in ((x, -1), (x + long, 1))
    )
    yield (
        f'<path d="{open_path_data([((x, y), (x + long, y))])}" fill="none" stroke="#111"'
        f' stroke-width="{number(line_mm)}"/><path d="{heads}" fill="#111" class="grain"/>'
    )
    yield text_element(words, x + long + 2 * capital_mm, y - capital_mm / 2, capital_mm)


def defect_marks(defects: Iterable[Bounds], line_mm: float) -> Iterator[str]:
    """Yield each defect of the sheet as a dark rectangle."""
    for box in defects:
        yield (
            f'<rect x="{number(box.x0)}" y="{number(-box.y1)}" width="{number(box.x1 - box.x0)}"'
            f' height="{number(box.y1 - box.y0)}" fill="#555" stroke="#111"'
            f' stroke-width="{number(line_mm)}" class="defect"/>'
        )


def note_lines(notes: Iterable[str], length_mm: float, capital_mm: float) -> tuple[str, ...]:
    """Return notes in lines that are no longer than the sheet, further lines of one set in."""
    most = max(int(length_mm / (capital_mm * CHARACTER_SHARE)), 40)
    return tuple(
        line for note in notes for line in textwrap.wrap(note, most, subsequent_indent="    ")
    )


def _triangle(x: float, y: float, side: float, line_mm: float) -> str:
    corners = "L".join(at(*point) for point in ((x, y), (x + side, y), (x + side / 2, y + side)))
    return (
        f'<path d="M{corners}Z" fill="#111" stroke="#fff" stroke-width="{number(line_mm)}"'
        ' class="risk"/>'
    )


def _hatch(box: Bounds, step: float) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """Yield rising lines; all offcuts of a sheet share one set of lines."""
    first = int((box.x0 - box.y1) // step) + 1
    last = int((box.x1 - box.y0) // step)
    for n in range(first, last + 1):
        shift = n * step  # the line x - y = shift
        x0, x1 = max(box.x0, box.y0 + shift), min(box.x1, box.y1 + shift)
        if x0 < x1:
            yield (x0, x0 - shift), (x1, x1 - shift)
