"""What is cut on a sheet or a part, read off the file that the router gets.

A *cut* is a closed path or a hole. Lengths are those of the lines that the file has; the middle of
the bit runs half its diameter beside them, which nobody knows here: the control sees to it. What a
pocket holds beyond the way along its edge is cleared in lanes `STEP_OVER` of the bit apart.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import fsum

from export.drawing.primitives import Circle, ClosedPath, Drawing
from export.layer_table import Layer, LayerRole, LayerTable
from export.routing.machine_rates import BitRole
from parametric.geometry.outline import Outline
from parametric.meshes.facets import PlanePoint, polygon

STEP_OVER = 0.5
"""Distance of lanes in a pocket, as a share of the bit's diameter (common practice, no source)."""

_ROLES = {
    LayerRole.BORE: BitRole.BORE,
    LayerRole.GROOVE: BitRole.GROOVE,
    LayerRole.OPENING: BitRole.OPENING,
    LayerRole.OUTLINE: BitRole.OUTLINE,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """A closed path or a hole: where the bit goes down, how far it then runs along the line (0 for
    a hole), and how wide the narrowest side of its bounding rectangle is, or the hole.
    """

    x: float
    y: float
    along_mm: float
    narrowest_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerCuts:
    """All cuts of a layer in the order of the file. `area_mm2` is what pockets take away, 0 for
    what is not a pocket.
    """

    layer: Layer
    role: BitRole
    depth_mm: float
    cuts: tuple[Cut, ...]
    area_mm2: float

    @property
    def along_mm(self) -> float:
        """The length of all lines."""
        return fsum(cut.along_mm for cut in self.cuts)

    @property
    def narrowest_mm(self) -> float:
        """The narrowest of all cuts."""
        return min(cut.narrowest_mm for cut in self.cuts)


def layer_cuts(drawing: Drawing, layers: LayerTable, thickness_mm: float) -> tuple[LayerCuts, ...]:
    """Return what is cut of a board of that thickness, layer by layer in the order of cutting:
    holes, pockets, openings, outlines; each as the layer table has them. Empty layers are left out.
    """
    found = [
        LayerCuts(
            layer=layer,
            role=_ROLES[layer.role],
            depth_mm=thickness_mm if layer.depth_mm is None else layer.depth_mm,
            cuts=cuts,
            area_mm2=pocket_area_mm2(paths) if layer.role is LayerRole.GROOVE else 0.0,
        )
        for layer in layers.layers
        if layer.role in _ROLES
        for paths in ([path for path in drawing.paths if path.layer == layer.name],)
        if (cuts := tuple(_cuts(paths, drawing.circles, layer.name)))
    ]
    order = list(BitRole)
    return tuple(sorted(found, key=lambda each: order.index(each.role)))


def pocket_area_mm2(paths: Sequence[ClosedPath]) -> float:
    """Return the area inside an odd number of the paths, which touch nowhere, exact for arcs."""
    outlines = [path.outline for path in paths]
    shapes = [polygon(outline) for outline in outlines]
    areas = []
    for index, outline in enumerate(outlines):
        point = shapes[index][0]
        around = sum(
            _may_hold(other, point) and _holds(shapes[at], point)
            for at, other in enumerate(outlines)
            if at != index
        )
        area = abs(outline.signed_area_mm2)
        areas.append(-area if around % 2 else area)
    return fsum(areas)


def _cuts(paths: Sequence[ClosedPath], circles: Sequence[Circle], layer: str) -> Iterator[Cut]:
    for path in paths:
        first, box = path.vertices[0], path.outline.bounds
        yield Cut(
            x=first.x,
            y=first.y,
            along_mm=path.outline.length_mm,
            narrowest_mm=min(box.x1 - box.x0, box.y1 - box.y0),
        )
    for circle in circles:
        if circle.layer == layer:
            yield Cut(x=circle.x, y=circle.y, along_mm=0.0, narrowest_mm=circle.diameter_mm)


def _may_hold(outline: Outline, point: PlanePoint) -> bool:
    box = outline.bounds
    return box.x0 < point[0] < box.x1 and box.y0 < point[1] < box.y1


def _holds(corners: Sequence[PlanePoint], point: PlanePoint) -> bool:
    x, y = point
    inside = False
    for (ax, ay), (bx, by) in zip(corners, [*corners[1:], corners[0]], strict=True):
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            inside = not inside
    return inside
