"""One part as it is cut: the first operation, and for a two-sided part the second.

First operation: the panel seen with face UP, its lower-left corner at the origin. Second operation:
the panel turned over about its length, so that a point (x, y) comes to lie at (x, width - y).
"""

from __future__ import annotations

from export.drawing.cuts import blind_cuts, through_cuts
from export.drawing.label_spot import label_on
from export.drawing.primitives import ClosedPath, Drawing
from export.layer_table import LayerRole, LayerTable
from parametric.lists.cut_list import Part
from parametric.lists.operations import Operation
from parametric.shapes.panel import Edge, Face, FlatPanel

TURNED_OVER = "about the length: (x, y) -> (x, width - y)"
"""How a part gets from its first operation to its second, in words."""

REGISTRATION_EDGE = Edge.Y_HIGH
"""The edge, as named in the first operation, that lies along y = 0 in the second."""


def panel_drawing(part: Part, operation: Operation, layers: LayerTable) -> Drawing:
    """Return the part in one operation, millimetres, lower-left corner at the origin.

    The first operation holds outline, openings, through holes and what is cut from face UP. The
    second holds only what is cut from face DOWN, and the workpiece's edge for reference.

    Raises:
        KeyError: the table was made without this part.
    """
    if operation is Operation.FIRST:
        return first_operation(part.panel, part.number, layers)
    return _second_operation(part.panel, part.number, layers)


def first_operation(panel: FlatPanel, number: str, layers: LayerTable) -> Drawing:
    """Return the panel's first operation with its part number, millimetres.

    Raises:
        KeyError: the table was made without this panel.
    """
    cuts = [through_cuts(panel, layers), blind_cuts(panel, layers, layer_face=Face.UP)]
    label = label_on(panel, number, layers.plain(LayerRole.TEXT))
    return Drawing(labels=(label,)).joined(cuts)


def _second_operation(panel: FlatPanel, number: str, layers: LayerTable) -> Drawing:
    turned = panel.turned_over()
    edge = ClosedPath.of(turned.outline, layers.plain(LayerRole.SHEET))
    label = label_on(turned, number, layers.plain(LayerRole.TEXT))
    return Drawing(paths=(edge,), labels=(label,)).joined(
        [blind_cuts(turned, layers, layer_face=Face.DOWN)]
    )
