"""Right answers that nobody would cut: parts lie scattered, so that there is much to be done."""

from hypothesis import strategies as st

from nesting.answer.solution import Layout, Placement, Solution
from nesting.question.instance import Instance
from nesting.question.maximal_rectangles import Rectangle, maximal_rectangles
from nesting.question.problem import ItemType, Problem, Room, problem_of
from nesting.question.sheet_rules import EdgeToEdge
from tests.nesting.random_nests import NO_SAW, answer_of, instances

Nest = tuple[Instance, Solution]


@st.composite
def loose_nests(draw: st.DrawFn, *, saws: st.SearchStrategy[EdgeToEdge | None] = NO_SAW) -> Nest:
    """A question and an answer; on a saw every sheet is one strip, or a single part."""
    instance = draw(instances(most_item_types=5, most_copies=4, saws=saws))
    problem = problem_of(instance)
    left = [
        item_type
        for item_type, n in zip(problem.item_types, problem.demand, strict=True)
        for _ in range(n)
    ]
    layouts = []
    while left:
        layout, left = _sheet(draw, instance, problem, left)
        layouts.append(layout)
    return instance, answer_of(instance, *layouts)


def _sheet(
    draw: st.DrawFn, instance: Instance, problem: Problem, item_types: list[ItemType]
) -> tuple[Layout, list[ItemType]]:
    room, trim = problem.rooms[0], instance.rules.trim
    taken: list[Rectangle] = []
    placed, left = [], []
    for item_type in item_types:
        spot = _spot(draw, instance, room, item_type, taken)
        if spot is None:
            left.append(item_type)
            continue
        box, turned = spot
        taken.append(box)
        x, y = trim.left + box.x, trim.bottom + box.y
        name = instance.pieces[item_type.index].id
        placed.append(Placement(piece=name, x=x, y=y, turned=turned))
    stock = instance.stocks[room.index].id
    return Layout(stock=stock, placements=tuple(placed), runs=1), left


def _spot(
    draw: st.DrawFn, instance: Instance, room: Room, item_type: ItemType, taken: list[Rectangle]
) -> tuple[Rectangle, bool] | None:
    if instance.rules.saw is not None and taken:
        beside = max(box.x + box.length for box in taken)
        taken = [*taken, Rectangle(0, 0, beside, room.width)]
    places = [
        (Rectangle(x0, y0, x1 - x0, y1 - y0), sides, turned)
        for free in _free(instance, room, taken)
        for sides, turned in _turns(item_type)
        for x0, y0, x1, y1 in [_inside(free, room, item_type.rim)]
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


def _turns(item_type: ItemType) -> list[tuple[tuple[int, int], bool]]:
    turns = [((item_type.length, item_type.width), False)]
    return [*turns, ((item_type.width, item_type.length), True)] if item_type.turnable else turns


def _inside(free: Rectangle, room: Room, rim: int) -> tuple[int, int, int, int]:
    return (
        max(free.x, rim),
        max(free.y, rim),
        min(free.x + free.length, room.length - rim),
        min(free.y + free.width, room.width - rim),
    )
