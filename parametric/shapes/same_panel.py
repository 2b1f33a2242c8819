"""Whether two panels are one part: equal within a tolerance under a proper rigid motion.

Compared feature by feature rather than by rounded keys, so that no length can fall to either side
of a rounding step.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from enum import Flag, auto
from typing import TypeVar

from parametric.geometry.outline import Outline
from parametric.shapes.laid_panel import LaidPanel
from parametric.shapes.panel import Bore, EdgeBore, FlatPanel, Pocket

# Parts that differ by less are one part: a tenth of the finest shop tolerance.
SAME_PART_MM = 5e-3
SAME_BULGE = 1e-4

Thing = TypeVar("Thing")


class Freedom(Flag):
    """What a part allows besides half turns in its plane, which grain and faces always survive."""

    HALF_TURNS = 0
    TURNING_OVER = auto()  # both faces serve alike
    QUARTER_TURNS = auto()  # no grain


def orientations(laid: LaidPanel, freedom: Freedom) -> Iterator[LaidPanel]:
    """Yield the panel in every orientation that `freedom` permits, itself first."""
    starts = [laid]
    if Freedom.TURNING_OVER in freedom:
        starts.append(laid.turned_over())
    if Freedom.QUARTER_TURNS in freedom:
        starts += [start.turned_quarter() for start in tuple(starts)]
    for start in starts:
        yield start
        yield start.turned_half()


def same_panel(a: FlatPanel, b: FlatPanel) -> bool:
    """Return whether the panels coincide as they lie, features and all."""
    return (
        near(a.length_mm, b.length_mm)
        and near(a.width_mm, b.width_mm)
        and near(a.thickness_mm, b.thickness_mm)
        and same_outline(a.outline, b.outline)
        and matched(a.openings, b.openings, same_outline)
        and matched(a.pockets, b.pockets, same_pocket)
        and matched(a.bores, b.bores, same_bore)
        and matched(a.edge_bores, b.edge_bores, same_edge_bore)
    )


def near(a: float, b: float) -> bool:
    """Return whether two lengths are one."""
    return abs(a - b) <= SAME_PART_MM


def matched(
    these: Sequence[Thing], those: Sequence[Thing], same: Callable[[Thing, Thing], bool]
) -> bool:
    """Return whether the two collections pair off under `same`, in any order."""
    left = list(those)
    if len(these) != len(left):
        return False
    for this in these:
        found = next((index for index, that in enumerate(left) if same(this, that)), None)
        if found is None:
            return False
        del left[found]
    return True


def same_outline(a: Outline, b: Outline) -> bool:
    """Return whether two outlines run the same way through the same points, from any start."""
    count = len(a.vertices)
    if count != len(b.vertices):
        return False
    return any(
        all(
            near(p.x, q.x) and near(p.y, q.y) and abs(p.bulge - q.bulge) <= SAME_BULGE
            for p, q in zip(a.vertices, rotated(b.vertices, start), strict=True)
        )
        for start in range(count)
    )


def rotated(items: Sequence[Thing], start: int) -> Iterable[Thing]:
    """Return the items beginning at index `start`, going round."""
    return [*items[start:], *items[:start]]


def same_pocket(a: Pocket, b: Pocket) -> bool:
    """Return whether two pockets coincide."""
    return (
        a.face is b.face
        and near(a.depth_mm, b.depth_mm)
        and same_outline(a.outline, b.outline)
        and matched(a.islands, b.islands, same_outline)
    )


def same_bore(a: Bore, b: Bore) -> bool:
    """Return whether two bores coincide."""
    if a.face is not b.face or (a.depth_mm is None) is not (b.depth_mm is None):
        return False
    return (
        near(a.x, b.x)
        and near(a.y, b.y)
        and near(a.diameter_mm, b.diameter_mm)
        and near(a.depth_mm or 0.0, b.depth_mm or 0.0)
    )


def same_edge_bore(a: EdgeBore, b: EdgeBore) -> bool:
    """Return whether two edge bores coincide; one right across may be drilled from either side."""
    if not (near(a.diameter_mm, b.diameter_mm) and near(a.depth_mm, b.depth_mm)):
        return False
    return any(
        near(a.z_mm, b.z_mm)
        and near(a.x, x)
        and near(a.y, y)
        and math.dist((a.direction_x, a.direction_y), (dx, dy)) < SAME_BULGE
        for x, y, dx, dy in ends(b)
    )


def ends(bore: EdgeBore) -> list[tuple[float, float, float, float]]:
    """Return the bore from its mouth and, as if it went right across, from its far end."""
    dx, dy = bore.direction_x, bore.direction_y
    far = (bore.x + dx * bore.depth_mm, bore.y + dy * bore.depth_mm, -dx, -dy)
    return [(bore.x, bore.y, dx, dy), far]
