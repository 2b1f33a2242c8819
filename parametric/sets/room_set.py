"""A set placed in the room, in either hand."""

from __future__ import annotations

from dataclasses import dataclass

from parametric.geometry.hand import Hand
from parametric.geometry.space import Direction
from parametric.geometry.walls import Wall
from parametric.joints.assembly import Assembly, joined
from parametric.sets.composition import SetSizes
from parametric.sets.plan import plan_set
from parametric.sets.room_walls import WOOD_STUDS, RoomWalls
from parametric.shapes.routing import Routing
from parametric.stock.construction import Construction
from parametric.units.wall_panel import wall_panel


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomSet:
    """One set in one hand; its assembly is in the room frame, the room corner at the origin.

    `walls` tells along which wall each unit stands or hangs; one that stands free has none.
    """

    name: str
    hand: Hand
    sizes: SetSizes
    assembly: Assembly
    walls: tuple[tuple[str, Wall], ...]

    def along(self, wall: Wall) -> frozenset[str]:
        """Return the names of the units along a wall."""
        return frozenset(name for name, its in self.walls if its is wall)

    @property
    def outwards(self) -> dict[str, Direction]:
        """The way out into the room from the wall that each unit stands along or hangs on."""
        room = self.hand.corner_to_room
        return {name: Direction.Y_PLUS.placed(room.of(wall.placing())) for name, wall in self.walls}


def build_set(
    sizes: SetSizes,
    hand: Hand,
    construction: Construction,
    routing: Routing,
    sheet_trim_mm: float,
    room_walls: RoomWalls = WOOD_STUDS,
) -> RoomSet:
    """Return the set in the room.

    Families build their units in the frame of a wall, which is the same for both hands; the hand
    only decides how the corner lies in the room, so that the two are exact mirror images.

    Raises:
        DeckTooLarge: no stock sheet holds a deck, even in pieces.
    """
    plan = plan_set(sizes, construction, routing, sheet_trim_mm)
    room = hand.corner_to_room
    units = [
        each.unit.kind.parts(each.plan, each.space).placed(room.of(each.placing))
        for each in plan.units
    ]
    panels = [
        wall_panel(
            each.panel.name,
            each.panel.sizes,
            [placed.space.whole for placed in each.over],
            each.construction,
        ).placed(room.of(each.placing))
        for each in plan.panels
    ]
    ties = [Assembly(members=(each.angle,)).placed(room.of(each.placing)) for each in plan.ties]
    walls = [(each.unit.name, each.plan.wall) for each in plan.units]
    walls += [(each.panel.name, each.over[0].plan.wall) for each in plan.panels]
    walls += [(each.tie.name, each.through[0].plan.wall) for each in plan.ties]
    return RoomSet(
        name=sizes.name,
        hand=hand,
        sizes=sizes,
        assembly=room_walls.behind(joined([*units, *panels, *ties])),
        walls=tuple((name, wall) for name, wall in walls if wall is not None),
    )
