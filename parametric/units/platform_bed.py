"""Platform bed: a base box that stands clear of the wall base, a deck that overhangs it, legs under
the foot end. A deck that no sheet holds is split, each joint over a bearer.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Annotated

from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.joints.assembly import Assembly, joined
from parametric.joints.joints import FixedToWall, Seated
from parametric.primitives.base_box import BaseBox, BoxPanel, base_box
from parametric.primitives.cleat import hold_down_cleat
from parametric.primitives.decked_box import Crossing, DeckHold, decked_box
from parametric.primitives.leg import leg
from parametric.primitives.wall_screws import Row, wall_screws
from parametric.shapes.board import Board, Show, Surface
from parametric.units.bench import rounded_corners
from parametric.units.family import (
    BOX_REMAINS,
    CORNER_COVERS,
    RADIUS_PER_OVERHANG,
    Family,
    Limit,
    Space,
    Stands,
    UnitPlan,
    least_box_mm,
)
from parametric.units.size import Choice, Length
from parametric.units.tied_deck import tied_deck

# Legs are added when two would stand further apart. Common practice, no source; the foot edge of a
# 19 mm deck with a seat load half way between two legs allows about as much.
MOST_BETWEEN_LEGS_MM = 400.0
HOLD_DOWN_INSET_MM = 60.0  # so that nobody sees its ends from the sides; common practice
HOLD_DOWN_ROOM_MM = 12.0  # between it and a leg's plate; common practice, no source
SHIMMED_SCREWS = Row(least=2, most_mm=1000.0)  # they carry nothing; common practice, no source
LEG_CLEAR_MM = 1.0  # between a leg's plate and the base box, or the next plate
_SIDES = (Direction.X_MINUS, Direction.X_PLUS)


@dataclass(frozen=True, slots=True, kw_only=True)
class BedSizes:
    """Sizes of a bed: its deck, the base box under it, the legs under the foot end."""

    deck_width_mm: Annotated[float, Length(300, 3000, "Deck, along the wall.")]
    deck_length_mm: Annotated[float, Length(1000, 3000, "Deck, out from the wall.")]
    wall_clearance_mm: Annotated[
        float, Length(0, 100, "Room between wall and base box, for the wall base.")
    ]
    side_overhang_mm: Annotated[float, Length(0, 800, "Deck beyond its base box on both sides.")]
    foot_overhang_mm: Annotated[float, Length(0, 1200, "Deck beyond its base box at the foot.")]
    leg_inset_mm: Annotated[float, Length(20, 800, "Centre of the legs from the deck's edges.")]
    corner_radius_mm: Annotated[float, Length(0, 500, "Radius of the corners at the foot.")]
    deck_held: (
        Annotated[
            DeckHold,
            Choice(
                "Bonded on in the room and screwed up at the foot, which is so if left out; or"
                " screwed on from below all round before the bed is set down."
            ),
        ]
        | None
    ) = None


def bed_space(plan: UnitPlan[BedSizes]) -> Space:
    """Return the base box and the deck of a bed; the deck reaches the wall, the base does not."""
    bed, top = plan.sizes, plan.base_height_mm
    back = plan.out_mm
    deck = Box.spanning(
        (plan.start_mm, plan.start_mm + bed.deck_width_mm),
        (back, back + bed.deck_length_mm),
        (top, top + plan.construction.deck.thickness_mm),
    )
    base = Box.spanning(
        (plan.start_mm + bed.side_overhang_mm, deck.high.x - bed.side_overhang_mm),
        (back + bed.wall_clearance_mm, deck.high.y - bed.foot_overhang_mm),
        (0.0, top),
    )
    return Space(whole=deck, base=base)


def bed_parts(plan: UnitPlan[BedSizes], space: Space) -> Assembly:
    """Return a bed.

    Raises:
        DeckTooLarge: no stock sheet holds its deck, even in pieces.
        ValueError: the space has no base box.
    """
    name, construction, base_space, deck = plan.name, plan.construction, space.base, space.whole
    if base_space is None:
        raise ValueError(f"{name} has no room for a base box")
    base = _base(plan, base_space)
    hold = plan.sizes.deck_held or DeckHold.BONDED
    decked = decked_box(
        name,
        base,
        deck,
        Surface.LYING,
        (*_SIDES, Direction.Y_PLUS) if plan.wall else (*_SIDES, *_ENDS),
        rounded_corners(plan.sizes.corner_radius_mm, _SIDES),
        tuple(
            Crossing(tied.angle, base.crossed(low=tied.low, high=tied.high)) for tied in plan.tied
        ),
        hold,
        construction,
        plan.routing,
        plan.sheet_trim_mm,
    )
    foot = decked.decks[-1]
    legs = [
        leg(f"{name}/leg {index}", place, foot, construction)
        for index, place in enumerate(leg_feet(plan.sizes, deck), start=1)
    ]
    on_legs = Seated(top=foot.name, on=tuple(part.name for each in legs for part in each.members))
    parts = [decked.assembly, *legs, Assembly(joints=(on_legs,))]
    if hold is DeckHold.BONDED:
        parts += _held_down(plan, base, foot, [each.legs[0].box for each in legs])
        if plan.wall:
            parts.append(Assembly(joints=_off_the_wall(plan, base)))
    parts += tied_deck(plan, decked.decks[0], deck, base_space, hold)
    return joined(parts)


def _off_the_wall(plan: UnitPlan[BedSizes], base: BaseBox) -> tuple[FixedToWall, ...]:
    """Return the screws that keep the box where its deck was tried, through shims behind them."""
    return wall_screws(
        base.back,
        Axis.X,
        SHIMMED_SCREWS,
        plan.construction,
        off_wall_mm=plan.sizes.wall_clearance_mm,
        carries=False,
    )


def _held_down(
    plan: UnitPlan[BedSizes], base: BaseBox, deck: Board, legs: Sequence[Box]
) -> Iterator[Assembly]:
    """Yield the cleat along the foot panel by which a bonded deck is screwed down from below, where
    the overhang leaves room for it and a driver in front of the legs.
    """
    construction, front = plan.construction, base.front.box
    free_mm = min((box.low.y for box in legs), default=deck.box.high.y) - front.high.y
    if free_mm < construction.cleat.thickness_mm + HOLD_DOWN_ROOM_MM:
        return
    space = Box.spanning(
        (front.low.x + HOLD_DOWN_INSET_MM, front.high.x - HOLD_DOWN_INSET_MM),
        (front.high.y, front.high.y + construction.cleat.thickness_mm),
        (front.high.z - construction.cleat.width_mm, front.high.z),
    )
    name = f"{plan.name}/hold-down cleat"
    inside = base.inside.low.x, base.inside.high.x
    yield hold_down_cleat(name, space, base.front, inside, deck, construction)


_ENDS = (Direction.Y_MINUS, Direction.Y_PLUS)


def _base(plan: UnitPlan[BedSizes], space: Box) -> BaseBox:
    """Return the four panels; the head panel is raw where the wall hides it."""
    construction = plan.construction
    panel = construction.base_panel
    raw, seen = (construction.rail, Show.NONE), (panel, Show.FRONT)
    material, show = raw if plan.wall else seen
    return base_box(
        plan.name,
        space,
        back=BoxPanel(name="head panel", material=material, show=show),
        front=BoxPanel(name="foot panel", material=panel, show=Show.FRONT, banded_ends=_SIDES),
        low=BoxPanel(name="near side panel", material=panel, show=Show.FRONT),
        high=BoxPanel(name="far side panel", material=panel, show=Show.FRONT),
        construction=construction,
    )


def bed_limits(plan: UnitPlan[BedSizes]) -> Iterator[Limit]:
    """Yield what must hold between the sizes of a bed."""
    bed, box_mm = plan.sizes, least_box_mm(plan.construction)
    least_mm, reason = plan.beside_box_mm
    most_mm = (bed.deck_width_mm - box_mm) / 2
    yield Limit(("side_overhang",), bed.side_overhang_mm, least_mm, most_mm, reason)
    most_mm = bed.deck_length_mm - bed.wall_clearance_mm - box_mm
    yield Limit(("foot_overhang",), bed.foot_overhang_mm, 0.0, most_mm, BOX_REMAINS)
    half_mm = plan.construction.leg.plate_mm / 2
    most_mm = min(bed.foot_overhang_mm, bed.deck_width_mm / 2) - half_mm - LEG_CLEAR_MM
    reason = "so that the plates lie under the deck, clear of the base box and of each other"
    yield Limit(("leg_inset",), bed.leg_inset_mm, half_mm, most_mm, reason)
    # A leg's plate stays under the corner too: that far in from both edges.
    covered_mm = min(bed.side_overhang_mm, bed.foot_overhang_mm, bed.leg_inset_mm - half_mm)
    most_mm = min(bed.deck_width_mm / 2, covered_mm * RADIUS_PER_OVERHANG)
    yield Limit(("corner_radius",), bed.corner_radius_mm, 0.0, max(0.0, most_mm), CORNER_COVERS)


def leg_feet(bed: BedSizes, deck: Box) -> tuple[Point, ...]:
    """Return where the legs stand: in a row along the foot, inset from the deck's edges."""
    first, last = deck.low.x + bed.leg_inset_mm, deck.high.x - bed.leg_inset_mm
    gaps = max(1, math.ceil((last - first) / MOST_BETWEEN_LEGS_MM - 1e-9))
    y = deck.high.y - bed.leg_inset_mm
    return tuple(Point(first + (last - first) * k / gaps, y, 0.0) for k in range(gaps + 1))


PLATFORM_BED = Family(
    name="platform-bed",
    meaning="Platform bed: a deck on a base box, legs under its foot end.",
    sizes=BedSizes,
    stands=Stands.ANYWHERE,
    space=bed_space,
    parts=bed_parts,
    limits=bed_limits,
    takes_ties=True,
)
