"""The cuts of a flat panel as primitives, in the panel's own frame."""

from __future__ import annotations

from export.drawing.primitives import Circle, ClosedPath, Drawing, clean
from export.layer_table import LayerRole, LayerTable
from parametric.geometry.outline import Outline
from parametric.shapes.panel import Bore, Face, FlatPanel


def through_cuts(panel: FlatPanel, layers: LayerTable) -> Drawing:
    """Return the outline, the openings and all holes that go right through.

    Raises:
        KeyError: the table was made without this panel.
    """
    opening = LayerRole.OPENING
    paths = [ClosedPath.of(panel.outline, layers.plain(LayerRole.OUTLINE))]
    paths += [ClosedPath.of(outline, layers.plain(opening)) for outline in panel.openings]
    circles = []
    for bore in panel.bores:
        if bore.depth_mm is None and layers.is_drilled(bore):
            circles.append(_circle(bore, layers.bore(bore, bore.face)))
        elif bore.depth_mm is None:
            paths.append(_routed(bore, layers.plain(opening)))
    return Drawing(paths=tuple(paths), circles=tuple(circles))


def blind_cuts(panel: FlatPanel, layers: LayerTable, *, layer_face: Face) -> Drawing:
    """Return the pockets and blind holes of the face that looks up, on the layers of `layer_face`.

    The two differ in the second operation, where the panel's first face DOWN looks up.

    Raises:
        KeyError: the table was made without this panel.
    """
    paths, circles = [], []
    for pocket in panel.pockets:
        if pocket.face is Face.UP:
            layer = layers.groove(pocket.depth_mm, layer_face)
            paths += [ClosedPath.of(line, layer) for line in (pocket.outline, *pocket.islands)]
    for bore in panel.bores:
        if bore.face is not Face.UP or bore.depth_mm is None:
            continue
        if layers.is_drilled(bore):
            circles.append(_circle(bore, layers.bore(bore, layer_face)))
        else:
            paths.append(_routed(bore, layers.groove(bore.depth_mm, layer_face)))
    return Drawing(paths=tuple(paths), circles=tuple(circles))


def _circle(bore: Bore, layer: str) -> Circle:
    return Circle(layer=layer, x=clean(bore.x), y=clean(bore.y), diameter_mm=bore.diameter_mm)


def _routed(bore: Bore, layer: str) -> ClosedPath:
    return ClosedPath.of(Outline.circle(bore.x, bore.y, bore.diameter_mm), layer)
