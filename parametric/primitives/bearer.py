"""Bearer: a board across a base box that carries a deck, and the joint of two of its pieces."""

from __future__ import annotations

from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.geometry.spacing import Interval, between, spread
from parametric.joints.assembly import Assembly, joined
from parametric.primitives.base_box import BaseBox
from parametric.primitives.cleat import END_MM, MOST_MM, level_cleat, upright_cleat
from parametric.shapes.board import Board, Show
from parametric.stock.construction import Construction


def bearer(
    unit: str,
    index: int,
    centre_y: float,
    base: BaseBox,
    decks: tuple[Board, ...],
    construction: Construction,
) -> Assembly:
    """Return a bearer centred at `centre_y`, with its cleats on both faces, screwed to `decks`."""
    inside = base.inside
    half = construction.bearer.thickness_mm / 2
    board = Board(
        name=f"{unit}/bearer {index}",
        unit=unit,
        description=f"{unit} bearer",
        material=construction.bearer,
        box=Box(inside.low.at(Axis.Y, centre_y - half), inside.high.at(Axis.Y, centre_y + half)),
        grain=Axis.X,
        facing=Direction.Y_PLUS,
        show=Show.NONE,
    )
    bar = construction.cleat
    parts = [Assembly(boards=(board,))]
    top = board.box.grown(Direction.Z_MINUS, bar.width_mm - board.box.size(Axis.Z))
    level = spread(top.size(Axis.X), END_MM, MOST_MM)
    # The second cleat's screws come from the other side of the same board: they go between.
    for side, positions in (
        (Direction.Y_MINUS, level),
        (Direction.Y_PLUS, between(top.size(Axis.X), level)),
    ):
        box = top.grown(side.opposite, -top.size(Axis.Y)).grown(side, bar.thickness_mm)
        name = f"{board.name} deck cleat {'a' if side is Direction.Y_MINUS else 'b'}"
        to_board = (board.name, side.opposite)
        parts.append(level_cleat(name, box, to_board, decks, construction, positions))
    height_mm = inside.size(Axis.Z) - bar.width_mm
    for number, (panel, x, direction) in enumerate(
        (
            (base.low, inside.low.x, Direction.X_MINUS),
            (base.high, inside.high.x, Direction.X_PLUS),
        ),
        start=1,
    ):
        corner = Point(x, board.box.low.y, inside.low.z)
        parts.append(
            upright_cleat(
                f"{board.name} upright cleat {number}",
                corner,
                height_mm,
                (panel.name, direction),
                (board.name, Direction.Y_PLUS),
                construction,
            )
        )
    return joined(parts)


def bearer_gap(centre_y: float, construction: Construction) -> Interval:
    """Return the interval in y that a bearer and its cleats take from the side cleats."""
    half = construction.bearer.thickness_mm / 2 + construction.cleat.thickness_mm
    return (centre_y - half, centre_y + half)
