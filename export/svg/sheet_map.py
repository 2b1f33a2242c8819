"""The map of a nested sheet, drawn from what its DXF really holds.

Reads in black and white: parts pale, grooves grey, what goes right through white.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from export.drawing.primitives import Circle, ClosedPath, Drawing, Label
from export.dxf.content import DxfContent
from export.layer_table import Layer, LayerRole, LayerTable
from export.markup_text import in_markup
from export.svg.dimensions import (
    CHARACTER_SHARE,
    DrawnDimension,
    PictureDimension,
    drawn_dimensions,
)
from export.svg.elements import Point2, closed_path_data, number, svg_document, text_element
from export.svg.sheet_marks import (
    ORDER_TEXT,
    defect_marks,
    grain_mark,
    hatched_offcuts,
    note_lines,
    order_marks,
    origin_mark,
    risk_legend,
    risk_marks,
)
from parametric.geometry.outline import Bounds
from parametric.stock.lengths import Units, show_length

_LINE_SHARE = 1 / 900
_LEAST_LABEL_SHARE = 0.55  # of the other texts' height: smaller ones cannot be read on paper
_MARK_SHARE = 0.8  # of the other texts' height: offcuts, parts at risk, notes

_SHEET, _PART, _GROOVE, _BLIND_HOLE, _THROUGH = "#fff", "#ededed", "#b9b9b9", "#777", "#fff"


@dataclass(frozen=True, slots=True, kw_only=True)
class MapLook:
    """What differs between maps on a screen and on the operator's paper: the height of texts as a
    share of the sheet's greater side, and of numbers in the order of cutting, which must not be
    taken for part numbers, as a share of that; whether the title stands above; whether part numbers
    stand upright where they fit; what is said of the origin (nothing: no mark) and of the grain.
    With `offcut_labels` offcuts show these beside their sizes.
    """

    text_share: float = 1 / 70
    order_share: float = 0.5
    titled: bool = True
    upright: bool = False
    origin: str = ""
    grain: str = ""
    offcut_labels: tuple[str, ...] = ()


ON_SCREEN = MapLook()


def sheet_map_svg(
    content: DxfContent,
    layers: LayerTable,
    *,
    title: str,
    runs: int,
    units: Units,
    offcuts: Sequence[Bounds] = (),
    at_risk: Sequence[Bounds] = (),
    cut_order: Sequence[Bounds] = (),
    defects: Sequence[Bounds] = (),
    notes: Sequence[str] = (),
    look: MapLook = ON_SCREEN,
) -> str:
    """Return the sheet map as SVG: parts with their numbers and cuts, the sheet's size in the job's
    units, and above it the title and how many sheets are cut so.

    `offcuts` are hatched and labelled with their size; each part `at_risk` has a mark in its
    corner, which a line below the sheet explains. Parts get numbers in their `cut_order`, where it
    is given; `defects` are dark. All in millimetres in the sheet's frame. `notes` stand below.

    Raises:
        ValueError: the file has no sheet edge.
    """
    drawing = content.drawing
    sheet = _sheet_bounds(drawing, layers)
    length, width = sheet.x1 - sheet.x0, sheet.y1 - sheet.y0
    text = max(length, width) * look.text_share
    drawn = _sheet_size(sheet, units, text)
    heading = f"{title}: cut {runs} {'sheet' if runs == 1 else 'sheets'} like this"
    frame = (
        min(sheet.x0, *(dimension.bounds.x0 for dimension in drawn)) - text,
        min(sheet.y0, *(dimension.bounds.y0 for dimension in drawn)) - text,
        max(sheet.x1, *(dimension.bounds.x1 for dimension in drawn)) + text,
        sheet.y1 + 3 * text,
    )
    line = max(length, width) * _LINE_SHARE
    body = [
        *_shapes(drawing, layers, line),
        *hatched_offcuts(offcuts, units, text * _MARK_SHARE, line / 2, look.offcut_labels),
        *defect_marks(defects, line),
        *risk_marks(at_risk, text * _MARK_SHARE, line / 2),
        *order_marks(cut_order, text * look.order_share, line / 2),
        *(_label(label, text * _LEAST_LABEL_SHARE) for label in _labels(drawing, layers, look)),
        *(dimension.svg for dimension in drawn),
        *_above(heading if look.titled else "", sheet, text),
        *origin_mark(sheet, look.origin, text * _MARK_SHARE, line),
        *grain_mark(sheet, look.grain, text * _MARK_SHARE, line),
    ]
    lines = note_lines(notes, length, text * _MARK_SHARE)
    if cut_order:
        lines = (ORDER_TEXT, *lines)
    if at_risk:
        body.append(risk_legend(sheet.x0, frame[1] - text, text * _MARK_SHARE, line / 2))
        frame = (frame[0], frame[1] - 2 * text, *frame[2:])
    for words in lines:
        body.append(text_element(words, sheet.x0, frame[1] - text, text * _MARK_SHARE))
        frame = (frame[0], frame[1] - 1.5 * text, *frame[2:])
    return svg_document(frame, heading, body)


def _above(heading: str, sheet: Bounds, text: float) -> Iterator[str]:
    """Yield the heading, if there is one."""
    if heading:
        # A long title gets smaller letters: the run count stands at its end and must be read.
        height = min(text * 1.1, (sheet.x1 - sheet.x0) / (len(heading) * CHARACTER_SHARE))
        yield text_element(heading, sheet.x0, sheet.y1 + text, height)


def _labels(drawing: Drawing, layers: LayerTable, look: MapLook) -> Iterator[Label]:
    """Yield the part numbers, standing upright where they are asked to and fit."""
    outlines = layers.names_of(LayerRole.OUTLINE)
    boxes = [path.outline.bounds for path in drawing.paths if path.layer in outlines]
    for label in drawing.labels:
        yield upright(label, boxes) if look.upright else label


def upright(label: Label, boxes: Iterable[Bounds]) -> Label:
    """Return the label level round the same middle, if the part that holds it is broad enough."""
    along = len(label.text) * label.height_mm / 2
    x, y = label_middle(label)
    holding = [box for box in boxes if box.x0 < x < box.x1 and box.y0 < y < box.y1]
    if not label.angle_deg or not holding:
        return label
    box = min(holding, key=_area)
    if box.x1 - box.x0 < 2 * along:
        return label
    middle = min(max(x, box.x0 + along), box.x1 - along)
    return replace(label, x=middle - along, y=y - label.height_mm / 2, angle_deg=0.0)


def _sheet_size(sheet: Bounds, units: Units, text_mm: float) -> tuple[DrawnDimension, ...]:
    """Return the dimensions of the sheet's length, below it, and width, beside it."""
    corner = (sheet.x0, sheet.y0)
    return drawn_dimensions(
        (
            PictureDimension(
                start=corner,
                end=(sheet.x1, sheet.y0),
                offset_mm=-2.5 * text_mm,
                text=show_length(sheet.x1 - sheet.x0, units),
            ),
            PictureDimension(
                start=corner,
                end=(sheet.x0, sheet.y1),
                offset_mm=3.5 * text_mm,
                text=show_length(sheet.y1 - sheet.y0, units),
            ),
        ),
        text_mm,
    )


