"""Corner bench: a base box in the corner of head wall and side wall, and a deck on it.

Two raw rails stand against the walls and are fixed to them; two finished panels look into the
room; the deck overhangs these by the same amount and has one rounded corner.
"""

from __future__ import annotations

import math

from parametric.geometry.space import Axis, Direction, Point
from parametric.joints.assembly import Assembly, joined
from parametric.joints.joints import FixedToWall
from parametric.primitives.base_box import BoxPanel, base_box
from parametric.primitives.decked_box import DeckHold, decked_box
from parametric.primitives.steel_angle import screwed_up
from parametric.shapes.board import Board, RoundedCorner, Show
from parametric.stock.construction import Construction
from parametric.units.set_plan import BENCH, SetPlan

RAIL_SCREW_END_MM = 90.0  # from a rail's ends, at most; common practice, no source
RAIL_SCREW_MOST_MM = 240.0  # between them, and three at least: a seat load levers on few of them
RAIL_SCREW_HEIGHT = 0.6  # share of the rail's height: above wall base, below the deck cleats


def corner_bench(plan: SetPlan) -> Assembly:
    """Return the bench of the planned set; empty if the set has none.

    Raises:
        DeckTooLarge: no stock sheet holds its deck, even in pieces.
    """
    bench, base_space, deck_space = plan.sizes.bench, plan.bench_base, plan.bench_deck
    if bench is None or base_space is None or deck_space is None:
        return Assembly()
    construction = plan.construction
    rail, panel = construction.rail, construction.base_panel
    base = base_box(
        BENCH,
        base_space,
        back=BoxPanel(name="head wall rail", material=rail, show=Show.NONE),
        front=BoxPanel(
            name="front panel",
            material=panel,
            show=Show.FRONT,
            banded_ends=(Direction.X_PLUS,),
        ),
        low=BoxPanel(name="side wall rail", material=rail, show=Show.NONE),
        high=BoxPanel(name="side panel", material=panel, show=Show.FRONT),
        construction=construction,
    )
    decked = decked_box(
        BENCH,
        base,
        deck_space,
        (Direction.X_PLUS, Direction.Y_PLUS),
        rounded_corners(bench.corner_radius_mm),
        None if plan.angle is None else (plan.angle, base.high),
        DeckHold.BONDED,
        construction,
        plan.routing,
        plan.sheet_trim_mm,
    )
    parts = [
        decked.assembly,
        Assembly(
            joints=(
                *rail_screws(base.back, Axis.X, construction),
                *rail_screws(base.low, Axis.Y, construction),
            )
        ),
    ]
    if plan.angle is not None:
        run = (base_space.high.x, deck_space.high.x)
        parts.append(screwed_up(plan.angle, decked.decks[0], run, construction))
    return joined(parts)


def rounded_corners(radius_mm: float) -> tuple[RoundedCorner, ...]:
    """Return the rounding of the deck's free corner; none for a radius of 0."""
    if radius_mm <= 0:
        return ()
    return (RoundedCorner(Direction.X_PLUS, Direction.Y_PLUS, radius_mm),)


def rail_screws(rail: Board, along: Axis, construction: Construction) -> tuple[FixedToWall, ...]:
    """Return the screws that fix a rail to the wall it stands against, three at least."""
    inner = rail.box.side(rail.facing.opposite)
    z = rail.box.low.z + rail.box.size(Axis.Z) * RAIL_SCREW_HEIGHT
    # Clear of the upright cleats in the corners, where no driver gets at the heads.
    cleat_mm = construction.cleat.width_mm
    end = min(RAIL_SCREW_END_MM, cleat_mm + (rail.box.size(along) - 2 * cleat_mm) / 4)
    run = rail.box.size(along) - 2 * end
    gaps = max(2, math.ceil(run / RAIL_SCREW_MOST_MM - 1e-9))
    positions = [rail.box.low[along] + end + run * gap / gaps for gap in range(gaps + 1)]
    return tuple(
        FixedToWall(
            screw=construction.screw_wall,
            head=Point(0.0, 0.0, z).at(along, position).at(rail.facing.axis, inner),
            direction=rail.facing,
            through=rail.name,
        )
        for position in positions
    )
