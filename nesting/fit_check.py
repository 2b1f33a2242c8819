"""Pieces that no sheet can ever hold, found before any search."""

from collections.abc import Iterator

from nesting.errors import OversizedPiece, PieceTooBig, Tried
from nesting.instance import Instance, Piece, Turn


def refuse_oversized(instance: Instance) -> None:
    """Do nothing when every piece fits some stock in a turn that it may take.

    Raises:
        PieceTooBig: some do not; all of them are listed.
    """
    pieces = tuple(_oversized(instance))
    if pieces:
        raise PieceTooBig(pieces=pieces)


def _oversized(instance: Instance) -> Iterator[OversizedPiece]:
    trim = instance.rules.trim
    stocks = tuple(
        Tried(
            stock=stock.id,
            room_length=stock.length - 2 * trim,
            room_width=stock.width - 2 * trim,
        )
        for stock in instance.stocks
    )
    for piece in instance.pieces:
        turns = (Turn.FIXED,) if piece.turn is Turn.FIXED else (Turn.FIXED, Turn.QUARTER)
        if not any(_fits(piece, turn, room) for turn in turns for room in stocks):
            yield OversizedPiece(
                piece=piece.id,
                length=piece.length,
                width=piece.width,
                turns=turns,
                stocks=stocks,
            )


def _fits(piece: Piece, turn: Turn, room: Tried) -> bool:
    along, across = piece.length, piece.width
    if turn is Turn.QUARTER:
        along, across = across, along
    return along <= room.room_length and across <= room.room_width
