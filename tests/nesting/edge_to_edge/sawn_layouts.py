"""Random layouts that were made by cutting a sheet up, with waste anywhere."""

from hypothesis import strategies as st

from nesting.answer.solution import Layout, Placement
from nesting.question.instance import Defect, Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import EdgeToEdge, SheetRules, Trim

Rectangle = tuple[int, int, int, int]


@st.composite
def sawn_layouts(draw: st.DrawFn) -> tuple[Instance, Layout]:
    """Draw a question with one layout that through cuts free, in any number of stages."""
    kerf = draw(st.integers(0, 4))
    trim = Trim(**{edge: draw(st.integers(0, 6)) for edge in ("left", "right", "bottom", "top")})
    length, width = draw(st.integers(15, 120)), draw(st.integers(15, 120))
    room = (trim.left, trim.bottom, length - trim.along, width - trim.across)
    leaves = _cut_up(draw, room, kerf, 0)
    pieces, placements = [], []
    for n, (x, y, along, across) in enumerate(leaves):
        turned = draw(st.booleans())
        sides = (across, along) if turned else (along, across)
        pieces.append(
            Piece(id=f"P{n}", length=sides[0], width=sides[1], quantity=1, turn=Turn.QUARTER)
        )
        placements.append(Placement(piece=f"P{n}", x=x, y=y, turned=turned))
    stock = Stock(
        id="S",
        length=length,
        width=width,
        price=1.0,
        on_hand=None,
        defects=tuple(draw(st.lists(_defects(length, width), max_size=1))),
    )
    rules = SheetRules(trim=trim, gap=kerf, saw=EdgeToEdge(stages=None))
    instance = Instance(pieces=tuple(pieces), stocks=(stock,), rules=rules)
    return instance, Layout(stock="S", placements=tuple(draw(st.permutations(placements))), runs=1)


def _cut_up(draw: st.DrawFn, board: Rectangle, kerf: int, depth: int) -> list[Rectangle]:
    """Return the pieces of a board: none, one with waste around it, or those of two halves."""
    x, y, length, width = board
    axis = draw(st.integers(0, 1))
    side = board[2 + axis]
    what = draw(st.sampled_from(("split",) * 4 + ("piece", "waste"))) if depth < 4 else "piece"
    if what == "split" and side >= kerf + 2:
        low = draw(st.integers(1, side - kerf - 1))
        start = low + kerf
        if axis == 0:
            halves = (x, y, low, width), (x + start, y, length - start, width)
        else:
            halves = (x, y, length, low), (x, y + start, length, width - start)
        return [leaf for half in halves for leaf in _cut_up(draw, half, kerf, depth + 1)]
    if what == "waste":
        return []
    dx = draw(st.one_of(st.just(0), st.integers(0, length - 1)))
    dy = draw(st.one_of(st.just(0), st.integers(0, width - 1)))
    along = draw(st.one_of(st.just(length - dx), st.integers(1, length - dx)))
    across = draw(st.one_of(st.just(width - dy), st.integers(1, width - dy)))
    return [(x + dx, y + dy, along, across)]


@st.composite
def _defects(draw: st.DrawFn, length: int, width: int) -> Defect:
    x, y = draw(st.integers(0, length - 1)), draw(st.integers(0, width - 1))
    return Defect(x=x, y=y, length=draw(st.integers(1, length - x)), width=1)
