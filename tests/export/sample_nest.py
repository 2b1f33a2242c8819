"""The nest that the sample layout answers."""

from export.tables.yield_table import MaterialNest
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.question.ticks import gap_ticks, piece_ticks, sheet_ticks
from parametric.lists.face_up import FaceUp
from tests.export.sample_parts import LAMINATED, STOCK, sample_layout, sample_parts
from tests.nesting.random_nests import answer_of


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
        id=STOCK.key,
        length=sheet_ticks(2440),
        width=sheet_ticks(1220),
        price=STOCK.price,
        on_hand=STOCK.on_hand,
    )
    rules = SheetRules(trim=Trim.even(gap_ticks(10)), gap=gap_ticks(10))
    instance = Instance(pieces=pieces, stocks=(stock,), rules=rules)
    return MaterialNest(
        face_up=FaceUp.EITHER,
        material=LAMINATED,
        instance=instance,
        solution=answer_of(instance, sample_layout(), lower_bound=1),
    )
