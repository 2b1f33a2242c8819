"""A base box with its deck: the deck in as many pieces as the stock asks for, a bearer under each
joint, cleats all round, and the statement of what each piece rests on.
"""

from __future__ import annotations

from dataclasses import dataclass

from parametric.assembly import Assembly, joined
from parametric.board import Board, RoundedCorner
from parametric.joints import Seated
from parametric.members import SteelAngle
from parametric.primitives.base_box import BaseBox, box_cleats
from parametric.primitives.bearer import bearer, bearer_gap
from parametric.primitives.deck import deck_boards, plan_deck
from parametric.primitives.notched_panel import angle_gap, passed_through
from parametric.sizes import Construction
from parametric.space import Axis, Box, Direction


@dataclass(frozen=True, slots=True, kw_only=True)
class DeckedBox:
    """The pieces of the deck, from the wall outwards, and everything together."""

    decks: tuple[Board, ...]
    assembly: Assembly


def decked_box(
    unit: str,
    base: BaseBox,
    deck: Box,
    free_edges: tuple[Direction, ...],
    rounded: tuple[RoundedCorner, ...],
    crossing: tuple[SteelAngle, Board] | None,
    construction: Construction,
    sheet_trim_mm: float,
) -> DeckedBox:
    """Return the box with its deck; `crossing` is the angle that runs in through one side panel.

    Raises:
        DeckTooLarge: no stock sheet holds the deck, even in pieces.
    """
    within = (base.inside.low.y, base.inside.high.y)
    plan = plan_deck(unit, deck, within, construction.deck, sheet_trim_mm)
    decks = deck_boards(unit, deck, plan, free_edges, rounded, construction)
    gaps = tuple(bearer_gap(y, construction) for y in plan.joints_y)
    side_gaps = {base.low.name: gaps, base.high.name: gaps}
    parts = [Assembly(boards=(*base.boards, *decks))]
    supports: list[Board | SteelAngle] = list(base.boards)
    if crossing is not None:
        angle, panel = crossing
        side_gaps[panel.name] = (*gaps, angle_gap(angle, construction))
        parts.append(passed_through(panel, angle, construction))
        supports.append(angle)
    parts.append(
        box_cleats(
            unit, base, decks, side_gaps[base.low.name], side_gaps[base.high.name], construction
        )
    )
    for index, joint_y in enumerate(plan.joints_y, start=1):
        parts.append(bearer(unit, index, joint_y, base, decks, construction))
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
    return DeckedBox(decks=decks, assembly=joined(parts))


def overlap_in_plan(deck: Box, support: Box) -> bool:
    """Return whether the two boxes share area seen from above."""
    level = Box(support.low.at(Axis.Z, deck.low.z), support.high.at(Axis.Z, deck.high.z))
    return deck.overlap(level) is not None
