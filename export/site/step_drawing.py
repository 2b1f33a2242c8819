"""The picture of a step on paper: lines, screws at their holes, arrows, letters that keep clear of
each other. Millimetres of the page, y up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from export.papers.drawn import CAPITAL_MM, CHARACTER_MM, Fit, fitted, on_page, path
from export.site.content import Callout, DrivenScrew, Line2, StepPicture
from export.site.label_room import CLEAR_MM, Area, LabelRoom, NoRoomError, around, half_of
from export.svg.elements import Point2, number, text_element
from parametric.geometry.outline import Bounds
from parametric.pictures.frame import cut_off

_FRAME_RIM_MM = 4.0
_FINEST_MM = 0.02  # chords of small circles are short, and still make a circle
_RIM_MM = 9.0  # for arrows and labels beyond the outermost line
_ARROW_MM, _SHORT_MM = 8.0, 3.5  # of a screw: seen from the side, and at least
_HEAD_MM, _WIDE_HEAD_MM = 1.3, 3.0
_HOLE_MM = 0.75
_HEAVY_MM, _FINE_MM, _OF_A_BOARD_MM = 0.45, 0.15, 3.5  # lines of new parts; of a board's thickness
_LEADER_MM = 7.0
_TURNS = tuple(math.radians(degrees) for degrees in (0, 25, -25, 50, -50, 75, -75, 120, -120, 180))


def step_svg(picture: StepPicture, title: str, width_mm: float, height_mm: float) -> str:
    """Return the picture of a step: new parts heavy, earlier ones thin and grey, walls lighter
    still, labels where there is room for them. It is higher than asked for if its labels need that.

    Raises:
        ValueError: there is no line.
    """
    while True:
        try:
            return _drawn(picture, title, width_mm, height_mm)
        except NoRoomError:
            height_mm *= 1.25


def _drawn(picture: StepPicture, title: str, width_mm: float, height_mm: float) -> str:
    fit = _fit(picture, width_mm, height_mm)
    page = Bounds(0.0, 0.0, width_mm, height_mm)
    heavy = _cut(picture.new, fit, page)
    body = [
        *_lines(_cut(picture.room, fit, page), "#aaa", 0.25),
        *_lines(_cut(picture.earlier, fit, page), "#777", 0.15),
        *_lines(_cut(picture.beads, fit, page), "#888", 1.2),
        *_lines(heavy, "#000", _heavy_mm(fit.scale)),
        *_lines(_cut(picture.threads, fit, page), "#555", 0.13, "3 0.8 0.6 0.8"),
        *(_arrow(fit.at(start), fit.at(end), 0.7, _WIDE_HEAD_MM) for start, end in picture.ways),
        *(_length_line(fit.at(start), fit.at(end)) for start, end in picture.marks),
        *_labelled(picture, heavy, fit, (0.0, 0.0, width_mm, height_mm)),
    ]
    return on_page((0.0, 0.0, width_mm, height_mm), title, body)


def _heavy_mm(scale: float) -> float:
    """Return how wide lines are, so that the two edges of a board stand clear of each other."""
    return min(_HEAVY_MM, max(_FINE_MM, _OF_A_BOARD_MM * scale))


def _cut(lines: Sequence[Line2], fit: Fit, page: Bounds) -> list[Line2]:
    """Return lines of the set on the page, what is beyond it left out."""
    placed = ((fit.at(start), fit.at(end)) for start, end in lines)
    return list(cut_off(placed, page, _FINEST_MM))


def _lines(lines: Sequence[Line2], colour: str, width_mm: float, dashes: str = "") -> list[str]:
    return [path(lines, colour, width_mm, dashes)] if lines else []


def scale_of(picture: StepPicture, width_mm: float, height_mm: float) -> float:
    """Return millimetres of the page for each of the set, on so much room."""
    return _fit(picture, width_mm, height_mm).scale


def _fit(picture: StepPicture, width_mm: float, height_mm: float) -> Fit:
    lines = (*picture.new, *picture.earlier, *picture.marks, *picture.ways, *picture.threads)
    points = [point for line in lines for point in line]
    points += [screw.at for screw in picture.screws]
    rim = _RIM_MM
    if picture.frame is not None:  # which has a rim of its own
        x0, y0, x1, y1 = picture.frame
        points, rim = [(x0, y0), (x1, y1)], _FRAME_RIM_MM
    return fitted(points, Bounds(rim, rim, width_mm - rim, height_mm - rim))


def _labelled(picture: StepPicture, heavy: Sequence[Line2], fit: Fit, page: Area) -> Iterator[str]:
    """Yield the screws with their letters, the labels with leaders to what they mean, and the names
    of walls.
    """
    arrows = [_screw_line(screw, fit) for screw in picture.screws]
    lines = [*heavy, *fit.lines((*picture.marks, *picture.ways))]
    if not picture.new and not picture.screws:  # all that is to be seen stands there already
        lines += _cut(picture.earlier, fit, Bounds(*page))
    room = LabelRoom(page, [around(tip, _HOLE_MM) for _, tip in arrows], [*lines, *arrows])
    for screw, (tail, tip) in zip(picture.screws, arrows, strict=True):
        yield _arrow(tail, tip, 0.3, _HEAD_MM, "" if screw.seen else "0.8 0.6")
        yield (
            f'<circle cx="{number(tip[0])}" cy="{number(-tip[1])}" r="{number(_HOLE_MM)}"'
            ' fill="#fff" stroke="#000" stroke-width="0.3"/>'
        )
    for screw, (tail, tip) in zip(picture.screws, arrows, strict=True):
        place = room.free(screw.label, _outwards(tail, tip))
        if math.dist(place, tail) > 2 * CAPITAL_MM:
            yield path([[tail, place]], "#000", 0.13)
        yield _text(screw.label, place)
    middle = ((page[0] + page[2]) / 2, (page[1] + page[3]) / 2)
    for each in _joined(picture.callouts):
        end, label = fit.at(each.at), _within(each.label, page)
        place = room.free(label, _around_it(end, middle))
        yield _leader(place, end, label)
        yield _text(label, place)
    for name, at in picture.names:
        end, label = fit.at(at), _within(name, page)
        place = room.free(label, [end, *_around_it(end, middle)])
        if math.dist(place, end) > 2 * CAPITAL_MM:
            yield _leader(place, end, label)
        yield _text(label, place)


def _within(label: str, page: Area) -> str:
    """Return a label no wider than its picture: a longer one would find no room at any height."""
    most = int((page[2] - page[0] - 2 * CLEAR_MM) / CHARACTER_MM) - 1
    return label if len(label) <= most else f"{label[: most - 1]}…"


def _joined(callouts: Sequence[Callout]) -> list[Callout]:
    """Return the labels with those that mean one place as one, in order."""
    found: dict[Point2, list[str]] = {}
    for each in callouts:
        found.setdefault((round(each.at[0], 1), round(each.at[1], 1)), []).append(each.label)
    return [Callout(label=", ".join(labels), at=at) for at, labels in found.items()]


def _screw_line(screw: DrivenScrew, fit: Fit) -> tuple[Point2, Point2]:
    """Return the arrow of a screw, from its tail to its hole."""
    tip, size = fit.at(screw.at), math.hypot(*screw.way)
    x, y = (screw.way[0] / size, screw.way[1] / size) if size > 0.05 else (0.0, -1.0)
    run = max(_SHORT_MM, _ARROW_MM * size)
    return (tip[0] - x * run, tip[1] - y * run), tip


def _outwards(tail: Point2, tip: Point2) -> Iterator[Point2]:
    """Yield places for a letter: beyond the tail of an arrow, ever further and to its sides."""
    size = math.dist(tail, tip)
    x, y = (tail[0] - tip[0]) / size, (tail[1] - tip[1]) / size
    for step in range(60):
        away = CAPITAL_MM * (0.8 + 0.5 * (step // 5))
        aside = CAPITAL_MM * (0.0, 0.9, -0.9, 1.8, -1.8)[step % 5]
        yield tail[0] + x * away - y * aside, tail[1] + y * away + x * aside


def _around_it(end: Point2, middle: Point2) -> Iterator[Point2]:
    """Yield places for a label away from where its leader ends, out of the picture first."""
    out = math.atan2(end[1] - middle[1], end[0] - middle[0])
    for step in range(6):
        away = _LEADER_MM * (1 + 0.7 * step)
        for turn in _TURNS:
            yield end[0] + away * math.cos(out + turn), end[1] + away * math.sin(out + turn)


def _leader(place: Point2, end: Point2, text: str) -> str:
    """Return the leader from the rim of a label's text to a head on what it means."""
    wide, high = half_of(text)
    run, rise = end[0] - place[0], end[1] - place[1]
    share = min(wide / abs(run) if run else math.inf, high / abs(rise) if rise else math.inf, 1.0)
    start = (place[0] + run * share, place[1] + rise * share)
    return _arrow(start, end, 0.13, _HEAD_MM)


def _text(text: str, middle: Point2) -> str:
    x, y = middle[0], middle[1] - CAPITAL_MM / 2
    return text_element(text, x, y, CAPITAL_MM, anchor="middle", over_lines=True)


def _arrow(tail: Point2, tip: Point2, width_mm: float, head_mm: float, dashes: str = "") -> str:
    return path([[tail, tip]], "#000", width_mm, dashes) + path(
        [_head(tail, tip, head_mm)], "#000", width_mm
    )


def _length_line(start: Point2, end: Point2) -> str:
    """Return a length to mark: dashed, with a head at either end."""
    heads = [_head(start, end, _HEAD_MM), _head(end, start, _HEAD_MM)]
    return path([[start, end]], "#000", 0.3, "2 1") + path(heads, "#000", 0.3)


def _head(tail: Point2, tip: Point2, size_mm: float) -> list[Point2]:
    turn = math.atan2(tip[1] - tail[1], tip[0] - tail[0])
    sides = [
        (tip[0] - size_mm * math.cos(turn + off), tip[1] - size_mm * math.sin(turn + off))
        for off in (0.4, -0.4)
    ]
    return [sides[0], tip, sides[1]]
