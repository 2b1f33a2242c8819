"""Carcass: an open box of top, bottom, sides, back and optional shelf, held by housed joints.

Top and bottom run the full width and depth; the sides stand in grooves set in from their ends and
stop short of their front edge, so that no groove shows in front. The back closes the rear, flush,
housed on all four sides. Glued, no fasteners.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Housed
from parametric.shapes.board import Band, Board, Show
from parametric.stock.construction import Construction

# What top and bottom project beyond the sides: leaves board beside the groove, and hides its end.
# Common practice, no source.
PROJECTION_MM = 12.7
SHELF_SETBACK_MM = 10.0


def carcass(
    unit: str, box: Box, shelf_height_mm: float | None, construction: Construction
) -> Assembly:
    """Return the carcass that fills `box`, open towards +y; the shelf's underside is
    `shelf_height_mm` above the bottom of the box.
    """
    boards = _Boards(unit, box, construction)
    housed = construction.housing_depth_mm
    bottom = boards.level("bottom", box.low.z, Direction.Z_MINUS)
    top = boards.level("top", box.high.z - construction.carcass.thickness_mm, Direction.Z_PLUS)
    upright = (bottom.box.high.z - housed, top.box.low.z + housed)
    sides = boards.sides(upright)
    clear_x = (sides[0].box.high.x - housed, sides[1].box.low.x + housed)
    back = boards.back(clear_x, upright)
    pairs = [(standing, level) for standing in (*sides, back) for level in (bottom, top)]
    pairs += [(back, side) for side in sides]
    shelves = []
    if shelf_height_mm is not None:
        shelves = [boards.shelf(clear_x, back.box.high.y, box.low.z + shelf_height_mm)]
        pairs += [(shelf, side) for shelf in shelves for side in sides]
    return Assembly(
        boards=(bottom, top, *sides, back, *shelves),
        joints=tuple(
            Housed(
                member=member.name,
                into=into.name,
                clearance_mm=construction.housing_clearance_mm,
                bottom_mm=construction.housing_clearance_mm,
            )
            for member, into in pairs
        ),
    )


@dataclass(frozen=True, slots=True)
class _Boards:
    """Makes the boards of a carcass that fills a box; all lengths in millimetres."""

    unit: str
    box: Box
    construction: Construction

    def level(self, name: str, z: float, facing: Direction) -> Board:
        """Return top or bottom, its underside at `z`."""
        space = Box(self.box.low.at(Axis.Z, z), self.box.high.at(Axis.Z, z + self._thickness))
        edges = (Direction.X_MINUS, Direction.X_PLUS, Direction.Y_PLUS)
        return self._board(name, space, facing, Axis.X, edges)

    def sides(self, upright: tuple[float, float]) -> tuple[Board, Board]:
        """Return the sides at low and at high x, from and to the heights `upright`."""
        inset = PROJECTION_MM
        return (
            self._side("side a", self.box.low.x + inset, Direction.X_MINUS, upright),
            self._side(
                "side b", self.box.high.x - inset - self._thickness, Direction.X_PLUS, upright
            ),
        )

    def back(self, clear_x: tuple[float, float], upright: tuple[float, float]) -> Board:
        """Return the back, between the bottoms of the grooves that hold it."""
        y = self.box.low.y
        space = Box.spanning(clear_x, (y, y + self._thickness), upright)
        return self._board("back", space, Direction.Y_PLUS, Axis.X, ())

    def shelf(self, clear_x: tuple[float, float], back_y: float, z: float) -> Board:
        """Return the shelf in front of the back, its underside at `z`."""
        depth = (back_y, self._front_y - SHELF_SETBACK_MM)
        space = Box.spanning(clear_x, depth, (z, z + self._thickness))
        return self._board("shelf", space, Direction.Z_PLUS, Axis.X, (Direction.Y_PLUS,))

    @property
    def _thickness(self) -> float:
        return self.construction.carcass.thickness_mm

    @property
    def _front_y(self) -> float:
        return self.box.high.y - PROJECTION_MM

    def _side(self, name: str, x: float, facing: Direction, upright: tuple[float, float]) -> Board:
        low, high = upright
        space = Box(Point(x, self.box.low.y, low), Point(x + self._thickness, self._front_y, high))
        board = self._board(name, space, facing, Axis.Z, (Direction.Y_PLUS,))
        # Which is which differs with the hand of a set; their numbers tell them apart.
        return replace(board, description=f"{self.unit} side")

    def _board(
        self, name: str, space: Box, facing: Direction, grain: Axis, edges: tuple[Direction, ...]
    ) -> Board:
        return Board(
            name=f"{self.unit}/{name}",
            unit=self.unit,
            description=f"{self.unit} {name}",
            material=self.construction.carcass,
            box=space,
            grain=grain,
            facing=facing,
            show=Show.BOTH,
            bands=tuple(Band(edge, self.construction.band) for edge in edges),
        )
