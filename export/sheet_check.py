"""A written DXF, read back, against the layout or the part it was made from.

Problems are data; an empty answer means that the file holds what it must and nothing else.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from export.drawing.primitives import ClosedPath, Drawing, Label
from export.dxf.content import DxfContent
from export.expected_cuts import (
    AT_ORIGIN,
    Cut,
    PathCut,
    RoundCut,
    first_operation_cuts,
    on_sheet,
    round_cut,
    second_operation_cuts,
)
from export.layer_table import LayerRole, LayerTable
from export.same_cut import same_place_and_shape
from export.sheet_problem import SheetFault, SheetProblem
from export.sheet_rules import grain_problems, trim_and_gap_problems
from nesting.answer.solution import Layout
from nesting.question.sheet_rules import SheetRules
from parametric.geometry.outline import Bounds, Outline
from parametric.lists.cut_list import Part
from parametric.lists.operations import Operation
from parametric.shapes.panel import FlatPanel
from parametric.stock.materials import StockSheet

_MILLIMETRES = 4  # value of $INSUNITS
_RELEASE_WITHOUT_UNITS = "AC1009"  # R12


def sheet_problems(
    content: DxfContent,
    layout: Layout,
    parts: Mapping[str, Part],
    *,
    stock: StockSheet,
    layers: LayerTable,
    rules: SheetRules,
) -> tuple[SheetProblem, ...]:
    """Return what the file of a nested sheet has wrong: shapes, places, layers, part numbers, and
    the rules of the sheet (trim, gap, grain), measured on what the file holds.

    Raises:
        KeyError: the layout names an unknown part, or the layer table was made without it.
    """
    panels = {name: parts[name].panel for name in layout.counts()}
    return (
        *placed_problems(content, layout, panels, stock=stock, layers=layers, rules=rules),
        *grain_problems(layout, parts),
    )


def placed_problems(
    content: DxfContent,
    layout: Layout,
    panels: Mapping[str, FlatPanel],
    *,
    stock: StockSheet,
    layers: LayerTable,
    rules: SheetRules,
) -> tuple[SheetProblem, ...]:
    """Return the same for panels by the names that the layout gives them; grain is not known.

    Raises:
        KeyError: the layout names an unknown panel, or the layer table was made without it.
    """
    edge = Outline.rectangle(stock.length_mm, stock.width_mm)
    expected: list[tuple[str, Cut]] = [
        (
            "sheet",
            PathCut(
                layer=layers.plain(LayerRole.SHEET),
                vertices=edge.vertices,
                area_mm2=stock.length_mm * stock.width_mm,
            ),
        )
    ]
    boxes = []
    for placement in layout.placements:
        panel = panels[placement.piece]
        cuts = first_operation_cuts(panel, on_sheet(placement, panel), layers)
        expected += [(f"part {placement.piece}", cut) for cut in cuts]
        boxes.append((placement.piece, _box(cuts[0])))
    outline_layer = layers.plain(LayerRole.OUTLINE)
    outlines = [p.outline.bounds for p in content.drawing.paths if p.layer == outline_layer]
    return (
        *_content_problems(content, expected),
        *_text_problems(content.drawing.labels, boxes, layers.plain(LayerRole.TEXT)),
        *trim_and_gap_problems(outlines, stock, rules),
    )


def part_problems(
    content: DxfContent, part: Part, operation: Operation, layers: LayerTable
) -> tuple[SheetProblem, ...]:
    """Return what the file of one part in one operation has wrong.

    Raises:
        KeyError: the layer table was made without this part.
    """
    if operation is Operation.FIRST:
        cuts = first_operation_cuts(part.panel, AT_ORIGIN, layers)
    else:
        cuts = second_operation_cuts(part.panel, layers)
    boxes = [(part.number, _box(cuts[0]))]
    return (
        *_content_problems(content, [(f"part {part.number}", cut) for cut in cuts]),
        *_text_problems(content.drawing.labels, boxes, layers.plain(LayerRole.TEXT)),
    )


def _content_problems(
    content: DxfContent, expected: Sequence[tuple[str, Cut]]
) -> Iterator[SheetProblem]:
    for thing in content.unread:
        yield SheetProblem(
            fault=SheetFault.UNEXPECTED, where="file", message=f"{thing} is no cut, hole or text"
        )
    if content.release != _RELEASE_WITHOUT_UNITS and content.unit_code != _MILLIMETRES:
        yield SheetProblem(
            fault=SheetFault.UNIT,
            where="file",
            message=f"unit code {content.unit_code}, not {_MILLIMETRES} (millimetres)",
        )
    for name in sorted(content.drawing.used_layers() - set(content.declared)):
        yield SheetProblem(
            fault=SheetFault.LAYER_NOT_DECLARED, where=f"layer {name}", message="used only"
        )
    left = _cuts_read(content.drawing)
    for where, cut in expected:
        twins = [index for index, other in enumerate(left) if same_place_and_shape(cut, other)]
        right = [index for index in twins if left[index].layer == cut.layer]
        if right:
            left.pop(right[0])
        elif twins:
            found = left.pop(twins[0]).layer
            message = f"{_spoken(cut)} lies on {found}, not on {cut.layer}"
            yield SheetProblem(fault=SheetFault.WRONG_LAYER, where=where, message=message)
        else:
            message = f"no {_spoken(cut)} on layer {cut.layer}"
            yield SheetProblem(fault=SheetFault.MISSING, where=where, message=message)
    for cut in left:
        yield SheetProblem(
            fault=SheetFault.UNEXPECTED, where=f"layer {cut.layer}", message=_spoken(cut)
        )


def _cuts_read(drawing: Drawing) -> list[Cut]:
    return [*(_path_read(path) for path in drawing.paths), *_rounds_read(drawing)]


def _path_read(path: ClosedPath) -> Cut:
    area = abs(path.outline.signed_area_mm2)
    return round_cut(path.layer, path.vertices) or PathCut(
        layer=path.layer, vertices=path.vertices, area_mm2=area
    )


def _rounds_read(drawing: Drawing) -> Iterator[Cut]:
    for circle in drawing.circles:
        yield RoundCut(
            layer=circle.layer,
            x=circle.x,
            y=circle.y,
            diameter_mm=circle.diameter_mm,
            drilled=True,
        )


def _text_problems(
    labels: Sequence[Label], boxes: Sequence[tuple[str, Bounds]], layer: str
) -> Iterator[SheetProblem]:
    left = list(labels)
    for number, box in boxes:
        own = [label for label in left if label.text == number and _inside(label, box)]
        if own and own[0].layer == layer:
            left.remove(own[0])
        else:
            yield SheetProblem(
                fault=SheetFault.PART_TEXT,
                where=f"part {number}",
                message=f"no such text within the part at ({box.x0:.3f}, {box.y0:.3f})",
            )
    for label in left:
        yield SheetProblem(
            fault=SheetFault.PART_TEXT,
            where=f"layer {label.layer}",
            message=f"'{label.text}' at ({label.x:.3f}, {label.y:.3f}) belongs to no part there",
        )


def _box(outline: Cut) -> Bounds:
    if isinstance(outline, RoundCut):
        reach = outline.diameter_mm / 2
        x, y = outline.x, outline.y
        return Bounds(x - reach, y - reach, x + reach, y + reach)
    return Outline(outline.vertices).bounds


def _inside(label: Label, box: Bounds) -> bool:
    return box.x0 < label.x < box.x1 and box.y0 < label.y < box.y1


def _spoken(cut: Cut) -> str:
    if isinstance(cut, RoundCut):
        kind = "drilled" if cut.drilled else "routed"
        return f"{kind} hole {cut.diameter_mm:.3f} mm at ({cut.x:.3f}, {cut.y:.3f})"
    box = Outline(cut.vertices).bounds
    return f"path of {cut.area_mm2:.2f} mm2 at ({box.x0:.3f}, {box.y0:.3f})"
