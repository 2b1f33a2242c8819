"""Bench: a base box along a wall and a deck on it that overhangs the box towards the room.

Raw rails stand against the walls and are fixed to them, finished panels look into the room. In the
corner of its wall it leans on both walls and has one rounded corner; elsewhere it overhangs on
three sides and has two.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated

from parametric.geometry.space import Axis, Box, Direction
from parametric.geometry.spacing import Interval
from parametric.joints.assembly import Assembly, joined
from parametric.primitives.base_box import BoxPanel, base_box
from parametric.primitives.decked_box import Crossing, DeckHold, decked_box
from parametric.primitives.wall_screws import Row, wall_screws
from parametric.shapes.board import Board, RoundedCorner, Show, Surface
from parametric.stock.construction import Construction
from parametric.units.family import (
    CORNER_COVERS,
    RADIUS_PER_OVERHANG,
    Family,
    Limit,
    Space,
    Stands,
    UnitPlan,
    least_box_mm,
)
from parametric.units.size import Length
from parametric.units.tied_deck import tied_deck

LEAST_RAIL_SCREWS = 3  # a seat load levers on few of them; common practice, no source
DRIVER_ROOM_MM = 12.0  # beside a bearer's cleat: half a bit holder and more


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchSizes:
    """Sizes of a bench: its deck, and the base box set back under it on the free sides."""

    deck_width_mm: Annotated[float, Length(300, 1500, "Deck, along the wall.")]
    deck_depth_mm: Annotated[float, Length(300, 3000, "Deck, out from the wall.")]
    overhang_mm: Annotated[float, Length(0, 600, "Deck beyond its base box on the free sides.")]
    corner_radius_mm: Annotated[float, Length(0, 500, "Radius of the deck's free corners.")]


def bench_space(plan: UnitPlan[BenchSizes]) -> Space:
    """Return the base box and the deck of a bench, both from the wall."""
    bench, low, top = plan.sizes, plan.start_mm, plan.base_height_mm
    deck = Box.spanning(
        (low, low + bench.deck_width_mm),
        (0.0, bench.deck_depth_mm),
        (top, top + plan.construction.deck.thickness_mm),
    )
    base = Box.spanning(
        (low if plan.in_corner else low + bench.overhang_mm, deck.high.x - bench.overhang_mm),
        (0.0, bench.deck_depth_mm - bench.overhang_mm),
        (0.0, top),
    )
    return Space(whole=deck, base=base)


def bench_parts(plan: UnitPlan[BenchSizes], space: Space) -> Assembly:
    """Return a bench.

    Raises:
        DeckTooLarge: no stock sheet holds its deck, even in pieces.
        ValueError: the space has no base box, or it stands free.
    """
    name, construction, base_space, wall = plan.name, plan.construction, space.base, plan.wall
    if base_space is None or wall is None:
        raise ValueError(f"{name} has no room for a base box along a wall")
    rail, panel = construction.rail, construction.base_panel
    free = (Direction.X_PLUS,) if plan.in_corner else (Direction.X_MINUS, Direction.X_PLUS)
    low = (
        BoxPanel(name=f"{wall.corner_with} rail", material=rail, show=Show.NONE)
        if plan.in_corner
        else BoxPanel(name="near side panel", material=panel, show=Show.FRONT)
    )
    base = base_box(
        name,
        base_space,
        back=BoxPanel(name=f"{wall} rail", material=rail, show=Show.NONE),
        front=BoxPanel(name="front panel", material=panel, show=Show.FRONT, banded_ends=free),
        low=low,
        high=BoxPanel(
            name="side panel" if plan.in_corner else "far side panel",
            material=panel,
            show=Show.FRONT,
        ),
        construction=construction,
    )
    decked = decked_box(
        name,
        base,
        space.whole,
        Surface.SEAT,
        (*free, Direction.Y_PLUS),
        rounded_corners(plan.sizes.corner_radius_mm, free),
        tuple(
            Crossing(tied.angle, base.crossed(low=tied.low, high=tied.high)) for tied in plan.tied
        ),
        DeckHold.BONDED,
        construction,
        plan.routing,
        plan.sheet_trim_mm,
    )
    row = Row(least=LEAST_RAIL_SCREWS, most_mm=construction.rail_screws_apart_mm)
    rails = wall_screws(base.back, Axis.X, row, construction)
    if plan.in_corner:
        bearers = [board for board in decked.assembly.boards if "/bearer " in board.name]
        taken = [_taken_by(bearer, construction) for bearer in bearers]
        rails += wall_screws(base.low, Axis.Y, row, construction, taken=taken)
    parts = [decked.assembly, Assembly(joints=rails)]
    parts += tied_deck(plan, decked.decks[0], space.whole, base_space, DeckHold.BONDED)
    return joined(parts)


def bench_limits(plan: UnitPlan[BenchSizes]) -> Iterator[Limit]:
    """Yield what must hold between the sizes of a bench."""
    bench, box_mm = plan.sizes, least_box_mm(plan.construction)
    least_mm, reason = plan.beside_box_mm
    sides = 1 if plan.in_corner else 2
    most_mm = min(bench.deck_depth_mm - box_mm, (bench.deck_width_mm - box_mm) / sides)
    yield Limit(("overhang",), bench.overhang_mm, least_mm, most_mm, reason)
    side_mm = min(bench.deck_width_mm, bench.deck_depth_mm)
    most_mm = min(side_mm / 2, bench.overhang_mm * RADIUS_PER_OVERHANG)
    yield Limit(("corner_radius",), bench.corner_radius_mm, 0.0, most_mm, CORNER_COVERS)


def rounded_corners(radius_mm: float, sides: tuple[Direction, ...]) -> tuple[RoundedCorner, ...]:
    """Return the rounding of a deck's corners towards the room; none for a radius of 0."""
    if radius_mm <= 0:
        return ()
    return tuple(RoundedCorner(side, Direction.Y_PLUS, radius_mm) for side in sides)


def _taken_by(bearer: Board, construction: Construction) -> Interval:
    """Return where along a side a bearer and its cleats leave no way for a driver."""
    room_mm = construction.cleat.thickness_mm + DRIVER_ROOM_MM
    return bearer.box.low.y - room_mm, bearer.box.high.y + room_mm


BENCH = Family(
    name="bench",
    meaning="Bench: a deck on a base box along a wall, or in its corner.",
    sizes=BenchSizes,
    stands=Stands.WALL,
    space=bench_space,
    parts=bench_parts,
    limits=bench_limits,
    takes_ties=True,
    fills="deck_width_mm",
)
