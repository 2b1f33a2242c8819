"""How much of a page a step's picture may take, so that the step ends on its page.

Heights of what stands around the picture, at the sizes of `style`; an estimate on the safe side,
since only the typesetter knows where a line breaks.
"""

from __future__ import annotations

from collections.abc import Sequence

from export.papers.blocks import Row
from export.papers.page_format import page_format
from export.site.content import StepSheet
from parametric.stock.paper import Paper

_HEAD_MM = 28.5
_ROW_MM, _LINE_MM, _TITLE_MM, _BOX_MM = 5.0, 5.0, 7.6, 13.0
# Characters that fit a line: in the last column of a table, in a list, in the box of cautions.
_IN_TABLE, _IN_LIST, _IN_BOX = 35, 45, 98
MOST_MM, LEAST_MM = 190.0, 60.0


def picture_height_mm(step: StepSheet, cautions: Sequence[str], paper: Paper) -> float:
    """Return the height for the picture of a step."""
    left = _table_mm(step.parts) + _table_mm(step.marks) + _list_mm(step.work)
    right = _table_mm(step.fasteners) + _list_mm(step.tools) + _list_mm(step.checks)
    box = _BOX_MM + _LINE_MM * sum(_lines(text, _IN_BOX) for text in cautions)
    room = page_format(paper).text_height_mm - _HEAD_MM - max(left, right) - box
    return max(LEAST_MM, min(MOST_MM, room))


def _table_mm(rows: Sequence[Row]) -> float:
    if not rows:
        return 0.0
    lines = sum(max(_lines(cell, _IN_TABLE) for cell in row) for row in rows)
    return _TITLE_MM + _ROW_MM * (1 + len(rows)) + _LINE_MM * (lines - len(rows))


def _list_mm(items: Sequence[str]) -> float:
    if not items:
        return 0.0
    return _TITLE_MM + _LINE_MM * sum(_lines(item, _IN_LIST) for item in items)


def _lines(text: str, width: int) -> int:
    return 1 + max(0, len(text) - 1) // width
