"""A part made again from its drawing alone: from the DXF file's dimensions and tables.

Reads the file with ezdxf and shares no code with the program. What is taken from where:

* **Every size** comes from a number that the drawing tells: places and overall sizes from the
  measured value of DIMENSION entities (group 42), radii and diameters likewise, holes, depths and
  corner radii from the texts of the tables. No length of any drawn line is used.
* **From drawn lines** comes only what is joined to what, and which way: in which order corners
  follow each other, whether an edge is an arc, to which side it bulges, by more than half or less,
  and which corner a dimension, a leader or a letter points at.

So a drawing may be drawn crooked (`squeezed` does that) and still give the same part.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

INCH_MM = 25.4
NEAR_MM = 1e-3
"""Drawn points nearer than that are one point."""
QUARTER = math.tan(math.pi / 8)

Point = tuple[float, float]
Loop = list[tuple[float, float, float]]
"""Corners with the bulge of the segment that starts there; see the DXF reference, LWPOLYLINE."""


@dataclass
class MadeAgain:
    """A part as a reader of its drawing would make it, upper face up."""

    length: float
    width: float
    thickness: float
    outline: Loop
    openings: list[Loop]
    pockets: list[tuple[str, float, list[Loop]]]  # face, depth, edges
    holes: list[tuple[float, float, float, float | None, str]]  # x, y, diameter, depth, face
    edge_holes: list[tuple[float, float, float, float, float, float]]


@dataclass
class DrawnView:
    """The drawn places of one view, and the values that dimensions tell of them."""

    corner: Point
    edge: Loop
    downwards: bool
    x_told: dict[float, float] = field(default_factory=dict)
    y_told: dict[float, float] = field(default_factory=dict)

    def x(self, drawn: float) -> float:
        return told(self.x_told, drawn)

    def y(self, drawn: float) -> float:
        return told(self.y_told, drawn)


class NotTold(AssertionError):
    """The drawing does not tell a size that it takes to make the part."""


def told(places: dict[float, float], drawn: float) -> float:
    for at, value in places.items():
        if abs(at - drawn) <= NEAR_MM:
            return value
    raise NotTold(f"no dimension tells {drawn}")


def measured(dimension: Any) -> float:
    """The value that programs read."""
    return float(dimension.dxf.actual_measurement)


def as_read(dimension: Any) -> float:
    """The value that people read."""
    return size_of(dimension.dxf.text.removeprefix("R").removeprefix("dia "))


def made_again(document: Any, value: Callable[[Any], float] = measured) -> MadeAgain:
    space = document.modelspace()
    dimensions = list(space.query("DIMENSION"))
    tables = read_tables(space)
    facts = dict(zip(*tables["part"].values(), strict=True))
    length, width = overall(dimensions, 0, value), overall(dimensions, 90, value)
    views = read_views(space, dimensions, (length, width), value)
    cuts = {row["cut"]: row for row in rows_of(tables.get("cut", {}))}
    front = views[0]
    sizes = Sizes({plane(d.dxf.defpoint4): value(d) for d in dimensions if d.dimtype in (3, 4)})
    letters, leaders = marks_of(space)
    openings, pockets = [], []
    drawn_openings = [l for l in loops(space, "DRAWING-OPENING") if inside_of(front.edge, l)]
    drawn_grooves = loops(space, "DRAWING-GROOVE")
    for mark, row in cuts.items():
        if row["what"] == "notch":
            continue
        (text,) = letters[mark]
        end = min(leaders, key=lambda leader: aim(leader, text))[0]
        corner = size_of(row["corner radius"]) if row["corner radius"] != "-" else None
        if row["what"] == "opening":
            (loop,) = [each for each in drawn_openings if holds(each, end)]
            openings.append(real_loop(loop, front, sizes, corner))
            continue
        view = next(each for each in views if holds(each.edge, end))
        holding = [each for each in drawn_grooves if holds(each, end)]
        outer = max(holding, key=lambda each: abs(area(each)))
        islands = [
            each
            for each in drawn_grooves
            if each is not outer and not holds(each, end) and inside_of(outer, each)
        ]
        edges = [real_loop(each, view, sizes, corner) for each in (outer, *islands)]
        pockets.append((row["face"], size_of(row["depth"]), edges))
    return MadeAgain(
        length=length,
        width=width,
        thickness=size_of(facts["thickness"]),
        outline=real_loop(front.edge, front, sizes, None),
        openings=openings,
        pockets=pockets,
        holes=[
            (
                *(size_of(row[head]) for head in ("x", "y", "diameter")),
                None if row["depth"] == "through" else size_of(row["depth"]),
                row["face"],
            )
            for row in rows_of(tables.get("hole", {}))
        ],
        edge_holes=[
            (
                *(size_of(row[head]) for head in ("x", "y", "above lower face")),
                *(size_of(row[head]) for head in ("diameter", "depth")),
                float(row["way in"].removesuffix("\N{DEGREE SIGN}")),
            )
            for row in rows_of(tables.get("edge hole", {}))
        ],
    )


@dataclass
class Sizes:
    """Radii and diameters by the point of the arc or circle that they point at."""

    told: dict[Point, float]

    def at(self, middle: Point) -> float:
        found = near(self.told, middle)
        if found is None:
            raise NotTold(f"no radius or diameter at {middle}")
        return found

    def has(self, middle: Point) -> bool:
        return near(self.told, middle) is not None


def arc_middle(a: tuple[float, float, float], b: tuple[float, float, float]) -> Point:
    """The middle of the arc that begins at `a`: off the chord's by half of it times the bulge."""
    (ax, ay, bulge), (bx, by, _) = a, b
    return (ax + bx) / 2 + bulge * (by - ay) / 2, (ay + by) / 2 - bulge * (bx - ax) / 2


