"""A deck as strips both ways: where it rests, and what a load at a place does to it.

A load is taken by the strip, along x or along y, that bears it more easily: any way of carrying a
load that is in balance and nowhere too weak is safe.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from parametric.assembly import Assembly
from parametric.board import Board
from parametric.joints import Seated
from parametric.members import Leg
from parametric.space import SAME_MM, Axis, Box, Direction
from parametric.strength.board_rules import PATCH_MM, width_between_mm, width_beyond_mm
from parametric.strength.strips import under_force, under_spread

STEP_MM = 100.0  # between places at which a load is tried
ALONG_MM = 300.0  # between the places at which a board that runs along a strip counts as a support
APART_MM = 50.0  # supports of a strip that are nearer count as one: they would clamp it
ON_BOARD_MM = PATCH_MM / 4  # a strip rests on a board that comes so near to its middle line
ON_LEG_MM = PATCH_MM / 2  # and on the plate of a leg that comes so near: under the pad at least
AT_END_MM = 0.1  # a support so near to the deck's end is at its end: no strip is solved that short
_PLAN = (Axis.X, Axis.Y)


@dataclass(frozen=True, slots=True, kw_only=True)
class AtPlace:
    """What a seat load of one newton does at a place of a deck, given from its low corner.

    `moment_mm` over `width_mm` of board; a support is pulled up by `uplift` of the load. `how` says
    how the load is carried.
    """

    place: tuple[float, float]
    moment_mm: float
    width_mm: float
    uplift: float
    how: str

    @property
    def moment_per_width(self) -> float:
        """The moment on each millimetre of width."""
        return self.moment_mm / self.width_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """What an even load of one newton per square millimetre does over one stretch of a deck of unit
    bending stiffness: the moment per millimetre of width, the sag, and the span it is judged by.
    """

    moment: float
    sag: float
    span_mm: float


@dataclass(frozen=True, slots=True)
class DeckStrips:
    """A deck and the boxes that it rests on, in plan and within its outline.

    It is fixed down on `holding` ones; from `loose` ones, which are legs, it may rise.
    """

    deck: Box
    holding: tuple[Box, ...]
    loose: tuple[Box, ...] = ()

    @property
    def supports(self) -> tuple[Box, ...]:
        """All that the deck rests on."""
        return (*self.holding, *self.loose)

    def length_mm(self, axis: Axis) -> float:
        """Return the deck's length along the axis."""
        return self.deck.size(axis)

    def rests_mm(self, along: Axis, at_mm: float, supports: tuple[Box, ...]) -> tuple[float, ...]:
        """Return where the strip along an axis rests, `at_mm` across it, from the deck's low edge.

        A board across the strip counts in its middle; one that runs along it, every so often.
        """
        across = _other(along)
        origin = self.deck.low
        found: set[float] = set()
        for box in supports:
            low, high = (end[across] - origin[across] for end in (box.low, box.high))
            near_mm = ON_LEG_MM if box in self.loose else ON_BOARD_MM
            if low > at_mm + near_mm - SAME_MM or high < at_mm - near_mm + SAME_MM:
                continue
            start, end = (each[along] - origin[along] for each in (box.low, box.high))
            found.update(_points(start, end))
        length = round(self.length_mm(along), 3)
        return _apart(sorted({_to_end(round(each, 3), length) for each in found}))

    def at_places(self) -> Iterator[AtPlace]:
        """Yield what a seat load does at places all over the deck, its pad within the deck."""
        ways = {axis: self._along(axis) for axis in _PLAN}
        for x in _tried(self.length_mm(Axis.X)):
            for y in _tried(self.length_mm(Axis.Y)):
                found = [way[x, y] for way in ways.values() if (x, y) in way]
                if not found or self._is_corner(x, y):
                    found.append(self._at_corner(x, y))
                yield min(found, key=lambda each: (round(each.moment_per_width, 3), each.uplift))

    def _along(self, along: Axis) -> Mapping[tuple[float, float], AtPlace]:
        across = _other(along)
        ways: dict[tuple[float, float], AtPlace] = {}
        for at in _tried(self.length_mm(across)):
            beside_mm = (at, self.length_mm(across) - at)
            rests = self.rests_mm(along, at, self.supports)
            held = self.rests_mm(along, at, self.holding)
            for place_mm in _tried(self.length_mm(along)):
                place = (place_mm, at) if along is Axis.X else (at, place_mm)
                found = _between(place_mm, rests) or self._beyond(along, place_mm, rests, held)
                if found is not None:
                    moment_mm, width_mm, uplift, how = found
                    ways[place] = AtPlace(
                        place=place,
                        moment_mm=moment_mm,
                        width_mm=math.fsum(min(width_mm / 2, board) for board in beside_mm),
                        uplift=uplift,
                        how=f"a strip along {along.name.lower()}, {how}",
                    )
        return ways

    def _beyond(
        self, along: Axis, place_mm: float, rests: tuple[float, ...], held: tuple[float, ...]
    ) -> _Carried | None:
        """Return how a strip carries a load beyond its last support, held down by the others; None
        where a leg would have to hold it, or nothing does.
        """
        tried, length = _tried(self.length_mm(along)), round(self.length_mm(along), 3)
        for supports in (rests, held):
            if len(supports) < 2:
                continue
            found = under_force(length, supports, tried)[tried.index(place_mm)]
            pushes = zip(supports, found.pushes, strict=True)
            if all(at in held or push > -SAME_MM for at, push in pushes):
                out_mm = max(supports[0] - place_mm, place_mm - supports[-1])
                how = f"overhanging by {out_mm:.0f} mm under the load"
                uplift = max(0.0, -min(found.pushes))
                return found.moment_mm, width_beyond_mm(out_mm), uplift, how
        return None

    def _is_corner(self, x: float, y: float) -> bool:
        """Return whether no strip through a place is held down by two supports."""
        along_x, along_y = (
            self.rests_mm(Axis.X, y, self.holding),
            self.rests_mm(Axis.Y, x, self.holding),
        )
        return len(along_x) < 2 and len(along_y) < 2

    def _at_corner(self, x: float, y: float) -> AtPlace:
        """Return the bending of a corner that no strip carries, out from its nearest support, and
        held down at the far side of what it rests on.
        """
        place = self.deck.low.at(Axis.X, self.deck.low.x + x).at(Axis.Y, self.deck.low.y + y)
        out_mm = min(
            (
                math.hypot(
                    *(
                        max(0.0, box.low[axis] - place[axis], place[axis] - box.high[axis])
                        for axis in _PLAN
                    )
                )
                for box in self.supports
            ),
            default=math.inf,
        )
        base_mm = min(
            max(box.high[axis] for box in self.holding) - min(box.low[axis] for box in self.holding)
            for axis in _PLAN
        )
        return AtPlace(
            place=(x, y),
            moment_mm=out_mm,
            width_mm=width_beyond_mm(out_mm),
            uplift=out_mm / base_mm,
            how=f"a corner {out_mm:.0f} mm beyond its support",
        )

    def spreads(self) -> Iterator[tuple[Spread, ...]]:
        """Yield what an even load does at places all over the deck, by each strip that bears it."""
        ways = [self._spread_along(axis) for axis in _PLAN]
        for x in _tried(self.length_mm(Axis.X)):
            for y in _tried(self.length_mm(Axis.Y)):
                found = tuple(way[x, y] for way in ways if (x, y) in way)
                yield found or (self._spread_at_corner(x, y),)

    def _spread_at_corner(self, x: float, y: float) -> Spread:
        out_mm = self._at_corner(x, y).moment_mm + PATCH_MM / 2
        return Spread(moment=out_mm**2 / 2, sag=out_mm**4 / 8, span_mm=2 * out_mm)

    def _spread_along(self, along: Axis) -> Mapping[tuple[float, float], Spread]:
        across = _other(along)
        length = round(self.length_mm(along), 3)
        ways: dict[tuple[float, float], Spread] = {}
        for at in _tried(self.length_mm(across)):
            rests = self.rests_mm(along, at, self.supports)
            if len(rests) < 2:
                continue
            ends = sorted({0.0, length, *rests})
            stretches = list(zip(pairwise(ends), under_spread(length, rests), strict=True))
            for place in _tried(self.length_mm(along)):
                (start, end), found = next(
                    each for each in stretches if each[0][0] <= place <= each[0][1]
                )
                free = start < rests[0] or end > rests[-1]
                ways[(place, at) if along is Axis.X else (at, place)] = Spread(
                    moment=found.moment_mm2,
                    sag=found.sag,
                    span_mm=2 * found.length_mm if free else found.length_mm,
                )
        return ways


