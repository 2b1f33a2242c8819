"""How much of a page a picture may take, so that a step, or a piece, ends on its page.

Heights of what stands around the picture, at the sizes of `style`; an estimate on the safe side,
since only the typesetter knows where a line breaks.
"""

from __future__ import annotations

from collections.abc import Sequence

from export.papers.blocks import Row
from export.papers.page_format import page_format
from export.papers.typesetting import LONG_WORD
from export.site.content import StepSheet
from parametric.stock.paper import Paper

_HEAD_MM = 28.5
_TITLE_LINE_MM, _BELOW_TITLE_MM = 6.5, 7.0
_ROW_MM, _LINE_MM, _TITLE_MM, _BOX_MM = 5.0, 5.0, 7.6, 13.0
# Characters that fit a line: in the last column of a table, in a list, in the box of cautions, in
# the title of a page without a plan.
_IN_TABLE, _IN_LIST, _IN_BOX, _IN_TITLE = 35, 45, 98, 62
_BESIDE_PLAN = 46  # of a title that stands beside one
MOST_MM, LEAST_MM = 190.0, 60.0


def picture_height_mm(step: StepSheet, cautions: Sequence[str], paper: Paper) -> float:
    """Return the height for the picture of a step."""
    left = table_mm(step.parts) + table_mm(step.marks) + list_mm(step.work)
    right = table_mm(step.fasteners) + list_mm(step.tools) + list_mm(step.checks)
    head = max(_HEAD_MM, title_mm(step.title, _BESIDE_PLAN))
    room = room_mm(paper, cautions) - head - max(left, right)
    return max(LEAST_MM, min(MOST_MM, room))


def room_mm(paper: Paper, cautions: Sequence[str]) -> float:
    """Return the height that the box of cautions leaves of a page."""
    box = _BOX_MM + _LINE_MM * sum(_lines(text, _IN_BOX) for text in cautions)
    return page_format(paper).text_height_mm - box


def title_mm(title: str, in_line: int = _IN_TITLE) -> float:
    """Return the height of the head of a page; without a plan a line of it holds more."""
    return _BELOW_TITLE_MM + _TITLE_LINE_MM * _lines(title, in_line)


def table_mm(rows: Sequence[Row]) -> float:
    """Return the height of a table of half the page's width, nothing without rows."""
    if not rows:
        return 0.0
    lines = sum(max(_lines(cell, _IN_TABLE) for cell in row) for row in rows)
    return _TITLE_MM + _ROW_MM * (1 + len(rows)) + _LINE_MM * (lines - len(rows))


def list_mm(items: Sequence[str]) -> float:
    """Return the height of a list of half the page's width, nothing without items."""
    if not items:
        return 0.0
    return _TITLE_MM + _LINE_MM * sum(_lines(item, _IN_LIST) for item in items)


def _lines(text: str, width: int) -> int:
    # The typesetter breaks long words anywhere, and names of wide letters are as long as two.
    long = sum(map(len, LONG_WORD.findall(text)))
    return 1 + max(0, len(text) + long + long // 5 - 1) // width