def near(found: dict[Point, float], at: Point) -> float | None:
    best = min(found, key=lambda each: math.dist(each, at), default=None)
    return found[best] if best is not None and math.dist(best, at) <= NEAR_MM else None


def overall(dimensions: list[Any], angle: float, value: Callable[[Any], float]) -> float:
    """The overall size along (0) or across (90); where there is too little room for a line of its
    own it is the greatest of the distances from the corner.
    """
    found = [d for d in dimensions if d.dimtype == 0 and d.dxf.angle == angle]
    if not found:
        kind = 64 if angle == 0 else 0
        found = [d for d in dimensions if d.dimtype == 6 and d.dxf.dimtype & 64 == kind]
    return max(map(value, found))


def read_views(
    space: Any, dimensions: list[Any], size: Point, value: Callable[[Any], float]
) -> list[DrawnView]:
    """The view on the upper face first: its corner is below, in the other it is above."""
    length, width = size
    corners = [
        (c.dxf.center.x, c.dxf.center.y)
        for c in space.query("CIRCLE")
        if c.dxf.layer == "DRAWING-LETTER"
    ]
    views = []
    for edge in loops(space, "DRAWING-PART"):
        xs, ys = [v[0] for v in edge], [v[1] for v in edge]
        ends = itertools.product((min(xs), max(xs)), (min(ys), max(ys)))
        corner = next(c for end in ends for c in corners if math.dist(end, c) <= NEAR_MM)
        downwards = abs(corner[1] - max(ys)) <= NEAR_MM
        view = DrawnView(corner, edge, downwards)
        view.x_told = {min(xs): 0.0, max(xs): length}
        view.y_told = (
            {max(ys): 0.0, min(ys): width} if downwards else {min(ys): 0.0, max(ys): width}
        )
        for d in dimensions:
            if d.dimtype != 6 or math.dist(plane(d.dxf.defpoint), corner) > NEAR_MM:
                continue
            at = d.dxf.defpoint2
            if d.dxf.dimtype & 64:
                view.x_told[at.x] = value(d)
            else:
                view.y_told[at.y] = value(d)
        views.append(view)
    return sorted(views, key=lambda view: view.downwards)


def aim(leader: tuple[Point, Point], text: Point) -> float:
    """How far a leader is from leading to a text: from its end, and past its middle."""
    (ax, ay), (bx, by) = leader
    past = abs((bx - ax) * (text[1] - ay) - (by - ay) * (text[0] - ax))
    return past / math.dist(*leader) + math.dist(leader[1], text)


def plane(point: Any) -> Point:
    return point.x, point.y


def loops(space: Any, layer: str) -> list[Loop]:
    return [
        [tuple(map(float, point)) for point in each.get_points("xyb")]
        for each in space.query("LWPOLYLINE")
        if each.dxf.layer == layer
    ]


def marks_of(space: Any) -> tuple[dict[str, list[Point]], list[tuple[Point, Point]]]:
    letters: dict[str, list[Point]] = {}
    for text in space.query("TEXT"):
        if text.dxf.layer == "DRAWING-LETTER":
            at = text.dxf.align_point
            letters.setdefault(text.dxf.text, []).append((at.x, at.y))
    leaders = [
        ((line.dxf.start.x, line.dxf.start.y), (line.dxf.end.x, line.dxf.end.y))
        for line in space.query("LINE")
        if line.dxf.layer == "DRAWING-LETTER"
    ]
    return letters, leaders


