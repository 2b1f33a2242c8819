"""A view of a set with its sizes, drawn at a scale: what is where."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from shapely import box, unary_union

from export.dimensions.content import (
    CAPITAL_MM,
    CHARACTER_MM,
    Arrow,
    Dimension,
    Reading,
    Text,
    text_size,
)
from export.dimensions.free_space import FreeSpace
from export.dimensions.on_page import OnPage
from export.dimensions.overall import overall
from export.dimensions.running import Side, reach_mm, running_dimensions
from export.set_drawing.content import CutFace, Filled, Plane, SetView
from export.set_drawing.hatching import hatched, pieces
from export.set_drawing.sized import WALL_MM, SizedView, frame_at, sides_of, wall_side, wall_sides
from export.set_drawing.strokes import Stroke, Strokes
from export.svg.elements import Point2
from parametric.geometry.outline import Bounds

_HATCH_MM = {Filled.RISING: 1.6, Filled.FALLING: 1.6, Filled.STEEL: 0.6}
_WALL_HATCH_MM = 2.2
_ON_RIM_MM = 0.01
_MARK_MM, _LETTER_MM = 3.0, 1.6  # the ends of a plane: how long, and how far its letter is off
_TAILS = 16  # lengths of its arrows, a millimetre apart


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A view drawn at 1 : `scale`, in millimetres of its picture."""

    title: str
    scale: float
    size_mm: tuple[float, float]
    strokes: Strokes
    dimensions: tuple[Dimension, ...]
    arrows: tuple[Arrow, ...]
    texts: tuple[Text, ...]

    @property
    def all_texts(self) -> tuple[Text, ...]:
        """Its texts, those of dimensions included."""
        return (*self.texts, *(each.text for each in self.dimensions))


def measured(of: SizedView, scale: float) -> Measured:
    """Return a view with its sizes, as large as it is at 1 : `scale`."""
    view, frame = of.view, frame_at(of, scale)
    low = (view.box.x0 / scale, view.box.y0 / scale)
    page = OnPage(1 / scale, frame.reach[Side.LEFT] - low[0], frame.reach[Side.BELOW] - low[1])
    area = Bounds(*page.at((view.box.x0, view.box.y0)), *page.at((view.box.x1, view.box.y1)))
    corner = page.at((0.0, 0.0))
    walled = tuple(wall_sides(view))
    dimensions = [
        dimension
        for side, listed in frame.sides.items()
        for dimension in running_dimensions(
            listed, side, _behind(area, side) if side in walled else area, page, corner
        )
    ]
    for side, text in frame.over_all.items():
        value = (view.box.x1 - view.box.x0, view.box.y1 - view.box.y0)[side.along]
        dimensions.append(overall(value, text, side, area, reach_mm(frame.sides[side])))
    strokes = Strokes()
    for stroke, lines in ((Stroke.HIDDEN, view.hidden), (Stroke.OUTLINE, view.lines)):
        strokes.add(stroke, [tuple(map(page.at, line)) for line in lines])
    for face in view.faces:
        _draw_face(face, page, None if view.from_corner else area, strokes)
    space = FreeSpace(Bounds(0.0, 0.0, *frame.size_mm))
    texts = [Text("0", _zero(view, corner))] * view.from_corner
    for line in (*strokes.lines, *(line for each in dimensions for line in each.lines)):
        space.draw(line)
    for written in (*texts, *(each.text for each in dimensions)):
        space.write(written.box)
    texts += _walls(view, page, strokes, space)
    arrows = [a for plane in view.planes for a in _plane(plane, page, space, strokes, texts)]
    return Measured(
        title=view.title,
        scale=scale,
        size_mm=frame.size_mm,
        strokes=strokes,
        dimensions=tuple(dimensions),
        arrows=tuple(arrows),
        texts=tuple(texts),
    )


def _behind(area: Bounds, side: Side) -> Bounds:
    """Return the box of a view with the hatching of the wall at a side."""
    x, y = (WALL_MM * way for way in side.value)
    return Bounds(
        area.x0 + min(x, 0.0), area.y0 + min(y, 0.0), area.x1 + max(x, 0.0), area.y1 + max(y, 0.0)
    )


