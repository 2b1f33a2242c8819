"""Platform bed: a base box that stands clear of the wall base, a deck that overhangs it, legs under
the foot end. A deck that no sheet holds is split, each joint over a bearer.
"""

from __future__ import annotations

import math

from parametric.geometry.space import Box, Direction, Point
from parametric.joints.assembly import Assembly, joined
from parametric.joints.joints import Seated
from parametric.primitives.base_box import BoxPanel, base_box
from parametric.primitives.decked_box import DeckHold, decked_box
from parametric.primitives.leg import leg
from parametric.primitives.steel_angle import screwed_up
from parametric.shapes.board import RoundedCorner, Show
from parametric.units.set_plan import BED, SetPlan
from parametric.units.sizes import BedSizes

# Legs are added when two would stand further apart. Common practice, no source; the foot edge of a
# 19 mm deck with a seat load half way between two legs allows about as much.
MOST_BETWEEN_LEGS_MM = 400.0


def platform_bed(plan: SetPlan) -> Assembly:
    """Return the bed of the planned set; empty if the set has none.

    Raises:
        DeckTooLarge: no stock sheet holds its deck, even in pieces.
    """
    bed, base_space, deck_space = plan.sizes.bed, plan.bed_base, plan.bed_deck
    if bed is None or base_space is None or deck_space is None:
        return Assembly()
    construction = plan.construction
    panel = construction.base_panel
    base = base_box(
        BED,
        base_space,
        back=BoxPanel(name="head panel", material=construction.rail, show=Show.NONE),
        front=BoxPanel(
            name="foot panel",
            material=panel,
            show=Show.FRONT,
            banded_ends=(Direction.X_MINUS, Direction.X_PLUS),
        ),
        low=BoxPanel(name="near side panel", material=panel, show=Show.FRONT),
        high=BoxPanel(name="far side panel", material=panel, show=Show.FRONT),
        construction=construction,
    )
    decked = decked_box(
        BED,
        base,
        deck_space,
        (Direction.X_MINUS, Direction.X_PLUS, Direction.Y_PLUS),
        rounded_corners(bed.corner_radius_mm),
        None if plan.angle is None else (plan.angle, base.low),
        DeckHold.SCREWED,
        construction,
        plan.routing,
        plan.sheet_trim_mm,
    )
    foot = decked.decks[-1]
    feet = leg_feet(bed, deck_space)
    legs = [
        leg(f"{BED}/leg {index}", place, foot, construction)
        for index, place in enumerate(feet, start=1)
    ]
    on_legs = Seated(top=foot.name, on=tuple(part.name for each in legs for part in each.members))
    parts = [decked.assembly, *legs, Assembly(joints=(on_legs,))]
    if plan.angle is not None:
        run = (deck_space.low.x, base_space.low.x)
        parts.append(screwed_up(plan.angle, decked.decks[0], run, construction))
    return joined(parts)


def rounded_corners(radius_mm: float) -> tuple[RoundedCorner, ...]:
    """Return the rounding of the two foot corners; none for a radius of 0."""
    if radius_mm <= 0:
        return ()
    return (
        RoundedCorner(Direction.X_MINUS, Direction.Y_PLUS, radius_mm),
        RoundedCorner(Direction.X_PLUS, Direction.Y_PLUS, radius_mm),
    )


def leg_feet(bed: BedSizes, deck: Box) -> tuple[Point, ...]:
    """Return where the legs stand: in a row along the foot, inset from the deck's edges."""
    first, last = deck.low.x + bed.leg_inset_mm, deck.high.x - bed.leg_inset_mm
    gaps = max(1, math.ceil((last - first) / MOST_BETWEEN_LEGS_MM - 1e-9))
    y = deck.high.y - bed.leg_inset_mm
    return tuple(Point(first + (last - first) * k / gaps, y, 0.0) for k in range(gaps + 1))
