"""The way of a long member into notches under a deck that is there already: tilted, then levelled.

Seen along the wall, in the plane of the member's length (u) and the height (z). The box that the
member is let down into is open; its other end goes down under the deck that overhangs the other
box. From its place backwards: it is slid along its own axis, tilted and raised, slid further, and
taken straight up when its low end is clear of the deck. At each tilt and height the slide is free
between two limits; a way is a walk over tilts and heights whose limits overlap by the length.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from parametric.geometry.space import SAME_MM

TILTS_DEG = tuple(float(tilt) for tilt in range(76))
RAISES_MM = tuple(10.0 * step for step in range(61))
NEAR_MM = 0.01  # less than this in the strip of the member counts as touching

Corner = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Obstacle:
    """A rectangle in the plane: from `low` to `high`, each (u, z) from the notch's outer edge."""

    low: Corner
    high: Corner


@dataclass(frozen=True, slots=True)
class Posture:
    """How the member is held: tilted, its axis raised over the notch's edge, and how far its low
    end reaches beyond that edge, along the axis.
    """

    tilt_deg: float
    raised_mm: float
    reach_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TiltedWay:
    """How much longer the member could be and still come in (negative: too long by so much), and
    the postures from its place out to where it can be taken straight up.
    """

    spare_mm: float
    postures: tuple[Posture, ...]

    @property
    def tilt_deg(self) -> float:
        """The steepest tilt on the way."""
        return max((posture.tilt_deg for posture in self.postures), default=0.0)


Node = tuple[int, int]


def tilted_way(obstacles: Sequence[Obstacle], length_mm: float, height_mm: float) -> TiltedWay:
    """Return the way with most length to spare; u grows from the open notch to the other one.

    The widest walk from level and not raised, by Dijkstra's method with the least overlap so far in
    place of the distance. None of the length has room where something lies over the open notch.
    """
    edge = overhead_mm(obstacles, height_mm)
    if edge == -math.inf:
        return TiltedWay(spare_mm=-length_mm, postures=())

    @cache
    def limits(node: Node) -> tuple[float, float]:
        tilt, raised = TILTS_DEG[node[0]], RAISES_MM[node[1]]
        return limits_mm(obstacles, height_mm, tilt, raised)

    start: Node = (0, 0)
    came: dict[Node, Node] = {}
    done: set[Node] = set()
    back, ahead = limits(start)
    queue = [(back + length_mm - ahead, start, start)]
    best, best_at = -math.inf, start
    while queue and -queue[0][0] > best:
        negative, node, before = heapq.heappop(queue)
        if node in done:
            continue
        done.add(node)
        came[node] = before
        back, ahead = limits(node)
        tilt = math.radians(TILTS_DEG[node[0]])
        clear = (edge - height_mm * math.sin(tilt)) / math.cos(tilt)
        spare = min(-negative, clear - back - length_mm)
        if spare > best + SAME_MM:
            best, best_at = spare, node
        for near in _neighbours(node):
            if near not in done:
                room = min(ahead, limits(near)[1]) - max(back, limits(near)[0]) - length_mm
                heapq.heappush(queue, (max(negative, -room), near, node))
    path = [best_at]
    while path[-1] != start:
        path.append(came[path[-1]])
    return TiltedWay(
        spare_mm=best,
        postures=tuple(
            Posture(
                TILTS_DEG[node[0]],
                RAISES_MM[node[1]],
                limits(node)[0] + length_mm + max(best, 0.0) / 2,
            )
            for node in reversed(path)
        ),
    )


def _neighbours(node: Node) -> Iterator[Node]:
    tilt, raised = node
    for near in ((tilt + 1, raised), (tilt, raised + 1), (tilt - 1, raised), (tilt, raised - 1)):
        if 0 <= near[0] < len(TILTS_DEG) and 0 <= near[1] < len(RAISES_MM):
            yield near


def overhead_mm(obstacles: Iterable[Obstacle], height_mm: float) -> float:
    """Return how far from the edge the first thing stands that the member would meet when lifted.

    Minus infinity where something lies over the edge itself, or over the box behind it.
    """
    above = [each for each in obstacles if each.high[1] > height_mm - NEAR_MM]
    if any(each.low[0] < 0 and each.low[1] > height_mm - NEAR_MM for each in above):
        return -math.inf
    return min((each.low[0] for each in above if each.low[0] >= 0), default=math.inf)


def limits_mm(
    obstacles: Iterable[Obstacle], height_mm: float, tilt_deg: float, raised_mm: float
) -> tuple[float, float]:
    """Return along the tilted member the last thing behind the edge and the first ahead of it.

    What stands over the edge itself counts as ahead of it, so that the two leave no length.
    """
    back, ahead = -math.inf, math.inf
    for each in obstacles:
        met = list(_in_strip(each, height_mm, math.radians(tilt_deg), raised_mm))
        if not met:
            continue
        if each.high[0] <= SAME_MM:
            back = max(back, *met)
        else:
            ahead = min(ahead, *met)
    return back, ahead


def _in_strip(
    obstacle: Obstacle, height_mm: float, tilt: float, raised_mm: float
) -> Iterator[float]:
    """Yield places along the tilted member where the obstacle's outline enters its strip, and its
    corners inside it; nothing where it only touches.
    """
    (u0, z0), (u1, z1) = obstacle.low, obstacle.high
    corners = [(u, z - raised_mm) for u, z in ((u0, z0), (u1, z0), (u1, z1), (u0, z1))]
    turned = [
        (u * math.cos(tilt) - z * math.sin(tilt), u * math.sin(tilt) + z * math.cos(tilt))
        for u, z in corners
    ]
    low, high = NEAR_MM, height_mm - NEAR_MM
    for (t, n), (t_next, n_next) in zip(turned, turned[1:] + turned[:1], strict=True):
        if low < n < high:
            yield t
        for line in (low, high):
            if (n - line) * (n_next - line) < 0:
                yield t + (t_next - t) * (line - n) / (n_next - n)
