"""A saw that does what the cuts say and nothing else, to see what falls off it."""

from nesting.answer.solution import Layout, Placement
from nesting.edge_to_edge.cuts import CutSequence, Line
from nesting.question.instance import Instance

Rectangle = tuple[int, int, int, int]
"""Corner, length, width."""


def replayed(instance: Instance, sequence: CutSequence) -> dict[int, Rectangle]:
    """Return the boards that are left when all cuts are made; check each cut as it is made."""
    (stock,) = [stock for stock in instance.stocks if stock.id == sequence.stock]
    on_saw: dict[int, Rectangle] = {0: (0, 0, stock.length, stock.width)}
    dust_area = 0
    for number, cut in enumerate(sequence.cuts, start=1):
        assert cut.number == number
        x, y, length, width = on_saw.pop(cut.board)
        across, through = (width, length) if cut.line is Line.ALONG else (length, width)
        beyond = across - cut.distance - cut.dust
        assert cut.distance >= 0 and beyond >= 0
        # The blade is all in the board, unless it runs along one of its edges.
        assert 0 <= cut.dust <= sequence.kerf
        assert cut.dust == sequence.kerf or cut.distance == 0 or beyond == 0
        dust_area += cut.dust * through
        assert (cut.taken is None) == (cut.distance == 0)
        assert (cut.rest is None) == (beyond == 0)
        start = cut.distance + cut.dust
        if cut.line is Line.ALONG:
            taken, rest = (x, y, length, cut.distance), (x, y + start, length, beyond)
        else:
            taken, rest = (x, y, cut.distance, width), (x + start, y, beyond, width)
        for board, rectangle in ((cut.taken, taken), (cut.rest, rest)):
            if board is not None:
                assert board not in on_saw
                on_saw[board] = rectangle
    area = sum(length * width for _, _, length, width in on_saw.values())
    assert area + dust_area == stock.length * stock.width
    return on_saw


def rectangle_of(instance: Instance, placement: Placement) -> Rectangle:
    """Return where a piece lies."""
    (piece,) = [piece for piece in instance.pieces if piece.id == placement.piece]
    sides = (piece.length, piece.width)
    length, width = sides[::-1] if placement.turned else sides
    return placement.x, placement.y, length, width


def directions_of(sequence: CutSequence) -> dict[int, set[Line]]:
    """Return which ways the cuts of each stage run."""
    lines: dict[int, set[Line]] = {}
    for cut in sequence.cuts:
        lines.setdefault(cut.stage, set()).add(cut.line)
    return lines


def stages_taken(instance: Instance, layout: Layout, sequence: CutSequence) -> int:
    """Return the last stage with a cut of a board that holds more than one piece.

    What a board holds is counted by what lies inside it, not by what the sequence says.
    """
    rectangles = [rectangle_of(instance, placement) for placement in layout.placements]
    last = 0
    for cut in sequence.cuts:
        board = sequence.boards[cut.board]
        inside = [
            (x, y)
            for x, y, length, width in rectangles
            if board.x <= x
            and board.y <= y
            and x + length <= board.x + board.length
            and y + width <= board.y + board.width
        ]
        if len(inside) > 1:
            last = max(last, cut.stage)
    return last