def _zero(view: SetView, corner: Point2) -> Point2:
    """Return where the 0 of the corner stands: outside, beyond the wall or floor."""
    off = WALL_MM + 0.8
    x_out = sides_of(view, 1)[1].value[0]
    y_out = sides_of(view, 0)[1].value[1]
    x, y = corner
    return x + x_out * (off + CHARACTER_MM / 2), y + y_out * (off + CAPITAL_MM / 2)


def _walls(view: SetView, page: OnPage, strokes: Strokes, space: FreeSpace) -> Iterator[Text]:
    """Draw walls and the floor, hatched outside, and yield their names, each as near to the middle
    as no size stands in its way.
    """
    for name, wall in view.walls:
        a, b = (page.at(end) for end in wall)
        side = wall_side(view, wall)
        strokes.add(Stroke.WALL, [(a, b)])
        strip = Bounds(*_strip(a, b, side.value))
        strokes.add(Stroke.HATCH, hatched(box(*strip), 1.0, _WALL_HATCH_MM))
        space.write(strip)
        reading = Reading.LEVEL if side.along == 0 else Reading.UPRIGHT
        off = WALL_MM + 0.8 + CAPITAL_MM / 2
        x, y = _moved(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), side.value, off)
        half = max(0, int(math.dist(a, b) / 2 - text_size(name)[0] / 2))
        steps = [way * step for step in range(half + 1) for way in (1, -1)]
        tried = (Text(name, (x + s, y) if side.along == 0 else (x, y + s), reading) for s in steps)
        text = next(
            (each for each in tried if space.has_room(each.box)), Text(name, (x, y), reading)
        )
        space.write(text.box)
        yield text


def _strip(a: Point2, b: Point2, out: Point2) -> tuple[float, float, float, float]:
    xs, ys = [a[0], b[0]], [a[1], b[1]]
    xs.append(a[0] + out[0] * WALL_MM)
    ys.append(a[1] + out[1] * WALL_MM)
    return min(xs), min(ys), max(xs), max(ys)


def _draw_face(face: CutFace, page: OnPage, broken: Bounds | None, strokes: Strokes) -> None:
    """Draw a cut face; what goes on beyond a view that is `broken` off has no line there."""
    boxes = [box(*page.at((b.x0, b.y0)), *page.at((b.x1, b.y1))) for b in face.boxes]
    whole = unary_union(boxes)
    slope = -1.0 if face.filled is Filled.FALLING else 1.0
    strokes.add(Stroke.HATCH, hatched(whole, slope, _HATCH_MM[face.filled]))
    edge = whole.boundary
    if broken is not None:
        edge = edge.difference(box(*broken).boundary.buffer(_ON_RIM_MM))
    strokes.add(Stroke.CUT, pieces(edge))


def _plane(
    plane: Plane, page: OnPage, space: FreeSpace, strokes: Strokes, texts: list[Text]
) -> Iterator[Arrow]:
    """Draw the two ends of a plane where a section is cut, and yield their arrows."""
    a, b = (page.at(point) for point in plane.line)
    size = math.dist(a, b)
    way = ((b[0] - a[0]) / size, (b[1] - a[1]) / size)
    for end, out in ((a, -1.0), (b, 1.0)):
        tip = _moved(end, way, out * (_MARK_MM + 1.0))
        for step in range(_TAILS):
            tail = _moved(tip, plane.looking, -_MARK_MM - step)
            letter = Text(plane.letter, _moved(tail, plane.looking, -_LETTER_MM))
            if space.has_room(letter.box):
                break
        strokes.add(Stroke.PLANE, [(_moved(end, way, out), tip)])
        strokes.add(Stroke.THIN, [(tail, tip)])
        texts.append(letter)
        space.write(letter.box)
        yield Arrow(tip, plane.looking)


def _moved(point: Point2, way: Point2, by_mm: float) -> Point2:
    return point[0] + way[0] * by_mm, point[1] + way[1] * by_mm
