"""Bars that are each other's mirror image: drilled alike from the wrong end, one is made twice."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from parametric.lists.bar_catalogue import FLAT_LEG, NARROW_FACE, WIDE_FACE, same_hole
from parametric.lists.cut_list import BarHole, BarPart
from parametric.shapes.same_panel import matched, near


def mirrored_bars(bars: Sequence[BarPart]) -> dict[str, str]:
    """Return the number of each bar that has a mirror image among the others, with that one's.

    A bar that is its own mirror image has none.
    """
    return {
        bar.number: other.number
        for bar in bars
        if (other := next((each for each in bars if _mirrors(bar, each)), None)) is not None
    }


def _mirrors(bar: BarPart, other: BarPart) -> bool:
    """Return whether `other` is the mirror image of a bar with holes, and not the same bar."""
    one_kind = (bar.material, bar.profile) == (other.material, other.profile)
    alike = one_kind and bool(bar.holes) and near(bar.length_mm, other.length_mm)
    if bar.number == other.number or not alike:
        return False
    mirror = [replace(hole, from_end_mm=bar.length_mm - hole.from_end_mm) for hole in bar.holes]
    turns = list(_turns(bar))
    same = any(matched(_turned(bar.holes, turn), other.holes, same_hole) for turn in turns)
    return not same and any(
        matched(_turned(mirror, turn), other.holes, same_hole) for turn in turns
    )


Turn = Callable[[BarHole], BarHole]


def _turned(holes: Sequence[BarHole], turn: Turn) -> tuple[BarHole, ...]:
    return tuple(turn(hole) for hole in holes)


def _turns(bar: BarPart) -> Iterator[Turn]:
    """Yield the ways in which the bar may be laid down again so that it lies like before: none but
    as it is for an angle; end for end, upside down and both for a cleat.
    """
    yield lambda hole: hole
    if any(hole.face == FLAT_LEG for hole in bar.holes):
        return
    thickness, width = bar.section_mm
    across = {WIDE_FACE: width, NARROW_FACE: thickness}

    def end_for_end(hole: BarHole) -> BarHole:
        flipped = width - hole.across_mm if hole.face == WIDE_FACE else hole.across_mm
        return replace(hole, from_end_mm=bar.length_mm - hole.from_end_mm, across_mm=flipped)

    def upside_down(hole: BarHole) -> BarHole:
        return replace(hole, across_mm=across[hole.face] - hole.across_mm)

    yield end_for_end
    yield upside_down
    yield lambda hole: upside_down(end_for_end(hole))
