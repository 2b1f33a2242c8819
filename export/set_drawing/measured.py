"""A view of a set with its sizes, drawn at a scale: how much room it takes, and what is where."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from shapely import box, unary_union

from export.part_drawing.content import (
    CAPITAL_MM,
    CHARACTER_MM,
    Arrow,
    Dimension,
    Reading,
    Text,
)
from export.part_drawing.frame import SCALES
from export.part_drawing.free_space import FreeSpace
from export.part_drawing.overall import beyond_mm, overall, overall_reach_mm
from export.part_drawing.running import (
    Side,
    Station,
    by_side,
    reach_mm,
    running_dimensions,
    sticks_out_mm,
)
from export.part_drawing.seen import OnPage
from export.set_drawing.content import CutFace, Filled, Plane, SetView
from export.set_drawing.hatching import hatched, pieces
from export.set_drawing.strokes import Stroke, Strokes
from export.svg.elements import Point2
from parametric.geometry.outline import Bounds
from parametric.geometry.space import SAME_MM

Told = Callable[[float], str]
"""How a length stands in a drawing."""

_RIM_MM = 4.0  # round a view where nothing is written
_WALL_MM = 2.0  # how deep a wall is hatched
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


@dataclass(frozen=True, slots=True, kw_only=True)
class _Frame:
    """What is written at which side of a view at a scale, and how far out."""

    view: SetView
    scale: float
    sides: dict[Side, tuple[Station, ...]]
    over_all: dict[Side, str]
    reach: dict[Side, float]

    @property
    def size_mm(self) -> tuple[float, float]:
        box_ = self.view.box
        return (
            self.reach[Side.LEFT] + (box_.x1 - box_.x0) / self.scale + self.reach[Side.RIGHT],
            self.reach[Side.BELOW] + (box_.y1 - box_.y0) / self.scale + self.reach[Side.ABOVE],
        )


def largest_scale(fits: Callable[[float], bool]) -> float:
    """Return the scale, 1 to this, at which views fit: the largest of the usual ones; the smallest
    for what is too large for any.
    """
    return next(filter(fits, SCALES), SCALES[-1])


def size_at(view: SetView, scale: float, told: Told) -> tuple[float, float]:
    """Return the size of the picture of a view at a scale."""
    return _frame(view, scale, told).size_mm


def measured(view: SetView, scale: float, told: Told) -> Measured:
    """Return a view with its sizes, as large as it is at 1 : `scale`."""
    frame = _frame(view, scale, told)
    low = (view.box.x0 / scale, view.box.y0 / scale)
    page = OnPage(1 / scale, frame.reach[Side.LEFT] - low[0], frame.reach[Side.BELOW] - low[1])
    area = Bounds(*page.at((view.box.x0, view.box.y0)), *page.at((view.box.x1, view.box.y1)))
    corner = page.at((0.0, 0.0))
    dimensions = [
        dimension
        for side, listed in frame.sides.items()
        for dimension in running_dimensions(listed, side, area, page, corner)
    ]
    for side, text in frame.over_all.items():
        value = (view.box.x1 - view.box.x0, view.box.y1 - view.box.y0)[side.along]
        dimensions.append(overall(value, text, side, area, reach_mm(frame.sides[side])))
    strokes = Strokes()
    for stroke, lines in ((Stroke.HIDDEN, view.hidden), (Stroke.OUTLINE, view.lines)):
        strokes.add(stroke, [tuple(map(page.at, line)) for line in lines])
    for face in view.faces:
        _draw_face(face, page, None if view.from_corner else area, strokes)
    texts = list(_walls(view, page, strokes)) + [Text("0", _zero(view, corner))] * view.from_corner
    space = FreeSpace(Bounds(0.0, 0.0, *frame.size_mm))
    for line in (*strokes.lines, *(line for each in dimensions for line in each.lines)):
        space.draw(line)
    for written in (*texts, *(each.text for each in dimensions)):
        space.write(written.box)
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


def _frame(view: SetView, scale: float, told: Told) -> _Frame:
    box_ = view.box
    size = (box_.x1 - box_.x0, box_.y1 - box_.y0)
    sides: dict[Side, tuple[Station, ...]] = dict.fromkeys(Side, ())
    over_all: dict[Side, str] = {}
    for axis, places in enumerate((view.along, view.across)):
        listed = _stations(places, axis, box_, told)
        pair = _sides(view, axis)
        room = size[axis] / scale
        if sticks_out_mm(listed, room):
            sides |= by_side(listed, pair, size[1 - axis], room)
        else:
            sides[pair[0]] = listed
        if view.from_corner:
            over_all[pair[0]] = told(size[axis])
    reach = {
        side: overall_reach_mm(reach_mm(listed)) if side in over_all else reach_mm(listed)
        for side, listed in sides.items()
    }
    for axis in (0, 1):  # what sticks out does so at the end away from the corner
        _, wall = _sides(view, 1 - axis)
        end = wall.opposite
        more = [sticks_out_mm(sides[side], size[axis] / scale) for side in _sides(view, axis)]
        reach[end] = max(reach[end], *more)
        for side in _sides(view, axis):
            text_end = Side.RIGHT if axis == 0 else Side.ABOVE
            more_of_text = beyond_mm(over_all.get(side, ""), size[axis] / scale)
            reach[text_end] = max(reach[text_end], more_of_text if side in over_all else 0.0)
    reach = {side: max(far + 1.0, _RIM_MM) for side, far in reach.items()}
    for side in _wall_sides(view):
        reach[side] = max(reach[side], _WALL_MM + CAPITAL_MM + 2.0)
    return _Frame(view=view, scale=scale, sides=sides, over_all=over_all, reach=reach)


def _sides(view: SetView, axis: int) -> tuple[Side, Side]:
    """Return the sides at which distances along an axis stand, the one away from the corner
    first.
    """
    box_ = view.box
    if axis == 0:
        below = abs(box_.y0) >= abs(box_.y1)
        return (Side.BELOW, Side.ABOVE) if below else (Side.ABOVE, Side.BELOW)
    left = abs(box_.x0) >= abs(box_.x1)
    return (Side.LEFT, Side.RIGHT) if left else (Side.RIGHT, Side.LEFT)


def _wall_sides(view: SetView) -> Iterator[Side]:
    for axis in (0, 1):
        if view.walls:
            yield _sides(view, axis)[1]


def _stations(places: Iterable[Point2], axis: int, box_: Bounds, told: Told) -> tuple[Station, ...]:
    """Return the distances from the origin along an axis, each once; that over all is told by its
    own line.
    """
    groups: list[list[Point2]] = []
    for place in sorted(places, key=lambda at: at[axis]):
        if abs(place[axis]) <= SAME_MM:
            continue
        if groups and place[axis] - groups[-1][0][axis] <= SAME_MM:
            groups[-1].append(place)
        else:
            groups.append([place])
    ends = (box_.x0, box_.x1) if axis == 0 else (box_.y0, box_.y1)
    return tuple(
        Station(abs(group[0][axis]), told(abs(group[0][axis])), tuple(group), axis)
        for group in groups
        if ends[0] - SAME_MM <= group[0][axis] <= ends[1] + SAME_MM
    )


def _zero(view: SetView, corner: Point2) -> Point2:
    """Return where the 0 of the corner stands: outside, beyond the wall or floor."""
    off = _WALL_MM + 0.8
    x_out = _sides(view, 1)[1].value[0]
    y_out = _sides(view, 0)[1].value[1]
    x, y = corner
    return x + x_out * (off + CHARACTER_MM / 2), y + y_out * (off + CAPITAL_MM / 2)


def _walls(view: SetView, page: OnPage, strokes: Strokes) -> Iterator[Text]:
    """Draw walls and the floor, hatched outside, and yield their names."""
    for name, (start, end) in view.walls:
        a, b = page.at(start), page.at(end)
        level = abs(b[1] - a[1]) < abs(b[0] - a[0])
        out = _sides(view, 0 if level else 1)[1].value
        strokes.add(Stroke.WALL, [(a, b)])
        strip = box(*_strip(a, b, out))
        strokes.add(Stroke.HATCH, hatched(strip, 1.0, _WALL_HATCH_MM))
        off = _WALL_MM + 0.8 + CAPITAL_MM / 2
        middle = ((a[0] + b[0]) / 2 + out[0] * off, (a[1] + b[1]) / 2 + out[1] * off)
        yield Text(name, middle, Reading.LEVEL if level else Reading.UPRIGHT)


def _strip(a: Point2, b: Point2, out: Point2) -> tuple[float, float, float, float]:
    xs, ys = [a[0], b[0]], [a[1], b[1]]
    xs.append(a[0] + out[0] * _WALL_MM)
    ys.append(a[1] + out[1] * _WALL_MM)
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
