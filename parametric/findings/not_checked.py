"""What the checks of strength do not look at: rules that are read off joints and parts.

A rule makes a line only where what it is about is in the job. Whoever adds a check that covers it
deletes its row in `_RULES`, and its function if no other row has it. Nothing moves in our units;
drawers or doors would need a row here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations

from parametric.findings.deck_strength import decks_of
from parametric.geometry.hand import Hand, hands_in_words
from parametric.geometry.space import SAME_MM, Axis, Direction
from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall, Hung, Passing, Screwed, Seated
from parametric.sets.room_set import RoomSet
from parametric.shapes.board import Board
from parametric.shapes.members import Cleat


@dataclass(frozen=True, slots=True, kw_only=True)
class NotChecked:
    """One thing that no check looks at. `where` names sets, hands and units as findings do, both
    hands of a set once; `why` says what the checks take or do instead.
    """

    what: str
    where: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rule:
    """A line of the table; `found` yields the places in one set where it applies."""

    what: str
    why: str
    found: Callable[[Assembly], Iterator[str]]


def not_checked(sets: Iterable[RoomSet]) -> tuple[NotChecked, ...]:
    """Return a line for each thing in the sets that no check looks at, in the order of the rules.

    Each set is given once for each hand that is used.
    """
    listed = tuple(sets)
    lines = (
        NotChecked(what=rule.what, where=_where(rule, listed), why=rule.why) for rule in _RULES
    )
    return tuple(line for line in lines if line.where)


def _where(rule: _Rule, sets: Iterable[RoomSet]) -> str:
    """Return all places of a rule in words, blank if there are none: sets that have it in the same
    hands and places stand together.
    """
    hands: dict[tuple[str, tuple[str, ...]], list[Hand]] = {}
    for each in sets:
        places = tuple(dict.fromkeys(rule.found(each.assembly)))
        if places:
            hands.setdefault((each.name, places), []).append(each.hand)
    alike: dict[tuple[str, str], list[str]] = {}
    for (name, places), of_hands in hands.items():
        alike.setdefault((hands_in_words(of_hands), ", ".join(places)), []).append(name)
    return "; ".join(
        f"{', '.join(names)}, {of_hands}: {places}" for (of_hands, places), names in alike.items()
    )


def _loose_seats(assembly: Assembly) -> Iterator[str]:
    """Yield the units with decks that stand on the floor and are not fixed to a wall."""
    fixed, standing = set(_on_walls(assembly)), set(_on_floor(assembly))
    yield from (unit for unit in _sat_on(assembly) if unit in standing and unit not in fixed)


def _boxes(assembly: Assembly) -> Iterator[str]:
    """Yield the units with boards that stand and carry a deck."""
    yield from (
        assembly.part(name).unit
        for joint in assembly.joints
        if isinstance(joint, Seated)
        for name in joint.on
        if _stands(assembly, name)
    )


def _hung(assembly: Assembly) -> Iterator[str]:
    """Yield the units that hang on wall plates."""
    yield from (
        assembly.board(joint.panel).unit for joint in assembly.joints if isinstance(joint, Hung)
    )


def _split_decks(assembly: Assembly) -> Iterator[str]:
    """Yield the units with decks that meet edge to edge: a split deck is as many boards, and no
    joint states that they belong together.
    """
    for one, other in combinations(decks_of(assembly), 2):
        if one.unit == other.unit and _meet(one, other):
            yield one.unit


def _on_angles(assembly: Assembly) -> Iterator[str]:
    """Yield the units that stand on nothing but a steel angle."""
    angles = {angle.name for angle in assembly.angles}
    yield from (
        assembly.board(joint.top).unit
        for joint in assembly.joints
        if isinstance(joint, Seated) and joint.on and angles.issuperset(joint.on)
    )


def _notched_in(assembly: Assembly) -> Iterator[str]:
    """Yield the steel angles that lie in notches of boards."""
    yield from (joint.member for joint in assembly.joints if isinstance(joint, Passing))


def _cleated(assembly: Assembly) -> Iterator[str]:
    """Yield the units with screws that hold cleats on boards: these are sheet goods, never solid
    wood.
    """
    for joint in assembly.joints:
        if isinstance(joint, Screwed):
            through, into = assembly.part(joint.through), assembly.part(joint.into)
            kinds = {type(through), type(into)}
            if kinds == {Cleat, Board}:
                yield into.unit


def _carrying_panels(assembly: Assembly) -> Iterator[str]:
    """Yield the units with boards that stand and carry a deck or a steel angle."""
    yield from _boxes(assembly)
    yield from (
        assembly.board(joint.through).unit
        for joint in assembly.joints
        if isinstance(joint, Passing) and _stands(assembly, joint.through)
    )


def _legged(assembly: Assembly) -> Iterator[str]:
    """Yield the units with legs."""
    yield from (leg.unit for leg in assembly.legs)


def _sat_on(assembly: Assembly) -> Iterator[str]:
    """Yield the units with decks."""
    yield from (deck.unit for deck in decks_of(assembly))


def _kept_in_place(assembly: Assembly) -> Iterator[str]:
    """Yield the units with wall screws that only keep them where they were set."""
    for name, joints in assembly.wall_fixings().items():
        if not all(joint.carries for joint in joints):
            yield assembly.part(name).unit


def _on_walls(assembly: Assembly) -> Iterator[str]:
    """Yield the units with parts that are screwed to a wall."""
    yield from (assembly.part(name).unit for name in assembly.held_by_walls())


def _given_fixings(assembly: Assembly) -> Iterator[str]:
    """Yield the units with screws that a fixing is given for."""
    for joint in assembly.joints:
        if isinstance(joint, FixedToWall) and joint.given is not None:
            yield assembly.part(joint.through).unit


def _on_floor(assembly: Assembly) -> Iterator[str]:
    """Yield the units with parts that reach down to the floor."""
    for part in (*assembly.boards, *assembly.members):
        if part.box.low.z <= SAME_MM:
            yield part.unit


def _stands(assembly: Assembly, name: str) -> bool:
    """Return whether the part is a board that stands on edge."""
    part = assembly.part(name)
    return isinstance(part, Board) and part.facing.axis is not Axis.Z


def _meet(one: Board, other: Board) -> bool:
    """Return whether two boards touch along an edge or face."""
    return any(one.box.grown(way, 2 * SAME_MM).overlap(other.box) is not None for way in Direction)


_RULES = (
    _Rule(
        what="a seat load that pushes sideways on a unit that stands on the floor, fixed to no"
        " wall",
        why="it is taken to stay put; whether it slides, and what it then hits, is not checked",
        found=_loose_seats,
    ),
    _Rule(
        what="wall screws through shims that keep a box where it was set",
        why="the box stands by itself and is checked without them; pushed hard enough they let go",
        found=_kept_in_place,
    ),
    _Rule(
        what="boxes of panels under decks, pushed sideways out of square",
        why="their panels and corners are taken as rigid",
        found=_boxes,
    ),
    _Rule(
        what="hung panels pulled out from the wall or lifted off by hand",
        why="their wall plates are checked under a load straight down only",
        found=_hung,
    ),
    _Rule(
        what="the joint between the parts of a split deck",
        why="each part is checked alone; a step between them under load is not checked",
        found=_split_decks,
    ),
    _Rule(
        what="a table on a steel angle, pulled forward or lifted, and its carcass",
        why="only its wall screws are checked; its screws from the angle and the joints of its"
        " boards are not",
        found=_on_angles,
    ),
    _Rule(
        what="the twist of a steel angle under decks, and its ends slipping or lifted out of their"
        " notches",
        why="what is screwed to it is taken to hold it in place; under a table it is taken to twist"
        " freely",
        found=_notched_in,
    ),
    _Rule(
        what="shear and pull of screws that hold cleats on boards that are not solid wood",
        why="formulas for wood screws are for solid wood; only the pull on screws up into a deck is"
        " held against a figure",
        found=_cleated,
    ),
    _Rule(
        what="buckling of tall thin panels that carry a deck or a steel angle",
        why="they are taken to stay straight",
        found=_carrying_panels,
    ),
    _Rule(
        what="a knock from the side on a leg, and what its screws bear then",
        why="its foot and its plate are taken to be held in place",
        found=_legged,
    ),
    _Rule(
        what="loads on a deck repeated many times",
        why="each is taken to come once",
        found=_sat_on,
    ),
    _Rule(
        what="what the wall itself carries: studs, blocking, masonry, bulkheads and their pads",
        why="screws are checked in what they go into, but not how that is held in its wall",
        found=_on_walls,
    ),
    _Rule(
        what="how far given fixings stand from edges, openings and joints of their wall",
        why="the papers give the least distance; the job does not say where these are",
        found=_given_fixings,
    ),
    _Rule(
        what="what the floor itself carries",
        why="it is taken to hold whatever stands on it",
        found=_on_floor,
    ),
)
