"""A deck as a plate: where it rests and is held, and what loads that stand anywhere do to it."""

from __future__ import annotations

import math
import pickle
from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from math import fsum

from parametric.findings.angle_bearing import angle_bearing
from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Bonded, Screwed, Seated
from parametric.joints.machining import penetration_mm
from parametric.remembered import remembered
from parametric.shapes.board import Board
from parametric.shapes.members import Leg, SteelAngle
from parametric.strength.board_rules import PAD_MM
from parametric.strength.plate import MESH_MM, POISSON, Answer, Grip, Pad, Plate, Support

APART_MM = 450.0  # from middle to middle of two people who sit side by side; common practice
FAR_MM = 1000.0  # who sits further away changes nothing; no source
STEP_MM, FAST_STEP_MM = 100.0, 200.0  # between places at which a load is tried
FINE, COARSE = 0.87, 1.74  # elements to the square of a mean: 33 and 66 mm for a deck of 19 mm
LEAST_MESH_MM = 12.0  # thinner decks than 14 mm are not looked at more closely
NEAR_WORST = 0.75  # what a coarse plate puts so near the worst is looked at with a fine one
POINT_MM = 50.0  # of a board's edge that a point stands for: internal bond is tested over 50 mm
THIN_MM = 40.0  # a support that is no wider bears along its middle, a wider one all over
WIDE_STEP_MM = 60.0  # between the points of a wide one
STEEL_SHARE = 0.01  # 1/mm2: so stiff, beside a deck, is what stands on legs
SCREW_N_MM = 1000.0  # how stiff a screw is along its axis; from memory
ACROSS_SHARE = 1 / 25  # of a board's elasticity is that across its faces; from memory
BOARD_N_MM2 = 2500.0  # elasticity where none is given: only how forces are shared depends on it
_DIGITS = 6  # of a millimetre: both hands come to the same plate


Places = tuple[tuple[float, float], ...]


class Fineness(StrEnum):
    """How closely decks are looked at: `fast` within a sixth, for what is tried many times; the
    pull on a screw beside glue, which is small, within a fiftieth of what it may bear.
    """

    FAST = "fast"
    EXACT = "exact"


@dataclass(frozen=True, slots=True)
class Held:
    """What holds a deck at a point: the board that it is glued on and how much of its edge that
    stands for, or a screw, its diameter and how deep it is in.
    """

    by: str
    area_mm2: float | None
    screwed: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class DeckPlate:
    """A deck with its supports, and what each of them is."""

    box: Box
    thickness_mm: float
    supports: tuple[Support, ...]
    held: tuple[Held, ...]

    @property
    def mean_mm(self) -> float:
        """The side of the square over which moments are means: what a board's edge bears on,
        spread at 45 degrees to the middle of the deck. A support at a point has no finite moment.
        """
        return 2 * self.thickness_mm

    @property
    def sides_mm(self) -> tuple[float, float]:
        """The deck's sides along x and y."""
        return round(self.box.size(Axis.X), _DIGITS), round(self.box.size(Axis.Y), _DIGITS)

    def solved(self, fineness: Fineness = Fineness.EXACT) -> DeckAnswers:
        """Return what one newton does; mirror images have the same answers, mirrored."""
        length, width = self.sides_mm
        order = sorted(range(len(self.supports)), key=lambda n: self.supports[n])
        mirrored = [replace(s, x=round(length - s.x, _DIGITS)) for s in self.supports]
        order_mirrored = sorted(range(len(mirrored)), key=lambda n: mirrored[n])
        plain = tuple(self.supports[n] for n in order)
        other = tuple(mirrored[n] for n in order_mirrored)
        if plain <= other:
            return _solved(length, width, plain, self.mean_mm, fineness).in_order(order)
        found = _solved(length, width, other, self.mean_mm, fineness)
        return found.in_order(order_mirrored).mirrored(length)

    def bond_pull_n_mm2(self, found: DeckAnswers) -> tuple[float, Point | None]:
        """Return the highest pull across adhesive under one newton anywhere, and where: the mean
        over a point, and over those of all boards where they meet in a corner.
        """
        glued = [n for n, each in enumerate(self.held) if each.area_mm2 is not None]
        most, where = 0.0, None
        for at in glued:
            corner = [n for n in glued if self._meet(at, n)]
            area = fsum(self.held[n].area_mm2 or 0.0 for n in corner)
            pull = max(fsum(-forces[n] for n in corner) for forces in found.forces)
            if pull / area > most:
                most, where = pull / area, self.in_room(self._place(at))
        return most, where

    def _place(self, number: int) -> tuple[float, float]:
        return self.supports[number].x, self.supports[number].y

    def _meet(self, one: int, other: int) -> bool:
        """Return whether two points are the same, or those of two boards beside each other."""
        if one == other or self.held[one].by == self.held[other].by:
            return one == other
        a, b = self.supports[one], self.supports[other]
        return abs(a.x - b.x) < POINT_MM and abs(a.y - b.y) < POINT_MM

    def in_room(self, place: tuple[float, float]) -> Point:
        """Return a place on the deck as a point of its upper face in the room."""
        low, high = self.box.low, self.box.high
        return Point(low.x + place[0], low.y + place[1], high.z)

    def to_support_mm(self, place: tuple[float, float]) -> float:
        """Return how far a place is from the nearest support."""
        return min(math.dist(place, (support.x, support.y)) for support in self.supports)


