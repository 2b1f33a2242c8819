"""Questions that no answer can meet, found before any search."""

from collections.abc import Iterator
from dataclasses import replace

from nesting.question.errors import (
    Fault,
    Obstacle,
    OversizedPiece,
    PieceTooBig,
    Tried,
    raise_if_any,
)
from nesting.question.instance import Instance, StockKind, Turn
from nesting.question.maximal_rectangles import Rectangle
from nesting.question.problem import ItemType, Room, problem_of, rooms_of
from nesting.question.sheet_rules import small
from nesting.question.ticks import to_mm


def refuse_impossible(instance: Instance) -> None:
    """Do nothing when the rules agree with each other and every piece fits some stock.

    Whether the sheets on hand are enough is not asked here.

    Raises:
        InvalidInstance: rules contradict each other; all contradictions are listed.
        PieceTooBig: a piece fits no stock in any turn that it may take; all such are listed.
    """
    refuse_contradictions(instance)
    refuse_oversized(instance)


def refuse_contradictions(instance: Instance) -> None:
    """Do nothing when the rules agree with each other.

    Raises:
        InvalidInstance: some do not; all contradictions are listed.
    """
    rooms = rooms_of(instance)
    raise_if_any(
        [
            *_endless_remnants(instance),
            *_spoiled_sheets(instance, rooms),
            *_rim_everywhere(instance, rooms),
        ]
    )


def refuse_oversized(instance: Instance) -> None:
    """Do nothing when every piece fits some stock in a turn that it may take.

    Raises:
        PieceTooBig: some do not; all of them are listed with what stands in their way.
    """
    pieces = tuple(_oversized(instance))
    if pieces:
        raise PieceTooBig(pieces=pieces)


def _endless_remnants(instance: Instance) -> Iterator[Fault]:
    """Yield remnants without a number: they cost nothing, so that every answer would be free."""
    for stock in instance.stocks:
        if stock.kind is StockKind.REMNANT and stock.on_hand is None:
            yield Fault(
                where=f"stock {stock.id}: on hand",
                found="no limit",
                allowed="a number, as it is a remnant",
            )


def _spoiled_sheets(instance: Instance, rooms: tuple[Room, ...]) -> Iterator[Fault]:
    gap = instance.rules.gap
    for stock, room in zip(instance.stocks, rooms, strict=True):
        if not any(min(free.length, free.width) > gap for free in room.free):
            yield Fault(
                where=f"stock {stock.id}: defects",
                found="no place left between them",
                allowed="a sheet with room for a part",
            )


def _rim_everywhere(instance: Instance, rooms: tuple[Room, ...]) -> Iterator[Fault]:
    """Yield a fault when small parts are asked for and every stock is all rim."""
    rim, gap = instance.rules.rim, instance.rules.gap
    if rim is None or not any(small(rim, p.length, p.width) for p in instance.pieces):
        return
    # The side that leaves a small part most freedom, on the best stock.
    widest = max(min(room.length, room.width) - gap for room in rooms)
    if 2 * rim.distance >= widest:
        yield Fault(
            where="rules: rim: distance",
            found=f"{to_mm(rim.distance):.2f} mm on stock with {to_mm(widest):.2f} mm across",
            allowed="less than half of that, or no small part has a place",
        )


def _oversized(instance: Instance) -> Iterator[OversizedPiece]:
    problem = problem_of(instance)
    for piece, item_type in zip(instance.pieces, problem.item_types, strict=True):
        if any(item_type.fits(room) for room in problem.rooms):
            continue
        yield OversizedPiece(
            piece=piece.id,
            length=piece.length,
            width=piece.width,
            turns=(Turn.FIXED,) if piece.turn is Turn.FIXED else (Turn.FIXED, Turn.QUARTER),
            stocks=tuple(
                Tried(
                    stock=instance.stocks[room.index].id,
                    room_length=room.length - instance.rules.gap,
                    room_width=room.width - instance.rules.gap,
                    obstacle=_obstacle(item_type, room),
                )
                for room in problem.rooms
            ),
        )


def _obstacle(item_type: ItemType, room: Room) -> Obstacle:
    """Return what keeps a piece out of a room that it does not fit."""
    flawless = replace(room, free=(Rectangle(0, 0, room.length, room.width),))
    anywhere = replace(item_type, rim=0)
    if not anywhere.fits(flawless):
        return Obstacle.SIZE
    defects_alone, rim_alone = not anywhere.fits(room), not item_type.fits(flawless)
    if defects_alone is rim_alone:
        return Obstacle.DEFECTS_AND_RIM
    return Obstacle.DEFECTS if defects_alone else Obstacle.RIM
