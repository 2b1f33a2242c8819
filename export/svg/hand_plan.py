"""The plan of a hand: a small picture of where the corner is that a set is counted from.

It is a sign, not a drawing to scale: the head wall at the top, the viewer facing it.
"""

from __future__ import annotations

from collections.abc import Sequence

from export.svg.elements import closed_path_data, open_path_data, svg_document, text_element
from parametric.geometry.hand import Hand
from parametric.geometry.outline import Bounds, Outline, PlaneMotion, Vertex

HAND_IN_WORDS = (
    "A set is right hand when, facing the head wall from inside the room, its corner with the side"
    " wall is at the right; it is left hand when the corner is at the left. Units count from there."
)

_WIDTH, _HEIGHT = 132.0, 118.0
_FLOOR = 14.0  # room under the pictures for the caption


_CORNER = (122.0, 110.0)  # of what stands there, in a right hand
_ROOM = (114.0, 72.0)  # for it, along the head wall and out from it
_USUAL = (
    Bounds(0.0, 0.0, 38.0, 60.0),
    Bounds(38.0, 0.0, 66.0, 24.0),
    Bounds(66.0, 0.0, 114.0, 72.0),
)
_TEXT = 6.0


def hand_plan_svg(hand: Hand, stands: Sequence[Bounds] = _USUAL, *, small: bool = False) -> str:
    """Return the plan of a hand as SVG: walls thick, units numbered from the corner outwards, an
    arrow where one looks from. `stands` is what the units of a set cover, x from the side wall, y
    from the head wall, in any measure; without them the plan has some. A `small` one has no texts,
    which nobody could read.
    """
    scale = min(
        _ROOM[0] / max(each.x1 for each in stands), _ROOM[1] / max(each.y1 for each in stands)
    )
    blocks = [
        Bounds(
            _CORNER[0] - each.x1 * scale,
            _CORNER[1] - each.y1 * scale,
            _CORNER[0] - each.x0 * scale,
            _CORNER[1] - each.y0 * scale,
        )
        for each in stands
    ]
    corner = [(4.0, 112.0), (124.0, 112.0), (124.0, min(44.0, *(block.y0 for block in blocks)))]
    walls = [[(_x(x, hand), y) for x, y in corner]]
    body = [
        f'<path d="{open_path_data(walls)}" fill="none" stroke="#111" stroke-width="4"/>',
        *(
            _block(block, "" if small else str(number), hand)
            for number, block in enumerate(blocks, start=1)
        ),
        _viewer(hand),
    ]
    if not small:
        body.append(text_element(f"{hand} hand", _WIDTH / 2, 5.0, 6.5, anchor="middle"))
    title = f"plan of the {hand} hand: the corner at the {hand}"
    return svg_document((0.0, 0.0, _WIDTH, _HEIGHT), title, body)


def _block(block: Bounds, name: str, hand: Hand) -> str:
    low, high = sorted((_x(block.x0, hand), _x(block.x1, hand)))
    outline = Outline.rectangle(high - low, block.y1 - block.y0)
    outline = outline.moved(PlaneMotion(0, False, low, block.y0))
    middle = (low + high) / 2
    level = (block.y0 + block.y1) / 2
    size = min(_TEXT, 0.8 * (high - low), 0.8 * (block.y1 - block.y0))
    shown = text_element(name, middle, level - size / 2, size, anchor="middle") if name else ""
    return (
        f'<path d="{closed_path_data(outline.vertices)}" fill="#e4e4e4" stroke="#111"'
        f' stroke-width="1"/>{shown}'
    )


def _viewer(hand: Hand) -> str:
    """Return an arrow that points at the head wall."""
    x, y = _x(32.0, hand), _FLOOR + 4.0
    shape = ((-2, 0), (2, 0), (2, 9), (6, 9), (0, 17), (-6, 9), (-2, 9))
    vertices = tuple(Vertex(x + dx, y + dy) for dx, dy in shape)
    return f'<path d="{closed_path_data(vertices)}" fill="#111"/>'


def _x(x: float, hand: Hand) -> float:
    return x if hand is Hand.RIGHT else _WIDTH - x
