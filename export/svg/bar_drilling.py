"""A cleat or an angle with its holes, in millimetres of the page: what stands at a drill press.

The bar lies as its hole list says, its left end at the left: the face that is seen from above over
the one that is seen from in front, and beside them its section as seen from the left end. Every
distance runs from the left end, so that none adds up. Along and across have scales of their own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from export.svg.dimensions import CHARACTER_SHARE
from export.svg.elements import Point2, number, open_path_data, svg_document, text_element
from parametric.lists.bar_catalogue import FLAT_LEG, NARROW_FACE, WIDE_FACE
from parametric.lists.cut_list import BarHole, BarPart
from parametric.stock.lengths import Units, show_length

_CAPITAL_MM, _LINE_MM, _THIN_MM = 2.4, 0.35, 0.18
_SECTION_MM, _RIGHT_MM = 30.0, 26.0  # left of the bar, and right of it
_LEAST_MM, _MOST_MM = 8.0, 16.0  # height of a face as drawn
_GREATEST_SCALE = 0.5
_FIRST_LEVEL_MM, _LEVEL_MM, _BETWEEN_MM = 4.0, 3.6, 3.0
_LEAST_HOLE_MM = 1.3


@dataclass(frozen=True, slots=True)
class _View:
    """A face: the hole's rows on it, its height in the bar and on the page, from which side across
    is measured.
    """

    name: str
    holes: tuple[BarHole, ...]
    size_mm: float
    from_below: bool

    @property
    def high_mm(self) -> float:
        return min(max(self.size_mm * _GREATEST_SCALE, _LEAST_MM), _MOST_MM)

    def up_mm(self, across_mm: float) -> float:
        """Return how far above the view's lower edge something lies on the page."""
        share = across_mm / self.size_mm
        return (share if self.from_below else 1 - share) * self.high_mm


def bar_drilling_svg(bar: BarPart, units: Units, width_mm: float) -> str:
    """Return the drawing of a bar with its holes.

    Raises:
        ValueError: the bar has no section.
    """
    if min(bar.section_mm) <= 0:
        raise ValueError(f"{bar.number} has no section")
    room = width_mm - _SECTION_MM - _RIGHT_MM
    scale = min(_GREATEST_SCALE, room / bar.length_mm)
    body: list[str] = []
    top = 0.0
    views = tuple(_views(bar))
    for view in views:
        body += _section(bar, view, top)
        drawn, below = _face(bar, view, _SECTION_MM, top, scale, units)
        body += drawn
        top = below - _BETWEEN_MM
    drawn, low = _whole_length(bar, _SECTION_MM, top + _BETWEEN_MM, scale, units)
    body += drawn
    box = (0.0, low - 1.0, width_mm, _CAPITAL_MM + 2.0)
    return svg_document(box, f"{bar.number}, holes", body)


def _views(bar: BarPart) -> Iterator[_View]:
    faces = {hole.face for hole in bar.holes}
    if FLAT_LEG in faces:
        yield _View(FLAT_LEG, _of(bar, FLAT_LEG), bar.section_mm[0], from_below=False)
        return
    thickness, width = bar.section_mm
    for name, size in ((WIDE_FACE, width), (NARROW_FACE, thickness)):
        if name in faces:
            yield _View(name, _of(bar, name), size, from_below=True)


def _of(bar: BarPart, face: str) -> tuple[BarHole, ...]:
    return tuple(hole for hole in bar.holes if hole.face == face)


def _face(
    bar: BarPart, view: _View, left: float, top: float, scale: float, units: Units
) -> tuple[list[str], float]:
    """Return a face with its distances below it, and how low these reach."""
    high, long = view.high_mm, bar.length_mm * scale
    low = top - high
    body = [_rectangle(left, low, long, high)]
    body.append(text_element(view.name, left, top + 0.8, _CAPITAL_MM))
    small = 0.8 * _CAPITAL_MM
    body.append(text_element("left end", left - 1.0, top - 1.2 - small, small, anchor="end"))
    rows: dict[float, float] = {}
    for hole in view.holes:
        x, y = left + hole.from_end_mm * scale, low + view.up_mm(hole.across_mm)
        radius = max(hole.diameter_mm * scale, _LEAST_HOLE_MM) / 2
        body.append(
            f'<circle cx="{number(x)}" cy="{number(-y)}" r="{number(radius)}" fill="#fff"'
            f' stroke="#111" stroke-width="{number(_LINE_MM)}" class="hole"/>'
        )
        cross = [((x - 1.6, y), (x + 1.6, y)), ((x, y - 1.6), (x, y + 1.6))]
        body.append(_lines(cross, _THIN_MM))
        rows[round(hole.across_mm, 3)] = y
    body += _across(view, rows, left + long, low, units)
    places = sorted({round(hole.from_end_mm, 6) for hole in view.holes})
    texts = [(left + at * scale, show_length(at, units)) for at in places]
    drawn, reached = _distances(texts, low)
    return body + drawn, reached


