"""Random questions for the nest (ticks), and a plain-integer check of the answers."""

from itertools import combinations

from hypothesis import strategies as st

from nesting.instance import Instance, Piece, SheetRules, Stock, Turn
from nesting.solution import Layout, Placement, Solution

TRIM, LEAST_ROOM = 60, 300


@st.composite
def instances(draw: st.DrawFn, *, most_kinds: int = 8, most_copies: int = 12) -> Instance:
    """Questions in which every piece fits some sheet and some stock is unlimited."""
    rules = SheetRules(trim=draw(st.integers(0, TRIM)), gap=draw(st.integers(0, 90)))
    sizes = draw(
        st.lists(
            st.tuples(st.integers(LEAST_ROOM + 2 * TRIM, 2500), st.integers(500, 1500)),
            min_size=1,
            max_size=3,
        )
    )
    stocks = tuple(
        Stock(
            id=f"stock {number}",
            length=length,
            width=width,
            price=draw(st.sampled_from([0.0, 1.0, 37.5])) + length * width / 1e6,
            on_hand=None if number == 0 else draw(st.one_of(st.none(), st.integers(0, 6))),
        )
        for number, (length, width) in enumerate(sizes)
    )
    room = stocks[0].length - 2 * rules.trim, stocks[0].width - 2 * rules.trim
    pieces = tuple(
        _piece(draw, f"piece {number}", room, most_copies)
        for number in range(draw(st.integers(1, most_kinds)))
    )
    return Instance(pieces=pieces, stocks=stocks, rules=rules)


def _piece(draw: st.DrawFn, name: str, room: tuple[int, int], most_copies: int) -> Piece:
    length, width = draw(st.integers(1, room[0])), draw(st.integers(1, room[1]))
    turn = draw(st.sampled_from(Turn))
    if turn is Turn.QUARTER and draw(st.booleans()):
        length, width = width, length
    copies = draw(st.integers(1, most_copies))
    return Piece(id=name, length=length, width=width, quantity=copies, turn=turn)


def assert_exact(instance: Instance, solution: Solution) -> None:
    """Check an answer in whole numbers only, without shapely."""
    pieces = {piece.id: piece for piece in instance.pieces}
    stocks = {stock.id: stock for stock in instance.stocks}
    placed = dict.fromkeys(pieces, 0)
    for layout in solution.layouts:
        assert layout.runs >= 1
        boxes = [_box(pieces[place.piece], place) for place in layout.placements]
        assert_inside(stocks[layout.stock], instance.rules.trim, boxes)
        for one, other in combinations(boxes, 2):
            assert _apart(one, other) >= instance.rules.gap
        for place in layout.placements:
            placed[place.piece] += layout.runs
            assert not (place.turned and pieces[place.piece].turn is Turn.FIXED)
    assert placed == {piece.id: piece.quantity for piece in instance.pieces}
    for stock in instance.stocks:
        assert stock.on_hand is None or solution.sheets_of(stock.id) <= stock.on_hand


Box = tuple[int, int, int, int]


def assert_inside(stock: Stock, trim: int, boxes: list[Box]) -> None:
    for left, bottom, right, top in boxes:
        assert trim <= left < right <= stock.length - trim
        assert trim <= bottom < top <= stock.width - trim


def _box(piece: Piece, place: Placement) -> Box:
    sides = (piece.width, piece.length) if place.turned else (piece.length, piece.width)
    return place.x, place.y, place.x + sides[0], place.y + sides[1]


def _apart(one: Box, other: Box) -> int:
    along = max(one[0] - other[2], other[0] - one[2])
    across = max(one[1] - other[3], other[1] - one[3])
    return max(along, across)


def one_sheet(stock: str, *placements: Placement, runs: int = 1) -> Layout:
    return Layout(stock=stock, placements=placements, runs=runs)
