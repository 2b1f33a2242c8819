"""Random questions for the nest (ticks), and a plain-integer check of the answers."""

from itertools import combinations

from hypothesis import assume
from hypothesis import strategies as st

from nesting.answer.solution import BoundKind, Layout, Placement, Solution, StopReason, price_of
from nesting.question.instance import Defect, Instance, Piece, Stock, StockKind, Turn
from nesting.question.maximal_rectangles import Rectangle
from nesting.question.problem import problem_of
from nesting.question.sheet_rules import EdgeToEdge, Rim, SheetRules, Trim

TRIM, LEAST_ROOM = 60, 300
SAWS = st.sampled_from([EdgeToEdge(stages=2), EdgeToEdge(stages=3), EdgeToEdge(stages=None)])
DISTANCES = st.integers(0, 60)
NO_SAW: st.SearchStrategy[EdgeToEdge | None] = st.none()


@st.composite
def instances(
    draw: st.DrawFn,
    *,
    most_item_types: int = 8,
    most_copies: int = 12,
    saws: st.SearchStrategy[EdgeToEdge | None] = NO_SAW,
) -> Instance:
    """Questions in which every piece fits some sheet and some stock is unlimited."""
    rules = SheetRules(
        trim=draw(st.builds(Trim, **dict.fromkeys(Trim.__slots__, st.integers(0, TRIM)))),
        gap=draw(st.integers(0, 90)),
        rim=draw(st.none() | st.builds(Rim, longest_side=st.integers(1, 500), distance=DISTANCES)),
        saw=draw(saws),
    )
    sizes = draw(
        st.lists(
            st.tuples(st.integers(LEAST_ROOM + 2 * TRIM, 2500), st.integers(500, 1500)),
            min_size=1,
            max_size=3,
        )
    )
    stocks = tuple(_stock(draw, number, *size) for number, size in enumerate(sizes))
    largest = _largest_places(stocks, rules)
    pieces = tuple(
        _piece(draw, f"piece {number}", largest[0], most_copies)
        for number in range(draw(st.integers(1, most_item_types)))
    )
    return Instance(pieces=pieces, stocks=stocks, rules=rules)


def _stock(draw: st.DrawFn, number: int, length: int, width: int) -> Stock:
    """The first is unlimited, so that no question runs short."""
    kind = StockKind.SHEET if number == 0 else draw(st.sampled_from(StockKind))
    limits = st.integers(0, 6) if kind is StockKind.REMNANT else st.none() | st.integers(0, 6)
    defects = draw(st.one_of(st.just([]), st.lists(_defects(length, width), max_size=2)))
    return Stock(
        id=f"stock {number}",
        length=length,
        width=width,
        price=draw(st.sampled_from([0.0, 1.0, 37.5])) + length * width / 1e6,
        on_hand=None if number == 0 else draw(limits),
        kind=kind,
        defects=tuple(defects),
    )


@st.composite
def _defects(draw: st.DrawFn, length: int, width: int) -> Defect:
    along, across = draw(st.integers(1, 150)), draw(st.integers(1, 150))
    x, y = draw(st.integers(0, length - along)), draw(st.integers(0, width - across))
    return Defect(x=x, y=y, length=along, width=across)


def _largest_places(stocks: tuple[Stock, ...], rules: SheetRules) -> list[tuple[int, int]]:
    """The sides of the largest part that each stock could hold, small or not."""
    problem = problem_of(Instance(pieces=(), stocks=stocks, rules=rules))
    rim = rules.rim.distance if rules.rim else 0
    places = []
    for room in problem.rooms:
        inner = [_sides(free, rules.gap, rim, room.length, room.width) for free in room.free]
        places.append(max(inner, key=lambda sides: min(sides) * max(sides), default=(0, 0)))
        assume(min(places[-1]) > 0)
    return places


def _sides(free: Rectangle, gap: int, rim: int, length: int, width: int) -> tuple[int, int]:
    along = min(free.x + free.length, length - rim) - max(free.x, rim) - gap
    across = min(free.y + free.width, width - rim) - max(free.y, rim) - gap
    return max(along, 0), max(across, 0)


def _piece(draw: st.DrawFn, name: str, room: tuple[int, int], most_copies: int) -> Piece:
    length, width = draw(st.integers(1, room[0])), draw(st.integers(1, room[1]))
    turn = draw(st.sampled_from(Turn))
    if turn is Turn.QUARTER and draw(st.booleans()):
        length, width = width, length
    return Piece(
        id=name,
        length=length,
        width=width,
        quantity=draw(st.integers(1, most_copies)),
        turn=turn,
        group=draw(st.sampled_from(["", "room 1", "room 2"])),
        priority=draw(st.integers(0, 2)),
    )


def assert_exact(instance: Instance, solution: Solution) -> None:
    """Check an answer in whole numbers only, without shapely; saw cuts are not looked at."""
    pieces = {piece.id: piece for piece in instance.pieces}
    stocks = {stock.id: stock for stock in instance.stocks}
    placed = dict.fromkeys(pieces, 0)
    for layout in solution.layouts:
        assert layout.runs >= 1
        boxes = [_box(pieces[place.piece], place) for place in layout.placements]
        assert_inside(stocks[layout.stock], instance.rules, boxes)
        for one, other in combinations(boxes, 2):
            assert _apart(one, other) >= instance.rules.gap
        for place in layout.placements:
            placed[place.piece] += layout.runs
            assert not (place.turned and pieces[place.piece].turn is Turn.FIXED)
    assert placed == {piece.id: piece.quantity for piece in instance.pieces}
    for stock in instance.stocks:
        assert stock.on_hand is None or solution.sheets_of(stock.id) <= stock.on_hand


Box = tuple[int, int, int, int]


def assert_inside(stock: Stock, rules: SheetRules, boxes: list[Box]) -> None:
    trim, rim = rules.trim, rules.rim
    for left, bottom, right, top in boxes:
        small = rim is not None and max(right - left, top - bottom) <= rim.longest_side
        more = rim.distance if rim is not None and small else 0
        assert trim.left + more <= left < right <= stock.length - trim.right - more
        assert trim.bottom + more <= bottom < top <= stock.width - trim.top - more
        for hole in stock.defects:
            spoiled = (hole.x, hole.y, hole.x + hole.length, hole.y + hole.width)
            assert _apart((left, bottom, right, top), spoiled) >= rules.gap


def _box(piece: Piece, place: Placement) -> Box:
    sides = (piece.width, piece.length) if place.turned else (piece.length, piece.width)
    return place.x, place.y, place.x + sides[0], place.y + sides[1]


def _apart(one: Box, other: Box) -> int:
    along = max(one[0] - other[2], other[0] - one[2])
    across = max(one[1] - other[3], other[1] - one[3])
    return max(along, across)


def one_sheet(stock: str, *placements: Placement, runs: int = 1) -> Layout:
    return Layout(stock=stock, placements=placements, runs=runs)


def answer_of(
    instance: Instance,
    *layouts: Layout,
    lower_bound: int = 0,
    price: float | None = None,
    price_bound: float = 0.0,
) -> Solution:
    """The layouts as an answer, with the price of its sheets unless another is given."""
    return Solution(
        layouts=layouts,
        lower_bound=lower_bound,
        bound_kind=BoundKind.AREA,
        price=price_of(instance.stocks, layouts) if price is None else price,
        price_bound=price_bound,
        price_bound_kind=BoundKind.AREA,
        stop=StopReason.WORK,
        seed=1,
    )
