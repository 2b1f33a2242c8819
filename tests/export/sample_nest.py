"""The nest that the sample layout answers."""

from export.manifest import FaceUp
from export.tables.yield_table import MaterialNest
from nesting.instance import Instance, Piece, SheetRules, Stock, Turn
from nesting.solution import BoundKind, Solution
from nesting.ticks import piece_ticks
from tests.export.sample_parts import LAMINATED, STOCK, sample_layout, sample_parts


def sample_nest() -> MaterialNest:
    """Return one material with one layout of the three sample parts, cut three times."""
    pieces = tuple(
        Piece(
            id=part.number,
            length=piece_ticks(part.panel.length_mm),
            width=piece_ticks(part.panel.width_mm),
            quantity=3,
            turn=Turn.QUARTER,
        )
        for part in sample_parts().values()
    )
    stock = Stock(
        id=STOCK.key, length=244000, width=122000, price=STOCK.price, on_hand=STOCK.on_hand
    )
    return MaterialNest(
        face_up=FaceUp.EITHER,
        material=LAMINATED,
        instance=Instance(pieces=pieces, stocks=(stock,), rules=SheetRules(trim=1000, gap=1000)),
        solution=Solution(layouts=(sample_layout(),), lower_bound=1, bound_kind=BoundKind.AREA),
    )
