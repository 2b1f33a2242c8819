"""Random sheets to fill by through cuts, and what must hold of a pattern."""

from collections.abc import Sequence
from dataclasses import dataclass

from hypothesis import strategies as st

from nesting.question.maximal_rectangles import Rectangle, maximal_rectangles
from nesting.question.problem import ItemType, Room
from nesting.search.pattern import Spot
from tests.nesting.edge_to_edge.through_cuts import Box, comes_apart

STAGES: tuple[int | None, ...] = (2, 3, 4, 5, None)


@dataclass(frozen=True, kw_only=True)
class Question:
    """One sheet to fill; the defects are told as well, since the room only tells what is clear."""

    room: Room
    item_types: list[ItemType]
    values: list[float]
    most: list[int]
    defects: list[Rectangle]


@st.composite
def questions(draw: st.DrawFn, *, most_item_types: int = 8, plain: bool = False) -> Question:
    """Draw a sheet of up to 60 x 60 with up to eight item types; plain: no rim and no defects."""
    length, width = draw(st.integers(5, 60)), draw(st.integers(5, 60))
    defects = [] if plain else draw(st.lists(_defects(length, width), max_size=2))
    rims = st.just(0) if plain else st.sampled_from([0, 0, 0, 1, 4])
    item_types = [
        ItemType(
            n, draw(st.integers(1, 40)), draw(st.integers(1, 40)), draw(st.booleans()), draw(rims)
        )
        for n in range(draw(st.integers(1, most_item_types)))
    ]
    free = maximal_rectangles(length, width, defects)
    return Question(
        room=Room(0, length, width, 1.0, 1, None, free),
        item_types=item_types,
        values=[float(draw(st.integers(0, 900))) for _ in item_types],
        most=[draw(st.integers(0, 6)) for _ in item_types],
        defects=defects,
    )


def boxes_of(item_types: Sequence[ItemType], spots: Sequence[Spot]) -> list[Box]:
    """Return the boxes of placed pieces."""
    return [
        (spot.x, spot.y, spot.x + along, spot.y + across)
        for spot in spots
        for along, across in [_sides(item_types[spot.item_type], spot.turned)]
    ]


def assert_sawn(question: Question, spots: Sequence[Spot], stages: int | None) -> None:
    """Check that pieces lie inside, apart, off rim and defects, and come apart in the stages."""
    room = question.room
    boxes = boxes_of(question.item_types, spots)
    for spot, box in zip(spots, boxes, strict=True):
        item_type = question.item_types[spot.item_type]
        assert item_type.turnable or not spot.turned
        assert box[0] >= item_type.rim and box[1] >= item_type.rim
        assert box[2] <= room.length - item_type.rim and box[3] <= room.width - item_type.rim
        for x, y, length, width in question.defects:
            assert _clear(box, (x, y, x + length, y + width))
    for n, box in enumerate(boxes):
        assert all(_clear(box, other) for other in boxes[:n])
    assert comes_apart(boxes, stages)


@st.composite
def _defects(draw: st.DrawFn, length: int, width: int) -> Rectangle:
    x, y = draw(st.integers(0, length - 1)), draw(st.integers(0, width - 1))
    return Rectangle(x, y, draw(st.integers(1, length - x)), draw(st.integers(1, width - y)))


def _sides(item_type: ItemType, turned: bool) -> tuple[int, int]:
    return (item_type.width, item_type.length) if turned else (item_type.length, item_type.width)


def _clear(one: Box, other: Box) -> bool:
    return one[0] >= other[2] or other[0] >= one[2] or one[1] >= other[3] or other[1] >= one[3]
