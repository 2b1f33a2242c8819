"""A view drawn on its page: edges, dimensions, letters."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import product

from export.dimensions.content import (
    CAPITAL_MM,
    CHARACTER_MM,
    Arrow,
    Dimension,
    Line,
    Reading,
    Text,
    text_size,
)
from export.dimensions.free_space import FreeSpace, grown
from export.dimensions.on_page import OnPage
from export.dimensions.overall import overall
from export.dimensions.running import Side, reach_mm, running_dimensions
from export.edge_names import EDGE_NUMBERS, edge_name
from export.part_drawing.callouts import cut_mark, letter, notch_mark, radius_dimension
from export.part_drawing.content import Edge, Mark, Round, View
from export.part_drawing.frame import Placed
from export.part_drawing.inner_point import inner_point
from export.part_drawing.needed import Arc
from export.part_drawing.plan import TITLES, ViewPlan
from export.part_drawing.seen import Seen, flattened
from export.svg.elements import Point2
from parametric.geometry.outline import Bounds, Outline
from parametric.geometry.space import SAME_MM
from parametric.shapes.panel import Edge as PanelEdge
from parametric.shapes.panel import Face

_CROSS_MM = 0.9  # the least arm of the cross at a hole
_BAND_MM = 0.6  # how far outside the edge a band is drawn
_GRAIN_MM = 18.0
_EDGE_NAME_MM = 0.9  # from an edge to its name
_SHARES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.12, 0.88)  # along a side, where a sign may stand


def drawn_view(placed: Placed, space: FreeSpace, *, grained: bool) -> View:
    """Return a view in its place; what it covers is taken out of the free space.

    Raises:
        NoRoom: the page has none left for what must be told.
    """
    frame = placed.frame
    plan, panel = frame.plan, frame.plan.seen.panel
    scale = 1.0 / frame.scale
    page = OnPage(scale, placed.x + frame.reach[Side.LEFT], placed.y + frame.reach[Side.BELOW])
    box = Bounds(*page.at((0.0, 0.0)), *page.at((panel.length_mm, panel.width_mm)))
    edges = tuple(Edge(kind, page.outline(outline)) for kind, outline in plan.edges)
    holes = tuple(_holes(plan, page))
    bands = tuple(_bands(plan, page))
    crosses = [line for hole in holes for line in _cross(hole)]
    sideways = list(_edge_bores(plan, page))
    for line in (*(flattened(edge.outline) for edge in edges), *bands, *crosses, *sideways):
        space.draw(line)
    for hole in holes:
        space.draw(flattened(Outline.circle(*hole.middle, 2 * hole.radius_mm)))
    title = _title(plan, box, frame.reach[Side.ABOVE])
    corner = page.at(plan.seen.corner)
    zero = _zero(plan.seen, corner)
    dimensions = _at_the_sides(placed, box, page, corner)
    for text in (title, zero.text, *(each.text for each in dimensions)):
        space.write(text.box)
    for line in (line for each in dimensions for line in each.lines):
        space.draw(line)
    for arrow in (arrow for each in dimensions for arrow in each.arrows):
        space.draw(arrow.head)
    middle = ((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2)
    for size in plan.rounds:
        arc = Arc(page.at(size.arc.centre), page.at(size.arc.middle), size.arc.radius_mm * scale)
        dimensions.append(radius_dimension(arc, size, middle, space))
    marks = [
        zero,
        *_cut_marks(plan, page, space),
        *_edge_names(plan.seen, box, space),
        *_letters(plan, page, space),
    ]
    arrows = _grain(box, space) if grained else ()
    shaft = ((arrows[0].tip, arrows[1].tip),) if arrows else ()
    return View(
        face=plan.seen.face,
        title=title,
        corner=corner,
        edges=edges,
        holes=holes,
        dimensions=tuple(dimensions),
        marks=tuple(marks),
        strokes=(*crosses, *sideways, *shaft),
        bands=bands,
        arrows=arrows,
    )


def _title(plan: ViewPlan, box: Bounds, above_mm: float) -> Text:
    title = TITLES[plan.seen.face]
    return Text(title, (box.x0 + text_size(title)[0] / 2, box.y1 + above_mm + CAPITAL_MM / 2))


def _zero(seen: Seen, corner: Point2) -> Mark:
    """Return the 0 at the corner that all is measured from, outside of the part."""
    down = 1.0 if seen.corner[1] == 0.0 else -1.0
    x, y = corner
    return Mark(Text("0", (x - CHARACTER_MM / 2 - 0.9, y - down * (CAPITAL_MM / 2 + 0.9))))


def _at_the_sides(placed: Placed, box: Bounds, page: OnPage, corner: Point2) -> list[Dimension]:
    frame = placed.frame
    dimensions = [
        dimension
        for side, listed in frame.sides.items()
        for dimension in running_dimensions(listed, side, box, page, corner)
    ]
    panel = frame.plan.seen.panel
    for side, text in frame.written.items():
        value = panel.length_mm if side is Side.BELOW else panel.width_mm
        dimensions.append(overall(value, text, side, box, reach_mm(frame.sides[side])))
    return dimensions


def _holes(plan: ViewPlan, page: OnPage) -> Iterator[Round]:
    for hole in (*plan.holes, *plan.through):
        bore = hole.bore
        yield Round(page.at(plan.seen.own_point(bore.x, bore.y)), bore.diameter_mm / 2 * page.scale)


def _cross(hole: Round) -> tuple[Line, Line]:
    x, y = hole.middle
    arm = max(_CROSS_MM, hole.radius_mm + 0.5)
    return ((x - arm, y), (x + arm, y)), ((x, y - arm), (x, y + arm))


def _cut_marks(plan: ViewPlan, page: OnPage, space: FreeSpace) -> Iterator[Mark]:
    for cut in plan.cuts:
        if not cut.edges:
            low_x, low_y, high_x, high_y = plan.seen.own_bounds(cut.within)
            within = Bounds(*page.at((low_x, low_y)), *page.at((high_x, high_y)))
            notch = notch_mark(cut.mark, within, space)
            if notch is not None:
                yield notch
            continue
        lines = [flattened(page.outline(plan.seen.own(edge))) for edge in cut.edges]
        yield cut_mark(cut.mark, inner_point(lines), space)


def _letters(plan: ViewPlan, page: OnPage, space: FreeSpace) -> Iterator[Mark]:
    for hole in plan.holes:
        bore = hole.bore
        middle = page.at(plan.seen.own_point(bore.x, bore.y))
        made = letter(hole.letter, middle, bore.diameter_mm / 2 * page.scale, space)
        if made is not None:
            yield made

    for mark, edge_bore in plan.edge_bores:
        mouth = page.at(plan.seen.own_point(edge_bore.x, edge_bore.y))
        made = letter(mark, mouth, edge_bore.diameter_mm / 2 * page.scale, space)
        if made is not None:
            yield made


def _edge_bores(plan: ViewPlan, page: OnPage) -> Iterator[Line]:
    """Yield the two sides and the end of each hole into an edge, as if the board were glass."""
    for _, bore in plan.edge_bores:
        dx, dy = bore.direction_x, bore.direction_y
        half, end = bore.diameter_mm / 2, bore.depth_mm
        corners = [
            (bore.x + dx * deep - dy * side, bore.y + dy * deep + dx * side)
            for deep, side in ((0.0, half), (end, half), (end, -half), (0.0, -half))
        ]
        yield tuple(page.at(plan.seen.own_point(*corner)) for corner in corners)


def _bands(plan: ViewPlan, page: OnPage) -> Iterator[Line]:
    """Yield a line along each straight piece of a banded edge, just outside it."""
    seen = plan.seen
    panel = seen.panel
    turned = seen.corner[1] != 0.0
    for edge in plan.bands:
        level = edge in (PanelEdge.Y_LOW, PanelEdge.Y_HIGH)
        far = edge in (PanelEdge.X_HIGH, PanelEdge.Y_HIGH)
        if level and turned:
            far = not far
        axis = 1 if level else 0
        at = (panel.length_mm, panel.width_mm)[axis] if far else 0.0
        out = _BAND_MM if far else -_BAND_MM
        for a, b in panel.outline.segments():
            if not a.bulge and abs(a[axis] - at) <= SAME_MM and abs(b[axis] - at) <= SAME_MM:
                ends = [page.at((v.x, v.y)) for v in (a, b)]
                yield tuple((x, y + out) if level else (x + out, y) for x, y in ends)


def _edge_names(seen: Seen, box: Bounds, space: FreeSpace) -> Iterator[Mark]:
    """Yield what each edge is called, along that edge where there is room, rather inside."""
    off_mm = _EDGE_NAME_MM + CAPITAL_MM / 2
    for edge in EDGE_NUMBERS:
        upright = edge in (PanelEdge.X_LOW, PanelEdge.X_HIGH)
        high = edge in (PanelEdge.X_HIGH, PanelEdge.Y_HIGH)
        if not upright and seen.face is Face.DOWN:
            high = not high
        start, end = (box.y0, box.y1) if upright else (box.x0, box.x1)
        low, far = (box.x0, box.x1) if upright else (box.y0, box.y1)
        edge_at, inwards = (far, -off_mm) if high else (low, off_mm)
        for by_mm, share in product((inwards, -inwards), _SHARES):
            along = start + share * (end - start)
            middle = (edge_at + by_mm, along) if upright else (along, edge_at + by_mm)
            text = Text(edge_name(edge), middle, Reading.UPRIGHT if upright else Reading.LEVEL)
            if space.has_room(grown(text.box, _EDGE_NAME_MM / 2)):
                space.write(text.box)
                yield Mark(text)
                break


def _grain(box: Bounds, space: FreeSpace) -> tuple[Arrow, ...]:
    """Return the two heads of an arrow along the grain where the view has room for it, or none."""
    half = min(_GRAIN_MM, (box.x1 - box.x0) * 0.6) / 2
    for across, up in sorted(product(_SHARES, _SHARES), key=lambda at: math.dist(at, (0.5, 0.5))):
        x, y = box.x0 + across * (box.x1 - box.x0), box.y0 + up * (box.y1 - box.y0)
        if space.has_room(Bounds(x - half - 1.0, y - 1.5, x + half + 1.0, y + 1.5)):
            ends = ((x - half, y), (x + half, y))
            space.draw(ends)
            return Arrow(ends[0], (-1.0, 0.0)), Arrow(ends[1], (1.0, 0.0))
    return ()
