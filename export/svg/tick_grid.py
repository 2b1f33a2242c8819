"""Boxes to tick, one for each run of a sheet, in millimetres of the page."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from export.svg.elements import number, svg_document, text_element

_BOX_MM, _ACROSS_MM, _DOWN_MM = 5.5, 9.0, 10.0
_CAPITAL_MM, _LINE_MM = 2.0, 0.3
_MOST_ROWS = 3
_STEPS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000)


@dataclass(frozen=True, slots=True, kw_only=True)
class TickGrid:
    """The picture, its height, and how many runs a box stands for (the last one maybe fewer)."""

    svg: str
    height_mm: float
    each: int


def tick_grid(runs: int, width_mm: float) -> TickGrid:
    """Return boxes for so many runs, each with the number of runs done once it is ticked.

    Raises:
        ValueError: there are no runs.
    """
    if runs < 1:
        raise ValueError("no run to tick")
    in_a_row = max(1, int(width_mm / _ACROSS_MM))
    each = next((step for step in _STEPS if -(-runs // step) <= _MOST_ROWS * in_a_row), runs)
    counts = [*range(each, runs, each), runs]
    rows = -(-len(counts) // in_a_row)
    height = rows * _DOWN_MM
    body = [box for at, count in enumerate(counts) for box in _box(at, count, in_a_row)]
    title = f"a box for every {each} of {runs} runs" if each > 1 else f"{runs} runs to tick"
    return TickGrid(
        svg=svg_document((0.0, -height, width_mm, 0.0), title, body), height_mm=height, each=each
    )


def _box(at: int, count: int, in_a_row: int) -> Iterator[str]:
    row, column = divmod(at, in_a_row)
    x, y = column * _ACROSS_MM + _LINE_MM, row * _DOWN_MM + _LINE_MM
    yield (
        f'<rect x="{number(x)}" y="{number(y)}" width="{number(_BOX_MM)}"'
        f' height="{number(_BOX_MM)}" fill="none" stroke="#111" stroke-width="{number(_LINE_MM)}"'
        ' class="tick"/>'
    )
    below = y + _BOX_MM + 0.6 + _CAPITAL_MM
    yield text_element(str(count), x + _BOX_MM / 2, -below, _CAPITAL_MM, anchor="middle")
