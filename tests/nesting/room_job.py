"""An invented job: 18 kinds of panel in every room, most with grain, on one size of board."""

from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.question.ticks import gap_ticks, piece_ticks, sheet_ticks

# length and width in mm, pieces in a room
GRAIN_FIXED = (
    (2030, 980, 1),
    (2000, 450, 1),
    (1850, 400, 2),
    (1400, 560, 1),
    (1200, 330, 2),
    (900, 330, 2),
    (880, 500, 1),
    (760, 420, 1),
    (600, 400, 2),
    (500, 420, 3),
    (450, 337, 3),
)
FREE_TO_TURN = (
    (1180, 100, 2),
    (960, 120, 2),
    (700, 90, 4),
    (520, 337, 2),
    (400, 300, 2),
    (337, 80, 4),
    (250, 200, 2),
)
BOARD = Stock(
    id="board", length=sheet_ticks(2440), width=sheet_ticks(1220), price=50.0, on_hand=None
)


def room_job(rooms: int) -> Instance:
    """The job for so many rooms: 37 pieces each, gap 9.5 mm, trim 10 mm."""
    kinds = [(*kind, Turn.FIXED) for kind in GRAIN_FIXED]
    kinds += [(*kind, Turn.QUARTER) for kind in FREE_TO_TURN]
    pieces = tuple(
        Piece(
            id=f"P{number:02}",
            length=piece_ticks(length),
            width=piece_ticks(width),
            quantity=in_a_room * rooms,
            turn=turn,
        )
        for number, (length, width, in_a_room, turn) in enumerate(kinds, start=1)
    )
    rules = SheetRules(trim=Trim.even(gap_ticks(10)), gap=gap_ticks(9.5))
    return Instance(pieces=pieces, stocks=(BOARD,), rules=rules)
