"""Right answers that nobody would cut: parts lie scattered, so that there is much to be done."""

from hypothesis import strategies as st

from nesting.answer.solution import Layout, Placement, Solution
from nesting.question.instance import Instance
from nesting.question.maximal_rectangles import Rectangle, maximal_rectangles
from nesting.question.problem import Kind, Problem, Room, problem_of
from nesting.question.sheet_rules import EdgeToEdge
from tests.nesting.random_nests import NO_SAW, answer_of, instances

Nest = tuple[Instance, Solution]


@st.composite
def loose_nests(draw: st.DrawFn, *, saws: st.SearchStrategy[EdgeToEdge | None] = NO_SAW) -> Nest:
    """A question and an answer; on a saw every sheet is one strip, or a single part."""
    instance = draw(instances(most_kinds=5, most_copies=4, saws=saws))
    problem = problem_of(instance)
    left = [kind for kind, n in zip(problem.kinds, problem.demand, strict=True) for _ in range(n)]
    layouts = []
    while left:
        layout, left = _sheet(draw, instance, problem, left)
        layouts.append(layout)
    return instance, answer_of(instance, *layouts)


def _sheet(
    draw: st.DrawFn, instance: Instance, problem: Problem, kinds: list[Kind]
) -> tuple[Layout, list[Kind]]:
    room, trim = problem.rooms[0], instance.rules.trim
    taken: list[Rectangle] = []
    placed, left = [], []
    for kind in kinds:
        spot = _spot(draw, instance, room, kind, taken)
        if spot is None:
            left.append(kind)
            continue
        box, turned = spot
        taken.append(box)
        x, y = trim.left + box.x, trim.bottom + box.y
        name = instance.pieces[kind.index].id
        placed.append(Placement(piece=name, x=x, y=y, turned=turned))
    stock = instance.stocks[room.index].id
    return Layout(stock=stock, placements=tuple(placed), runs=1), left


def _spot(
    draw: st.DrawFn, instance: Instance, room: Room, kind: Kind, taken: list[Rectangle]
) -> tuple[Rectangle, bool] | None:
    if instance.rules.saw is not None and taken:
        beside = max(box.x + box.length for box in taken)
        taken = [*taken, Rectangle(0, 0, beside, room.width)]
    places = [
        (Rectangle(x0, y0, x1 - x0, y1 - y0), sides, turned)
        for free in _free(instance, room, taken)
        for sides, turned in _turns(kind)
        for x0, y0, x1, y1 in [_inside(free, room, kind.rim)]
        if sides[0] <= x1 - x0 and sides[1] <= y1 - y0
    ]
    if not places:
        return None
    free, (length, width), turned = draw(st.sampled_from(places))
    x = free.x + draw(st.integers(0, free.length - length))
    y = free.y + draw(st.integers(0, free.width - width))
    return Rectangle(x, y, length, width), turned


def _free(instance: Instance, room: Room, taken: list[Rectangle]) -> tuple[Rectangle, ...]:
    gap, trim = instance.rules.gap, instance.rules.trim
    flaws = [
        Rectangle(d.x - trim.left, d.y - trim.bottom, d.length + gap, d.width + gap)
        for d in instance.stocks[room.index].defects
    ]
    return maximal_rectangles(room.length, room.width, [*flaws, *taken])


def _turns(kind: Kind) -> list[tuple[tuple[int, int], bool]]:
    turns = [((kind.length, kind.width), False)]
    return [*turns, ((kind.width, kind.length), True)] if kind.turnable else turns


def _inside(free: Rectangle, room: Room, rim: int) -> tuple[int, int, int, int]:
    return (
        max(free.x, rim),
        max(free.y, rim),
        min(free.x + free.length, room.length - rim),
        min(free.y + free.width, room.width - rim),
    )