def _sheet_bounds(drawing: Drawing, layers: LayerTable) -> Bounds:
    name = layers.plain(LayerRole.SHEET)
    edges = [path for path in drawing.paths if path.layer == name]
    if not edges:
        raise ValueError(f"no sheet edge on layer {name}")
    return edges[0].outline.bounds


def _shapes(drawing: Drawing, layers: LayerTable, line_mm: float) -> Iterator[str]:
    """Yield the shapes from the sheet upwards, so that nothing is covered by what is cut around."""
    yield from _plain(drawing.paths, layers, LayerRole.SHEET, _SHEET, line_mm)
    outlines = layers.names_of(LayerRole.OUTLINE)
    parts = tuple(path for path in drawing.paths if path.layer in outlines)
    for path, part in zip(parts, numbers_of(parts, drawing.labels), strict=True):
        yield _path(closed_path_data(path.vertices), _PART, line_mm, part)
    for name in layers.names_of(LayerRole.GROOVE):
        # One path for each layer: islands are left out by the even-odd rule, as they are cut.
        data = "".join(closed_path_data(p.vertices) for p in drawing.paths if p.layer == name)
        if data:
            yield _path(data, _GROOVE, line_mm / 2)
    yield from _plain(drawing.paths, layers, LayerRole.OPENING, _THROUGH, line_mm)
    known = layers.by_name()
    for circle in drawing.circles:
        if circle.layer in known:
            yield _hole(circle, known[circle.layer], line_mm / 2)


def _plain(
    paths: Iterable[ClosedPath], layers: LayerTable, role: LayerRole, fill: str, line_mm: float
) -> Iterator[str]:
    names = layers.names_of(role)
    for path in paths:
        if path.layer in names:
            yield _path(closed_path_data(path.vertices), fill, line_mm)


def numbers_of(parts: Sequence[ClosedPath], labels: Iterable[Label]) -> tuple[str, ...]:
    """Return the number of each part: the label whose middle lies in its bounds, blank if none."""
    boxes = [path.outline.bounds for path in parts]
    numbers = [""] * len(boxes)
    for label in labels:
        x, y = label_middle(label)
        holding = [at for at, b in enumerate(boxes) if b.x0 < x < b.x1 and b.y0 < y < b.y1]
        if holding:
            numbers[min(holding, key=lambda at: _area(boxes[at]))] = label.text
    return tuple(numbers)


def label_middle(label: Label) -> Point2:
    """Return the middle of a label, whichever way it is turned."""
    along = len(label.text) * label.height_mm / 2
    turn = math.radians(label.angle_deg)
    x = label.x + math.cos(turn) * along - math.sin(turn) * label.height_mm / 2
    y = label.y + math.sin(turn) * along + math.cos(turn) * label.height_mm / 2
    return x, y


def _area(box: Bounds) -> float:
    return (box.x1 - box.x0) * (box.y1 - box.y0)


def _path(data: str, fill: str, line_mm: float, part: str = "") -> str:
    """Return a closed path. That of a part says which, for pages that tell about it."""
    named = f' data-part="{in_markup(part)}"' if part else ""
    return (
        f'<path d="{data}" fill="{fill}" fill-rule="evenodd" stroke="#222"'
        f' stroke-width="{number(line_mm)}" stroke-linejoin="round"{named}/>'
    )


def _hole(circle: Circle, layer: Layer, line_mm: float) -> str:
    fill = _THROUGH if layer.depth_mm is None else _BLIND_HOLE
    return (
        f'<circle cx="{number(circle.x)}" cy="{number(-circle.y)}"'
        f' r="{number(circle.diameter_mm / 2)}" fill="{fill}" stroke="#222"'
        f' stroke-width="{number(line_mm)}"/>'
    )


def _label(label: Label, least_mm: float) -> str:
    """Return the part number where the file has it, round the same middle if it must grow."""
    capital = max(label.height_mm, least_mm)
    along = len(label.text) * label.height_mm / 2
    turn = math.radians(label.angle_deg)
    down = (label.height_mm - capital) / 2
    x = label.x + math.cos(turn) * along - math.sin(turn) * down
    y = label.y + math.sin(turn) * along + math.cos(turn) * down
    return text_element(
        label.text, x, y, capital, anchor="middle", angle=label.angle_deg, over_lines=True
    )