def _distances(places: Sequence[tuple[float, str]], low: float) -> tuple[list[str], float]:
    """Return what leads down from each place to its distance, each as high up as it has room."""
    ends: list[float] = []  # where the last text on each level ends
    lines: list[str] = []
    texts: list[str] = []  # over all lines, whose ends their rims cover
    reached = low
    for x, text in places:
        half = len(text) * CHARACTER_SHARE * _CAPITAL_MM / 2
        level = next((n for n, end in enumerate(ends) if x - half > end + 1.0), len(ends))
        if level == len(ends):
            ends.append(0.0)
        ends[level] = x + half
        y = low - _FIRST_LEVEL_MM - level * _LEVEL_MM
        lines.append(_lines([((x, low - 0.4), (x, y + _CAPITAL_MM * 0.1))], _THIN_MM))
        texts.append(text_element(text, x, y - _CAPITAL_MM, _CAPITAL_MM, anchor="middle"))
        reached = min(reached, y - _CAPITAL_MM)
    return lines + texts, reached - _CAPITAL_MM


def _across(
    view: _View, rows: dict[float, float], right: float, low: float, units: Units
) -> Iterator[str]:
    """Yield at the right end how far each row of holes is from the edge that is measured from."""
    edge = low if view.from_below else low + view.high_mm
    step, previous = _CAPITAL_MM + 1.0, None
    # From the edge outwards, so that texts give way to those nearer to it.
    for across, y in sorted(rows.items()):
        sign = 1.0 if view.from_below else -1.0
        at = y
        if previous is not None and (y - previous) * sign < step:
            at = previous + sign * step
        previous = at
        lines = [((right + 0.6, y), (right + 4.0, at)), ((right + 2.0, y), (right + 2.0, edge))]
        yield _lines([*lines, ((right + 0.6, edge), (right + 3.0, edge))], _THIN_MM)
        text = show_length(across, units)
        yield text_element(text, right + 5.0, at - _CAPITAL_MM / 2, _CAPITAL_MM)


def _section(bar: BarPart, view: _View, top: float) -> Iterator[str]:
    """Yield the end of the bar as seen from the left, where the drill comes from, and where the
    person stands.
    """
    high = view.high_mm
    if view.name == FLAT_LEG:
        leg, thickness = bar.section_mm
        side, thick = 11.0, max(11.0 * thickness / leg, 1.4)
        x, y = 3.0, top
        corners = [
            *((x, y), (x + side, y), (x + side, y - thick), (x + thick, y - thick)),
            *((x + thick, y - side), (x, y - side)),
        ]
        yield _outline(corners)
        yield text_element("heel", x, y + 0.8, _CAPITAL_MM * 0.8)
        yield text_element("you", x + side + 1.5, y - side, _CAPITAL_MM * 0.8)
        yield _arrow((x + side * 0.6, y + 3.0), (x + side * 0.6, y + 0.4))
        return
    thickness, width = bar.section_mm
    scale = min(12.0 / width, high / thickness)
    x, y = 3.0, top - high
    long, high = width * scale, thickness * scale
    yield _rectangle(x, y, long, high)
    if view.name == WIDE_FACE:
        yield _arrow((x + long / 2, y + high + 3.0), (x + long / 2, y + high + 0.4))
    else:
        yield _arrow((x + long + 3.0, y + high / 2), (x + long + 0.4, y + high / 2))
    yield text_element("you", x + long + 1.5, y - 2.8, _CAPITAL_MM * 0.8)


def _whole_length(
    bar: BarPart, left: float, top: float, scale: float, units: Units
) -> tuple[list[str], float]:
    """Return the line of the whole length, and how low it is."""
    y, right = top - 1.5, left + bar.length_mm * scale
    arrows = "".join(
        f"M{number(x)} {number(-y)}l{number(sign * 2.2)} -0.5l0 1Z"
        for x, sign in ((left, 1), (right, -1))
    )
    ends = [((x, y - 1.0), (x, y + 1.5)) for x in (left, right)]
    text = show_length(bar.length_mm, units)
    return [
        _lines([((left, y), (right, y)), *ends], _THIN_MM),
        f'<path d="{arrows}" fill="#111"/>',
        text_element(text, right + 5.0, y - _CAPITAL_MM / 2, _CAPITAL_MM),
    ], y - 2.0


def _lines(lines: Sequence[tuple[Point2, Point2]], width: float) -> str:
    return (
        f'<path d="{open_path_data(lines)}" fill="none" stroke="#111"'
        f' stroke-width="{number(width)}"/>'
    )


def _arrow(start: Point2, tip: Point2) -> str:
    """Return an arrow as long as it may be, upright or level."""
    (x0, y0), (x1, y1) = start, tip
    long = max(abs(x1 - x0), abs(y1 - y0))
    ux, uy = (x1 - x0) / long, (y1 - y0) / long
    back = (x1 - 1.4 * ux, y1 - 1.4 * uy)
    one = (back[0] - 0.6 * uy, back[1] + 0.6 * ux)
    other = (back[0] + 0.6 * uy, back[1] - 0.6 * ux)
    return (
        _lines([(start, back)], _LINE_MM)
        + f'<path d="{open_path_data([[tip, one, other]])}Z" fill="#111"/>'
    )


def _outline(corners: Sequence[Point2]) -> str:
    return (
        f'<path d="{open_path_data([[*corners, corners[0]]])}" fill="#ededed" stroke="#111"'
        f' stroke-width="{number(_LINE_MM)}"/>'
    )


def _rectangle(x: float, y: float, length: float, width: float) -> str:
    return _outline([(x, y), (x + length, y), (x + length, y + width), (x, y + width)])
