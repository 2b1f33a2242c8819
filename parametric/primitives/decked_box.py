"""A base box with its deck: the deck in as many pieces as the stock asks for, a bearer under each
joint and where the box is wide, cleats all round, and the statement of what each piece rests on.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from parametric.geometry.space import Axis, Box, Direction
from parametric.joints.assembly import Assembly, joined
from parametric.joints.joints import Bonded, Seated
from parametric.primitives.base_box import BaseBox, box_cleats
from parametric.primitives.bearer import bearer, bearer_gap
from parametric.primitives.deck import deck_boards, plan_deck
from parametric.primitives.notched_panel import angle_gap, passed_through
from parametric.shapes.board import Board, RoundedCorner, Surface
from parametric.shapes.members import SteelAngle
from parametric.shapes.routing import Routing
from parametric.stock.construction import Construction

# A deck spans no more than this between supports; common practice, no source. Strength is for the
# engineer to decide.
MOST_SPAN_MM = 600.0


class DeckHold(StrEnum):
    """How a deck is held on its box."""

    SCREWED = "screwed"  # up through the level cleats, before the box is set down
    BONDED = "bonded"  # in the room, on the open box


@dataclass(frozen=True, slots=True)
class Crossing:
    """A steel angle and the side panels that it runs through."""

    angle: SteelAngle
    panels: tuple[Board, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DeckedBox:
    """The pieces of the deck, from the wall outwards, and everything together."""

    decks: tuple[Board, ...]
    assembly: Assembly


def decked_box(
    unit: str,
    base: BaseBox,
    deck: Box,
    surface: Surface,
    free_edges: tuple[Direction, ...],
    rounded: tuple[RoundedCorner, ...],
    crossings: tuple[Crossing, ...],
    hold: DeckHold,
    construction: Construction,
    routing: Routing,
    sheet_trim_mm: float,
) -> DeckedBox:
    """Return the box with its deck; `crossings` are the angles that run in through side panels.

    Raises:
        DeckTooLarge: no stock sheet holds the deck, even in pieces.
    """
    within = (base.inside.low.y, base.inside.high.y)
    plan = plan_deck(unit, deck, within, construction, routing, sheet_trim_mm)
    decks = deck_boards(unit, deck, plan, surface, free_edges, rounded, construction)
    screwed = decks if hold is DeckHold.SCREWED else ()
    bearers_y = bearer_places(base.inside, plan.joints_y)
    gaps = tuple(bearer_gap(y, construction) for y in bearers_y)
    side_gaps = {base.low.name: gaps, base.high.name: gaps}
    parts = [Assembly(boards=(*base.boards, *decks))]
    supports: list[Board | SteelAngle] = list(base.boards)
    for crossing in crossings:
        for panel in crossing.panels:
            gap = angle_gap(crossing.angle, construction)
            side_gaps[panel.name] = (*side_gaps[panel.name], gap)
            parts.append(passed_through(panel, crossing.angle, construction))
        supports.append(crossing.angle)
    parts.append(
        box_cleats(
            unit, base, screwed, side_gaps[base.low.name], side_gaps[base.high.name], construction
        )
    )
    for index, y in enumerate(bearers_y, start=1):
        parts.append(bearer(unit, index, y, base, screwed, construction))
        supports.extend(parts[-1].boards)
    parts.append(
        Assembly(
            joints=tuple(
                Seated(
                    top=board.name,
                    on=tuple(s.name for s in supports if overlap_in_plan(board.box, s.box)),
                )
                for board in decks
            )
        )
    )
    if hold is DeckHold.BONDED:
        boards = [support for support in supports if isinstance(support, Board)]
        parts.append(Assembly(joints=bonds(decks, boards)))
    return DeckedBox(decks=decks, assembly=joined(parts))


def bonds(decks: Sequence[Board], boards: Sequence[Board]) -> tuple[Bonded, ...]:
    """Return what bonds each piece of a deck to the boards that it rests on."""
    return tuple(
        Bonded(
            top=deck.name,
            on=tuple(board.name for board in boards if overlap_in_plan(deck.box, board.box)),
        )
        for deck in decks
    )


def bearer_places(inside: Box, joints_y: tuple[float, ...]) -> tuple[float, ...]:
    """Return where bearers stand in y: under each joint, and evenly between these and the ends of
    the box where the deck would else span too far both ways.
    """
    if inside.size(Axis.X) <= MOST_SPAN_MM:
        return joints_y
    places = list(joints_y)
    for start, end in pairwise((inside.low.y, *joints_y, inside.high.y)):
        bays = math.ceil((end - start) / MOST_SPAN_MM - 1e-9)
        places += [start + (end - start) * k / bays for k in range(1, bays)]
    return tuple(sorted(places))


def overlap_in_plan(deck: Box, support: Box) -> bool:
    """Return whether the two boxes share area seen from above."""
    level = Box(support.low.at(Axis.Z, deck.low.z), support.high.at(Axis.Z, deck.high.z))
    return deck.overlap(level) is not None
