"""Bars that are easily taken for each other: of one profile, and nearly of one length."""

from __future__ import annotations

from collections.abc import Sequence

from parametric.lists.cut_list import BarPart

LOOK_ALIKE_MM = 15.0
"""Bars whose lengths differ by less are told apart by a tape measure only: common practice, no
source."""


def look_alikes(bars: Sequence[BarPart]) -> dict[str, tuple[BarPart, ...]]:
    """Return for each bar, by its number, the others that look like it, in order; those of one
    length differ in their holes. What nothing looks like is left out.
    """
    found = {
        bar.number: tuple(
            other
            for other in bars
            if other.number != bar.number
            and (other.material, other.profile) == (bar.material, bar.profile)
            and abs(other.length_mm - bar.length_mm) < LOOK_ALIKE_MM
        )
        for bar in bars
    }
    return {number: others for number, others in found.items() if others}
