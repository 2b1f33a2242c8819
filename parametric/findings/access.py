"""What can be brought through a door, into a lift and round the corner of a corridor.

Pieces are boxes. Between edges of door and piece nothing is left for hands: limits add that.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

Size = tuple[float, float, float]
"""Sides of a box, the longest first, millimetres."""

_HALVINGS = 60  # of an interval, to find a length: to the last bit


@dataclass(frozen=True, slots=True, kw_only=True)
class Access:
    """The narrowest places on the way into the rooms, millimetres; None: not on the way, or not
    known. `door_mm` is its clear width and height, `lift_mm` the car's clear width, depth and
    height, `corner_mm` the widths of the two corridors that meet in a corner.
    """

    door_mm: tuple[float, float] | None = None
    lift_mm: tuple[float, float, float] | None = None
    corner_mm: tuple[float, float] | None = None


def sides_of(lengths: tuple[float, float, float]) -> Size:
    """Return the sides, the longest first."""
    a, b, c = sorted(lengths, reverse=True)
    return a, b, c


def spare_in_door_mm(piece: Size, door_mm: tuple[float, float]) -> float:
    """Return what is left beside a piece carried lengthwise through a door, where it is tightest;
    negative if it does not pass.
    """
    _, b, c = piece
    width_mm, height_mm = door_mm
    return max(min(width_mm - c, height_mm - b), min(width_mm - b, height_mm - c))


def spare_in_lift_mm(piece: Size, lift_mm: tuple[float, float, float]) -> float:
    """Return by how much a piece could be longer and still stand or lean in the lift.

    One of its other sides lies along a wall of the car, or upright; its length and the third side
    lean in the remaining two directions.
    """
    a, b, c = piece
    longest = -math.inf
    for flat, thick in ((b, c), (c, b)):
        for axis, room in enumerate(lift_mm):
            if flat > room:
                continue
            one, other = (side for at, side in enumerate(lift_mm) if at != axis)
            longest = max(longest, longest_in_rectangle_mm(thick, one, other))
    return longest - a if longest > 0 else min(lift_mm) - b


def longest_in_rectangle_mm(thick_mm: float, one_mm: float, other_mm: float) -> float:
    """Return the greatest length of a rectangle `thick_mm` wide that lies, turned at will, in a
    rectangle; 0 if none that is longer than it is wide does.
    """
    long, short = max(one_mm, other_mm), min(one_mm, other_mm)
    if thick_mm > short:
        return 0.0
    low, high = long, math.hypot(long, short)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if lies_in(middle, thick_mm, long, short):
            low = middle
        else:
            high = middle
    return low


def lies_in(long_mm: float, short_mm: float, in_long_mm: float, in_short_mm: float) -> bool:
    """Return whether a rectangle lies in another, turned at will.

    W. B. Carver, American Mathematical Monthly 64 (1957), as J. E. Wetzel restates it in the
    Monthly 107 (2000), "Rectangles in rectangles"; from memory.
    """
    p, q, a, b = long_mm, short_mm, in_long_mm, in_short_mm
    if q > b:
        return False
    if p <= a:
        return True
    turned = 2 * p * q * a + (p * p - q * q) * math.sqrt(p * p + q * q - a * a)
    return b >= turned / (p * p + q * q)


def spare_round_corner_mm(piece: Size, corner_mm: tuple[float, float], height_mm: float) -> float:
    """Return by how much a piece could be longer and still be carried level round the corner of two
    corridors, on its edge, or on its end where the door beyond is as high.
    """
    a, b, c = piece
    on_edge = longest_round_corner_mm(c, corner_mm) - a
    if a <= height_mm:
        return max(on_edge, longest_round_corner_mm(c, corner_mm) - b)
    return on_edge


@lru_cache
def longest_round_corner_mm(thick_mm: float, corner_mm: tuple[float, float]) -> float:
    """Return the greatest length of a level rectangle that passes a right-angled corner.

    At an angle t the inner corner touches it when its length is w1 / sin t + w2 / cos t less
    thickness / (sin t cos t); the least of these over all angles passes. For a thin one the least
    is (w1^(2/3) + w2^(2/3))^(3/2), the ladder of the textbooks of calculus.
    """
    one, other = corner_mm

    def length(angle: float) -> float:
        sine, cosine = math.sin(angle), math.cos(angle)
        return one / sine + other / cosine - thick_mm / (sine * cosine)

    # One minimum between the ends, where the length grows without limit: by golden section.
    ratio = (math.sqrt(5) - 1) / 2
    low, high = 1e-6, math.pi / 2 - 1e-6
    for _ in range(120):
        left, right = high - ratio * (high - low), low + ratio * (high - low)
        if length(left) < length(right):
            high = right
        else:
            low = left
    return max(0.0, length((low + high) / 2))
