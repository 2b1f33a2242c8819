"""What a cut file has to hold, worked out from panels and places alone.

Nothing here is shared with the code that draws: places are turned by formulas of their own, so that
a mistake in the drawings does not hide in their check.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from export.layer_table import LayerRole, LayerTable
from nesting.answer.solution import Placement
from nesting.question.ticks import to_mm
from parametric.geometry.outline import Outline, Vertex
from parametric.shapes.panel import Bore, Face, FlatPanel


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundCut:
    """A hole: drilled (a circle in the file) or routed (a closed path of two half circles)."""

    layer: str
    x: float
    y: float
    diameter_mm: float
    drilled: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PathCut:
    """A closed path in the file's frame; it may run either way. The area is the panel's own."""

    layer: str
    vertices: tuple[Vertex, ...]
    area_mm2: float


Cut = RoundCut | PathCut


@dataclass(frozen=True, slots=True)
class Place:
    """Where a panel's frame lies in a file; `mirrored` places change the sense of arcs."""

    move: Callable[[float, float], tuple[float, float]]
    mirrored: bool = False


AT_ORIGIN = Place(lambda x, y: (x, y))


def on_sheet(placement: Placement, panel: FlatPanel) -> Place:
    """Return the place of a panel on a sheet; turned is a quarter turn counter-clockwise."""
    left, low, width = to_mm(placement.x), to_mm(placement.y), panel.width_mm
    if placement.turned:
        return Place(lambda x, y: (left + width - y, low + x))
    return Place(lambda x, y: (left + x, low + y))


def turned_over(panel: FlatPanel) -> Place:
    """Return the place of a panel in its second operation."""
    return Place(lambda x, y: (x, panel.width_mm - y), mirrored=True)


def first_operation_cuts(panel: FlatPanel, place: Place, layers: LayerTable) -> tuple[Cut, ...]:
    """Return all cuts of the first operation, the outline first.

    Raises:
        KeyError: the layer table was made without this panel.
    """
    opening = layers.plain(LayerRole.OPENING) if _has_openings(panel, layers) else ""
    cuts: list[Cut] = [_path(panel.outline, place, layers.plain(LayerRole.OUTLINE))]
    cuts += [_path(outline, place, opening) for outline in panel.openings]
    for bore in panel.bores:
        if bore.depth_mm is None:
            layer = layers.bore(bore, Face.UP) if layers.is_drilled(bore) else opening
            cuts.append(_round(bore, place, layer, layers))
    return (*cuts, *_face_cuts(panel, Face.UP, place, layers))


def second_operation_cuts(panel: FlatPanel, layers: LayerTable) -> tuple[Cut, ...]:
    """Return the workpiece's edge and all cuts of the second operation, the edge first.

    Raises:
        KeyError: the layer table was made without this panel.
    """
    place = turned_over(panel)
    edge = _path(panel.outline, place, layers.plain(LayerRole.SHEET))
    return (edge, *_face_cuts(panel, Face.DOWN, place, layers))


def _face_cuts(panel: FlatPanel, face: Face, place: Place, layers: LayerTable) -> list[Cut]:
    cuts: list[Cut] = []
    for pocket in panel.pockets:
        if pocket.face is face:
            layer = layers.groove(pocket.depth_mm, face)
            cuts += [_path(line, place, layer) for line in (pocket.outline, *pocket.islands)]
    for bore in panel.bores:
        if bore.depth_mm is not None and bore.face is face:
            drilled = layers.is_drilled(bore)
            layer = layers.bore(bore, face) if drilled else layers.groove(bore.depth_mm, face)
            cuts.append(_round(bore, place, layer, layers))
    return cuts


def _has_openings(panel: FlatPanel, layers: LayerTable) -> bool:
    routed = any(bore.depth_mm is None and not layers.is_drilled(bore) for bore in panel.bores)
    return bool(panel.openings) or routed


def _path(outline: Outline, place: Place, layer: str) -> Cut:
    sign = -1 if place.mirrored else 1
    vertices = tuple(Vertex(*place.move(v.x, v.y), sign * v.bulge) for v in outline.vertices)
    as_round = round_cut(layer, vertices)
    if as_round is not None:
        return as_round
    return PathCut(layer=layer, vertices=vertices, area_mm2=abs(outline.signed_area_mm2))


def round_cut(layer: str, vertices: tuple[Vertex, ...]) -> RoundCut | None:
    """Return the routed hole that two half circles make; None for any other path."""
    if len(vertices) != 2 or any(abs(abs(v.bulge) - 1) > 1e-9 for v in vertices):
        return None
    a, b = vertices
    across = ((a.x - b.x) ** 2 + (a.y - b.y) ** 2) ** 0.5
    return RoundCut(
        layer=layer, x=(a.x + b.x) / 2, y=(a.y + b.y) / 2, diameter_mm=across, drilled=False
    )


def _round(bore: Bore, place: Place, layer: str, layers: LayerTable) -> RoundCut:
    x, y = place.move(bore.x, bore.y)
    return RoundCut(
        layer=layer, x=x, y=y, diameter_mm=bore.diameter_mm, drilled=layers.is_drilled(bore)
    )
