"""Deck: a level board on a base box, in pieces where no stock sheet holds it whole."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from parametric.geometry.space import SAME_MM, Axis, Box, Direction
from parametric.shapes.board import Band, Board, RoundedCorner, Show, Surface
from parametric.shapes.routing import Routing
from parametric.stock.construction import Construction
from parametric.stock.materials import SheetMaterial
from parametric.stock.stock_fit import spare_mm

MOST_PIECES = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class DeckPlan:
    """How a deck is cut: the axis its grain runs along, and where its joints lie in y."""

    grain: Axis
    joints_y: tuple[float, ...]


class DeckTooLarge(ValueError):
    """No stock sheet holds the deck, not even in pieces with their joints over the base box."""

    def __init__(
        self, unit: str, width_mm: float, length_mm: float, material: SheetMaterial
    ) -> None:
        self.unit = unit
        self.width_mm = width_mm
        self.length_mm = length_mm
        self.material = material
        super().__init__(
            f"{unit} deck of {width_mm:.1f} x {length_mm:.1f} mm cannot be cut from any stock of "
            f"{material.key} with its joints over the base box"
        )


def plan_deck(
    unit: str,
    box: Box,
    joints_within: tuple[float, float],
    construction: Construction,
    routing: Routing,
    sheet_trim_mm: float,
) -> DeckPlan:
    """Return the plan with the fewest pieces; the grain runs the long way if it can.

    Joints cross the deck in y, evenly, and must lie within `joints_within`. Sizes are counted with
    what pre-milling may add to them at edges that may be banded: both sides, and the ends.

    Raises:
        DeckTooLarge: no number of pieces up to four fits the stock.
    """
    material = construction.deck
    more = max(routing.pre_mill_mm - construction.band.thickness_mm, 0.0)
    width_mm, length_mm = box.size(Axis.X) + 2 * more, box.size(Axis.Y) + 2 * more
    axes = (Axis.Y, Axis.X) if length_mm >= width_mm else (Axis.X, Axis.Y)
    for pieces in range(1, MOST_PIECES + 1):
        joints = tuple(box.low.y + box.size(Axis.Y) * k / pieces for k in range(1, pieces))
        if any(not joints_within[0] < joint < joints_within[1] for joint in joints):
            continue
        ends = 2 if pieces == 1 else 1
        piece_mm = box.size(Axis.Y) / pieces + ends * more
        for grain in axes:
            along, across = width_mm, piece_mm
            if grain is Axis.Y:
                along, across = across, along
            if spare_mm(material, along, across, sheet_trim_mm) >= -SAME_MM:
                return DeckPlan(grain=grain, joints_y=joints)
    raise DeckTooLarge(unit, width_mm, length_mm, material)


def deck_boards(
    unit: str,
    box: Box,
    plan: DeckPlan,
    surface: Surface,
    free_edges: tuple[Direction, ...],
    rounded: tuple[RoundedCorner, ...],
    construction: Construction,
) -> tuple[Board, ...]:
    """Return the deck's boards from the wall outwards, banded on the free edges of the deck."""
    cuts = (box.low.y, *plan.joints_y, box.high.y)
    boards = []
    for index, (start, end) in enumerate(pairwise(cuts), start=1):
        piece = Box(box.low.at(Axis.Y, start), box.high.at(Axis.Y, end))
        edges = {edge for edge in free_edges if math.isclose(piece.side(edge), box.side(edge))}
        whole = not plan.joints_y
        boards.append(
            Board(
                name=f"{unit}/deck" if whole else f"{unit}/deck {index}",
                unit=unit,
                description=f"{unit} deck" if whole else f"{unit} deck, piece {index}",
                material=construction.deck,
                box=piece,
                grain=plan.grain,
                facing=Direction.Z_PLUS,
                show=Show.FRONT,
                surface=surface,
                bands=tuple(Band(edge, construction.band) for edge in free_edges if edge in edges),
                rounded=tuple(c for c in rounded if c.first in edges and c.second in edges),
            )
        )
    return tuple(boards)
