"""A part's panel, read back from the cut files of its operations."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from export.drawing.primitives import ClosedPath, Drawing
from export.layer_table import Layer, LayerRole
from parametric.geometry.outline import Bounds, Outline
from parametric.shapes.panel import Bore, EdgeBore, Face, FlatPanel, Pocket


def read_panel(
    first: Drawing,
    second: Drawing | None,
    layers: Mapping[str, Layer],
    thickness_mm: float,
    edge_bores: tuple[EdgeBore, ...] = (),
) -> FlatPanel:
    """Return the panel that these operations make.

    Holes that are routed come back as openings and pockets, which is what they are on the machine.

    Raises:
        ValueError: the first operation has not exactly one outline, or a layer is not known.
    """
    unknown = sorted(first.used_layers() - set(layers))
    if unknown:
        raise ValueError(f"layers {', '.join(unknown)} are not in the manifest")
    outlines = [p.outline for p in first.paths if layers[p.layer].role is LayerRole.OUTLINE]
    if len(outlines) != 1:
        raise ValueError(f"{len(outlines)} outlines")
    box = outlines[0].bounds
    pockets, bores = _cuts(first, layers, Face.UP)
    if second is not None:
        turned = _panel(outlines[0], box, thickness_mm, *_cuts(second, layers, Face.UP))
        below = turned.turned_over()
        pockets, bores = pockets + list(below.pockets), bores + list(below.bores)
    openings = [p.outline for p in first.paths if layers[p.layer].role is LayerRole.OPENING]
    panel = _panel(outlines[0], box, thickness_mm, pockets, bores)
    return replace(panel, openings=tuple(openings), edge_bores=edge_bores)


def _panel(
    outline: Outline,
    box: Bounds,
    thickness_mm: float,
    pockets: list[Pocket],
    bores: list[Bore],
) -> FlatPanel:
    return FlatPanel(
        length_mm=box.x1 - box.x0,
        width_mm=box.y1 - box.y0,
        thickness_mm=thickness_mm,
        outline=outline,
        openings=(),
        pockets=tuple(pockets),
        bores=tuple(bores),
        edge_bores=(),
    )


def _cuts(
    drawing: Drawing, layers: Mapping[str, Layer], face: Face
) -> tuple[list[Pocket], list[Bore]]:
    """Return the blind cuts of one operation, and in the first the holes right through."""
    bores = [
        Bore(
            x=circle.x,
            y=circle.y,
            diameter_mm=circle.diameter_mm,
            depth_mm=layers[circle.layer].depth_mm,
            face=face,
        )
        for circle in drawing.circles
        if layers[circle.layer].role is LayerRole.BORE
    ]
    pockets = []
    for name, layer in layers.items():
        if layer.role is LayerRole.GROOVE and layer.depth_mm is not None:
            paths = [path for path in drawing.paths if path.layer == name]
            pockets += list(_pockets(paths, layer.depth_mm, face))
    return pockets, bores


def _pockets(paths: Iterable[ClosedPath], depth_mm: float, face: Face) -> Iterable[Pocket]:
    """Yield the pockets of a layer: a path within another is an island of it (even-odd rule)."""
    outlines = sorted((p.outline for p in paths), key=lambda o: -abs(o.signed_area_mm2))
    taken: list[tuple[Outline, list[Outline]]] = []
    for outline in outlines:
        around = [each for each in taken if _within(outline.bounds, each[0].bounds)]
        if around:
            around[-1][1].append(outline)
        else:
            taken.append((outline, []))
    for outline, islands in taken:
        yield Pocket(outline=outline, islands=tuple(islands), depth_mm=depth_mm, face=face)


def _within(inner: Bounds, outer: Bounds) -> bool:
    return (
        outer.x0 <= inner.x0
        and outer.y0 <= inner.y0
        and inner.x1 <= outer.x1
        and inner.y1 <= outer.y1
    )