def read_tables(space: Any) -> dict[str, dict[str, list[str]]]:
    """The tables by the head of their first column: each column's cells by its head."""
    columns: dict[float, list[tuple[float, list[str]]]] = {}
    for text in space.query("MTEXT"):
        if text.dxf.layer == "DRAWING-TABLE":
            at = text.dxf.insert
            lines = text.plain_text(split=True)
            columns.setdefault(round(at.y, 3), []).append((at.x, lines))
    tables = {}
    for listed in columns.values():
        ordered = [lines for _, lines in sorted(listed)]
        tables[ordered[0][0]] = {lines[0]: lines[1:] for lines in ordered}
    return tables


def rows_of(table: dict[str, list[str]]) -> list[dict[str, str]]:
    return [dict(zip(table, row, strict=True)) for row in zip(*table.values(), strict=True)]


def size_of(text: str) -> float:
    """Millimetres, or inches with their mark: 3.961", 15 29/32\"."""
    if not text.endswith('"'):
        return float(text)
    total = 0.0
    for piece in text.removesuffix('"').split():
        above, _, below = piece.partition("/")
        total += float(above) / float(below or 1)
    return total * INCH_MM


def real_loop(drawn: Loop, view: DrawnView, sizes: Sizes, corner: float | None) -> Loop:
    """The loop with every size from a dimension or, for its rounded corners, from its table row.

    In the view on the lower face y counts downwards from the corner, as in the panel's own frame
    seen through the board; an arc that is drawn to the left then bulges to the right.
    """
    sign = -1.0 if view.downwards else 1.0
    circle = circle_middle(drawn)
    if circle is not None:
        halves = [arc_middle(*drawn), arc_middle(*reversed(drawn))]
        across = sizes.at(next((half for half in halves if sizes.has(half)), halves[0]))
        x, y, r = view.x(circle[0]), view.y(circle[1]), across / 2
        return [(x - r, y, 1.0), (x + r, y, 1.0)]
    count = len(drawn)
    real: list[Point | None] = [None] * count
    bulges = [sign * vertex[2] for vertex in drawn]
    for i, (ax, ay, bulge) in enumerate(drawn):
        bx, by, _ = drawn[(i + 1) % count]
        if not bulge:
            continue
        at = rounded_corner(drawn, i)
        if at is None:
            continue
        radius = corner
        if radius is None:
            radius = sizes.at(arc_middle(drawn[i], drawn[(i + 1) % count]))
        x, y = view.x(at[0]), view.y(at[1])
        flip = -1.0 if view.downwards else 1.0
        for k, end in ((i, (ax, ay)), ((i + 1) % count, (bx, by))):
            dx, dy = towards(at, end)
            real[k] = (x + radius * dx, y + flip * radius * dy)
    for i, (ax, ay, _) in enumerate(drawn):
        if real[i] is None:
            real[i] = (view.x(ax), view.y(ay))
    points = [point for point in real if point is not None]
    for i, (_, _, bulge) in enumerate(drawn):
        if bulge and rounded_corner(drawn, i) is None:
            radius = sizes.at(arc_middle(drawn[i], drawn[(i + 1) % count]))
            chord = math.dist(points[i], points[(i + 1) % count])
            quarter = math.tan(math.asin(min(chord / 2 / radius, 1.0)) / 2)
            size = 1 / quarter if abs(bulge) > 1 + 1e-9 else quarter
            bulges[i] = math.copysign(size, bulges[i])
    return [(*point, bulge) for point, bulge in zip(points, bulges, strict=True)]


def rounded_corner(drawn: Loop, i: int) -> Point | None:
    """Where the level and the upright edge meet that a quarter of a circle rounds off; None for any
    other arc, and for one that is hollow.
    """
    count = len(drawn)
    (px, py, before), (ax, ay, bulge) = drawn[i - 1], drawn[i]
    (bx, by, after), (cx, cy, _) = drawn[(i + 1) % count], drawn[(i + 2) % count]
    if before or after or abs(abs(bulge) - QUARTER) > 1e-6:
        return None
    ways = (abs(py - ay) <= NEAR_MM, abs(by - cy) <= NEAR_MM)
    uprights = (abs(px - ax) <= NEAR_MM, abs(bx - cx) <= NEAR_MM)
    if ways[0] and uprights[1]:
        corner = (bx, ay)
    elif uprights[0] and ways[1]:
        corner = (ax, by)
    else:
        return None
    # Left of the way it bulges to the right of its chord: the corner lies on that side.
    turn = (bx - ax) * (corner[1] - ay) - (by - ay) * (corner[0] - ax)
    return corner if turn * bulge < 0 else None