@dataclass(frozen=True, slots=True)
class DeckAnswers:
    """The worst that one seat load and two at once do, where they stand, the force of each support
    under one at each place in turn, above 0 where it pushes, and what an even load does.
    """

    one: Answer
    two: Answer
    one_at: tuple[float, float]
    two_at: Places
    forces: tuple[tuple[float, ...], ...]
    even: Answer

    @property
    def tips(self) -> bool:
        """Return whether nothing keeps the deck where it is under some load."""
        return self.one.tips or self.even.tips

    @property
    def pulls(self) -> tuple[float, ...]:
        """The most that each support is pulled by one seat load."""
        return tuple(max(0.0, -min(each)) for each in zip(*self.forces, strict=True))

    def in_order(self, order: list[int]) -> DeckAnswers:
        """Return it with what was sorted in this order back in its own."""
        places = sorted(range(len(order)), key=order.__getitem__)
        forces = (tuple(each[place] for place in places) for each in self.forces if each)
        return replace(self, forces=tuple(forces))

    def mirrored(self, length_mm: float) -> DeckAnswers:
        """Return it for the deck with its x reversed."""

        def at(place: tuple[float, float]) -> tuple[float, float]:
            return length_mm - place[0], place[1]

        def of(answer: Answer) -> Answer:
            return replace(answer, moment_at=at(answer.moment_at), sag_at=at(answer.sag_at))

        return replace(
            self,
            one=of(self.one),
            two=of(self.two),
            one_at=at(self.one_at),
            two_at=tuple(at(each) for each in self.two_at),
            even=of(self.even),
        )


def deck_plate(assembly: Assembly, deck: Board) -> DeckPlate:
    """Return the plate of a deck over everything that it is seated on and held by."""
    supports: list[Support] = []
    held: list[Held] = []
    glued = {
        name
        for joint in assembly.joints
        if isinstance(joint, Bonded) and joint.top == deck.name
        for name in joint.on
    }
    for joint in assembly.joints:
        if isinstance(joint, Seated) and joint.top == deck.name:
            for name in joint.on:
                for support, area in _rests(assembly, deck, name, name in glued):
                    supports.append(support)
                    held.append(Held(name, area if name in glued else None))
        elif isinstance(joint, Screwed) and joint.into == deck.name:
            if isinstance(assembly.part(joint.through), Leg):
                continue  # it only stands there, and comes along when the deck lifts
            x, y = _from_corner(deck.box, joint.head)
            supports.append(Support(x, y, Grip.PULLS, SCREW_N_MM / _stiffness_nmm(deck)))
            bite_mm = min(penetration_mm(joint, deck), deck.thickness_mm)
            screwed = joint.screw.major_diameter_mm, bite_mm
            held.append(Held(joint.through, None, screwed))
    return DeckPlate(deck.box, deck.thickness_mm, tuple(supports), tuple(held))


def _rests(
    assembly: Assembly, deck: Board, name: str, glued: bool
) -> Iterator[tuple[Support, float]]:
    """Yield the points at which a deck rests on a part, and how much of it each stands for."""
    part = assembly.part(name)
    # What carries stands below the deck: brought up into it, to be cut to its outline.
    within = part.box.grown(Direction.Z_PLUS, deck.thickness_mm).overlap(deck.box)
    if within is None:
        return
    sizes = within.size(Axis.X), within.size(Axis.Y)
    thin = min(sizes)
    steps = [
        1 if size == thin and thin <= THIN_MM else math.ceil(size / step - 1e-9)
        for size, step in zip(sizes, _steps(thin), strict=True)
    ]
    area = sizes[0] * sizes[1] / (steps[0] * steps[1])
    bearing = angle_bearing(assembly, part) if isinstance(part, SteelAngle) else None
    share = STEEL_SHARE
    # The board below gives way along its height, the deck across its thickness.
    crushed = deck.thickness_mm / (ACROSS_SHARE * _elasticity_n_mm2(deck))
    if isinstance(part, Board):
        gives = part.box.size(Axis.Z) / _elasticity_n_mm2(part) + crushed
        share = area / gives / _stiffness_nmm(deck)
    grip = Grip.BOTH if glued else Grip.PUSHES
    for along in range(steps[0]):
        for across in range(steps[1]):
            at = within.low.at(Axis.X, within.low.x + sizes[0] * (along + 0.5) / steps[0])
            at = at.at(Axis.Y, within.low.y + sizes[1] * (across + 0.5) / steps[1])
            if bearing is not None:
                angle_gives = bearing.gives_mm_n(at[bearing.angle.along]) * steps[0] * steps[1]
                share = 1 / (angle_gives + crushed / area) / _stiffness_nmm(deck)
            x, y = _from_corner(deck.box, at)
            yield Support(x, y, grip, round(share, 12)), area


