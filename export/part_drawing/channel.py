"""How wide a groove is between its sides, where it turns corners."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from export.dimensions.content import Line
from export.part_drawing.inner_point import crossings

_SAME_MM = 0.01


def channel_widths_mm(edges: Sequence[Line]) -> tuple[float, ...]:
    """Return the widths of the straight stretches between level and upright sides, each once, the
    least first: of what is inside an odd number of the edges (each a closed line), wherever it is
    longer than it is wide.
    """
    turned = [tuple((y, x) for x, y in edge) for edge in edges]
    widths: list[float] = []
    for lines in (edges, turned):
        levels = sorted({round(y, 6) for edge in lines for _, y in edge})
        for low, high in pairwise(levels):
            crossed = sorted(x for edge in lines for x in crossings(edge, (low + high) / 2))
            for left, right in zip(crossed[::2], crossed[1::2], strict=False):
                if right - left < high - low:
                    widths.append(right - left)
    found: list[float] = []
    for width in sorted(widths):
        if not found or width - found[-1] > _SAME_MM:
            found.append(width)
    return tuple(found)
