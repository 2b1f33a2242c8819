"""The plan of a hand: a small picture of where the corner is that a set is counted from.

It is a sign, not a drawing to scale: the head wall at the top, the viewer facing it.
"""

from __future__ import annotations

from dataclasses import dataclass

from export.svg.elements import closed_path_data, open_path_data, svg_document, text_element
from parametric.geometry.hand import Hand
from parametric.geometry.outline import Outline, PlaneMotion, Vertex

HAND_IN_WORDS = (
    "A set is right hand when, facing the head wall from inside the room, its corner with the side"
    " wall is at the right; it is left hand when the corner is at the left. Units count from there."
)

_WIDTH, _HEIGHT = 132.0, 118.0
_FLOOR = 14.0  # room under the pictures for the caption


@dataclass(frozen=True, slots=True)
class _Block:
    """A unit in the plan of a right hand, as a rectangle."""

    name: str
    x: float
    y: float
    length: float
    width: float


_BLOCKS = (
    _Block("3", 8.0, 38.0, 48.0, 72.0),
    _Block("2", 56.0, 86.0, 28.0, 24.0),
    _Block("1", 84.0, 50.0, 38.0, 60.0),
)


def hand_plan_svg(hand: Hand, *, small: bool = False) -> str:
    """Return the plan of a hand as SVG: walls thick, units numbered from the corner outwards, an
    arrow where one looks from. A `small` one has no texts, which nobody could read.
    """
    corner = [(4.0, 112.0), (124.0, 112.0), (124.0, 44.0)]
    walls = [[(_x(x, hand), y) for x, y in corner]]
    body = [
        f'<path d="{open_path_data(walls)}" fill="none" stroke="#111" stroke-width="4"/>',
        *(_block(block, hand, named=not small) for block in _BLOCKS),
        _viewer(hand),
    ]
    if not small:
        body.append(text_element(f"{hand} hand", _WIDTH / 2, 5.0, 6.5, anchor="middle"))
    title = f"plan of the {hand} hand: the corner at the {hand}"
    return svg_document((0.0, 0.0, _WIDTH, _HEIGHT), title, body)


def _block(block: _Block, hand: Hand, *, named: bool) -> str:
    low, high = sorted((_x(block.x, hand), _x(block.x + block.length, hand)))
    outline = Outline.rectangle(high - low, block.width).moved(PlaneMotion(0, False, low, block.y))
    middle = (low + high) / 2
    level = block.y + block.width / 2 - 3.0
    name = text_element(block.name, middle, level, 6.0, anchor="middle") if named else ""
    return (
        f'<path d="{closed_path_data(outline.vertices)}" fill="#e4e4e4" stroke="#111"'
        f' stroke-width="1"/>{name}'
    )


def _viewer(hand: Hand) -> str:
    """Return an arrow that points at the head wall."""
    x, y = _x(32.0, hand), _FLOOR + 4.0
    shape = ((-2, 0), (2, 0), (2, 9), (6, 9), (0, 17), (-6, 9), (-2, 9))
    vertices = tuple(Vertex(x + dx, y + dy) for dx, dy in shape)
    return f'<path d="{closed_path_data(vertices)}" fill="#111"/>'


def _x(x: float, hand: Hand) -> float:
    return x if hand is Hand.RIGHT else _WIDTH - x