def towards(start: Point, end: Point) -> Point:
    """The unit vector along an axis from a corner to the end of its arc."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    if abs(dx) > abs(dy):
        return math.copysign(1.0, dx), 0.0
    return 0.0, math.copysign(1.0, dy)


def circle_middle(drawn: Loop) -> Point | None:
    """The middle of a full circle, which is drawn as two half ones."""
    if len(drawn) == 2 and all(abs(abs(bulge) - 1.0) <= 1e-9 for *_, bulge in drawn):
        (ax, ay, _), (bx, by, _) = drawn
        return (ax + bx) / 2, (ay + by) / 2
    return None


def flat(loop: Iterable[tuple[float, float, float]], steps: int = 64) -> list[Point]:
    """Points of a loop, arcs in steps."""
    vertices = list(loop)
    points: list[Point] = []
    for (ax, ay, bulge), (bx, by, _) in itertools.pairwise([*vertices, vertices[0]]):
        points.append((ax, ay))
        if not bulge:
            continue
        height = (1 - bulge * bulge) / (4 * bulge)
        x = (ax + bx) / 2 - (by - ay) * height
        y = (ay + by) / 2 + (bx - ax) * height
        start, sweep = math.atan2(ay - y, ax - x), 4 * math.atan(bulge)
        r = math.dist((x, y), (ax, ay))
        for step in range(1, steps):
            angle = start + sweep * step / steps
            points.append((x + r * math.cos(angle), y + r * math.sin(angle)))
    return points


def area(loop: Loop) -> float:
    points = flat(loop)
    pairs = itertools.pairwise([*points, points[0]])
    return math.fsum(ax * by - bx * ay for (ax, ay), (bx, by) in pairs) / 2


def holds(loop: Loop, at: Point) -> bool:
    """Whether a point lies inside (even-odd rule)."""
    x, y = at
    points, inside = flat(loop, 16), False
    for (ax, ay), (bx, by) in itertools.pairwise([*points, points[0]]):
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            inside = not inside
    return inside


def inside_of(outer: Loop, inner: Loop) -> bool:
    box = [(min(c), max(c)) for c in zip(*flat(outer), strict=True)]
    other = [(min(c), max(c)) for c in zip(*flat(inner), strict=True)]
    return all(
        a[0] - NEAR_MM <= b[0] and b[1] <= a[1] + NEAR_MM for a, b in zip(box, other, strict=True)
    )


def squeezed(
    document: Any, x_way: Callable[[float], float], y_way: Callable[[float], float]
) -> None:
    """Draw all lines and all that points at them crooked, the told numbers left as they are.

    `x_way` and `y_way` must rise; they are what becomes of drawn coordinates.
    """

    def at(point: Any) -> tuple[float, float]:
        return x_way(point[0]), y_way(point[1])

    arcs = []
    for each in document.modelspace().query("LWPOLYLINE"):
        points = each.get_points("xyb")
        moved = [(*at(p), p[2]) for p in points]
        circle = circle_middle(points)
        if circle is not None:  # a circle stays one, about the new place of its middle
            away = [new - old for new, old in zip(at(circle), circle, strict=True)]
            moved = [(p[0] + away[0], p[1] + away[1], p[2]) for p in points]
        pairs = itertools.pairwise([*zip(points, moved, strict=True), (points[0], moved[0])])
        arcs += [(arc_middle(a, b), arc_middle(c, d)) for (a, c), (b, d) in pairs if a[2]]
        each.set_points(moved, format="xyb")
    for d in document.modelspace().query("DIMENSION"):
        if d.dimtype in (3, 4):
            point = plane(d.dxf.defpoint4)
            d.dxf.defpoint4 = min((math.dist(one, point), other) for one, other in arcs)[1]
            continue
        for name in ("defpoint", "defpoint2", "defpoint3"):
            setattr(d.dxf, name, at(getattr(d.dxf, name)))
    for text in document.modelspace().query("TEXT"):
        if text.dxf.hasattr("align_point"):
            text.dxf.align_point = at(text.dxf.align_point)
    for line in document.modelspace().query("LINE"):
        line.dxf.start, line.dxf.end = at(line.dxf.start), at(line.dxf.end)
    for circle in document.modelspace().query("CIRCLE"):
        circle.dxf.center = at(circle.dxf.center)