def deck_strips(assembly: Assembly, deck: Board) -> DeckStrips:
    """Return the strips of a deck over everything that it is seated on."""
    holding: list[Box] = []
    loose: list[Box] = []
    for joint in assembly.joints:
        if isinstance(joint, Seated) and joint.top == deck.name:
            for name in joint.on:
                part = assembly.part(name)
                # What carries stands below the deck: brought up into it, to be cut to its outline.
                within = part.box.grown(Direction.Z_PLUS, deck.thickness_mm).overlap(deck.box)
                if within is not None:
                    (loose if isinstance(part, Leg) else holding).append(within)
    return DeckStrips(deck.box, tuple(holding), tuple(loose))


def _other(axis: Axis) -> Axis:
    return Axis.Y if axis is Axis.X else Axis.X


def _tried(length_mm: float) -> tuple[float, ...]:
    """Return places along a length at which the pad of a load may stand."""
    inset = min(PATCH_MM / 2, length_mm / 2)
    return tuple(round(each, 3) for each in _evenly(inset, length_mm - inset, STEP_MM))


def _points(start: float, end: float) -> list[float]:
    return _evenly(start, end, ALONG_MM) if end - start > STEP_MM else [(start + end) / 2]


def _evenly(start: float, end: float, most_mm: float) -> list[float]:
    steps = math.ceil((end - start) / most_mm - SAME_MM)
    return [start + (end - start) * step / max(1, steps) for step in range(steps + 1)]


def _to_end(at_mm: float, length_mm: float) -> float:
    """Return a place along a strip, that of its end if it is as good as there."""
    if at_mm < AT_END_MM:
        return 0.0
    return length_mm if length_mm - at_mm < AT_END_MM else at_mm


def _apart(places: list[float]) -> tuple[float, ...]:
    """Return the places without those that come too near to the one before; the last one stays."""
    kept = places[:1]
    for place in places[1:]:
        if place - kept[-1] >= APART_MM:
            kept.append(place)
        elif place == places[-1] and len(kept) > 1:
            kept[-1] = place
    return tuple(kept)


_Carried = tuple[float, float, float, str]
"""Moment of a force of one newton, width that shares it, pull on a support, and words for it."""


def _between(place_mm: float, rests: tuple[float, ...]) -> _Carried | None:
    """Return how a strip carries a load between two supports, Px(1 - x/L): as if it ended at both,
    which asks more of it than the strip as it is, and nothing to hold it down.
    """
    for start, end in pairwise(rests):
        if start <= place_mm <= end:
            span, out = end - start, place_mm - start
            moment = out * (1 - out / span)
            return moment, width_between_mm(out, span), 0.0, f"spanning {span:.0f} mm"
    return None