def _steps(thin_mm: float) -> tuple[float, float]:
    step = POINT_MM if thin_mm <= THIN_MM else WIDE_STEP_MM
    return step, step


def _from_corner(deck: Box, at: Point) -> tuple[float, float]:
    return round(at.x - deck.low.x, _DIGITS), round(at.y - deck.low.y, _DIGITS)


def _elasticity_n_mm2(board: Board) -> float:
    strength = board.material.strength
    return BOARD_N_MM2 if strength is None else strength.elasticity_n_mm2


def _stiffness_nmm(deck: Board) -> float:
    """Return the bending stiffness of a millimetre of the deck, E t3 / 12 (1 - nu2)."""
    return _elasticity_n_mm2(deck) * deck.thickness_mm**3 / 12 / (1 - POISSON**2)


def _key(
    length_mm: float,
    width_mm: float,
    supports: tuple[Support, ...],
    mean_mm: float,
    fineness: Fineness,
) -> object:
    return length_mm, width_mm, supports, mean_mm, fineness


def _frozen(answers: DeckAnswers) -> bytes:
    return pickle.dumps(answers)


def _thawed(frozen: bytes) -> DeckAnswers:
    answers: DeckAnswers = pickle.loads(frozen)
    return answers


@remembered("a deck as a plate", key=_key, freeze=_frozen, thaw=_thawed, most=64)
def _solved(
    length_mm: float,
    width_mm: float,
    supports: tuple[Support, ...],
    mean_mm: float,
    fineness: Fineness,
) -> DeckAnswers:
    """Return what one newton does wherever it stands, on a pad within the deck.

    Every place is tried on a coarse plate, the worst of them again on a fine one: what supports
    bear hardly depends on the mesh, moments do.
    """
    coarse_mm, fine_mm = (
        min(share * max(mean_mm, LEAST_MESH_MM / FINE), share / FINE * MESH_MM)
        for share in (COARSE, FINE)
    )
    coarse = Plate(length_mm, width_mm, supports, coarse_mm)
    fine = Plate(length_mm, width_mm, supports, fine_mm) if fineness is Fineness.EXACT else coarse
    pad_mm = min(PAD_MM, length_mm, width_mm)

    def under(plate: Plate, sets: list[Places]) -> tuple[Answer, ...]:
        return plate.under_pads([[Pad(*at, pad_mm) for at in each] for each in sets], mean_mm)

    def worst(sets: list[Places], found: tuple[Answer, ...]) -> tuple[Answer, Places]:
        if fine is not coarse:
            least = NEAR_WORST * max(each.moment for each in found)
            sets = [at for at, each in zip(sets, found, strict=True) if each.moment >= least]
            found = under(fine, sets)
        return max(zip(found, sets, strict=True), key=lambda each: each[0].moment)

    step_mm = STEP_MM if fineness is Fineness.EXACT else FAST_STEP_MM
    places = [(x, y) for x in _tried(length_mm, step_mm) for y in _tried(width_mm, step_mm)]
    alone: list[Places] = [(place,) for place in places]
    found = under(coarse, alone)
    one, (one_at,) = worst(alone, found)
    two: tuple[Answer, Places] = one, (one_at,)
    pairs: list[Places] = [
        (one_at, at) for at in places if APART_MM <= math.dist(at, one_at) <= FAR_MM
    ]
    if pairs:
        two = worst(pairs, under(coarse, pairs))
    return DeckAnswers(
        one=one,
        two=two[0],
        one_at=one_at,
        two_at=two[1],
        forces=tuple(each.forces for each in found),
        even=fine.under_spread(mean_mm),
    )


def _tried(length_mm: float, step_mm: float) -> tuple[float, ...]:
    """Return places along a length at which the pad of a load may stand."""
    inset = min(PAD_MM / 2, length_mm / 2)
    steps = math.ceil((length_mm - 2 * inset) / step_mm - 1e-6)
    return tuple(inset + (length_mm - 2 * inset) * n / max(1, steps) for n in range(steps + 1))
