"""Warnings beside the numbers of bars that are easily taken for others."""

from __future__ import annotations

from collections.abc import Sequence

from parametric.lists.cut_list import BarPart
from parametric.lists.look_alikes import look_alikes
from parametric.stock.lengths import Units, show_length


def alike_words(bars: Sequence[BarPart], units: Units) -> dict[str, str]:
    """Return by number what is easily taken for a bar, in words."""
    lengths = {bar.number: bar.length_mm for bar in bars}
    return {
        number: f"measure it, {show_length(lengths[number], units)}: "
        + ", ".join(_other(other, lengths[number], units) for other in others)
        for number, others in look_alikes(bars).items()
    }


def _other(other: BarPart, length_mm: float, units: Units) -> str:
    over = show_length(abs(other.length_mm - length_mm), units)
    if over == show_length(0.0, units):
        return f"{other.number} is as long, with other holes"
    return f"{other.number} is {over} {'longer' if other.length_mm > length_mm else 'shorter'}"
