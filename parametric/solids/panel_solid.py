"""A solid made from a flat panel: the way back from `flatten`, and the check of it."""

from __future__ import annotations

import cadquery as cq

from parametric.geometry.outline import Outline
from parametric.shapes.panel import Bore, EdgeBore, Face, FlatPanel
from parametric.solids.kernel_errors import kernel_operation

PAST_MM = 1.0  # how far tools reach past the faces


def panel_solid(name: str, panel: FlatPanel) -> cq.Solid:
    """Return the panel as a solid in its own frame, from z = 0 (face DOWN) to its thickness.

    Raises:
        KernelFailure: the kernel cannot build it.
    """
    thickness = panel.thickness_mm
    with kernel_operation(name, "extruding the panel"):
        blank = prism(panel.outline, 0.0, thickness)
        tools: list[cq.Shape] = [
            prism(opening, -PAST_MM, thickness + PAST_MM) for opening in panel.openings
        ]
        for pocket in panel.pockets:
            low, high = cut_heights(pocket.face, pocket.depth_mm, thickness)
            tool: cq.Shape = prism(pocket.outline, low, high)
            if pocket.islands:
                tool = tool.cut(*(prism(island, low - 1, high + 1) for island in pocket.islands))
            tools.append(tool)
        tools.extend(bore_tool(bore, thickness) for bore in panel.bores)
        tools.extend(edge_bore_tool(bore) for bore in panel.edge_bores)
        shape: cq.Shape = blank.cut(*tools) if tools else blank
        return shape.Solids()[0]


def cut_heights(face: Face, depth_mm: float, thickness_mm: float) -> tuple[float, float]:
    """Return from where to where in z a tool reaches that cuts `depth_mm` into `face`."""
    if face is Face.UP:
        return thickness_mm - depth_mm, thickness_mm + PAST_MM
    return -PAST_MM, depth_mm


def bore_tool(bore: Bore, thickness_mm: float) -> cq.Solid:
    """Return the cylinder of a bore."""
    depth = thickness_mm + PAST_MM if bore.depth_mm is None else bore.depth_mm
    low, high = cut_heights(bore.face, depth, thickness_mm)
    return cq.Solid.makeCylinder(
        bore.diameter_mm / 2, high - low, cq.Vector(bore.x, bore.y, low), cq.Vector(0, 0, 1)
    )


def edge_bore_tool(bore: EdgeBore) -> cq.Solid:
    """Return the cylinder of an edge bore, reaching out past its mouth."""
    back = (bore.x - bore.direction_x * PAST_MM, bore.y - bore.direction_y * PAST_MM)
    return cq.Solid.makeCylinder(
        bore.diameter_mm / 2,
        bore.depth_mm + PAST_MM,
        cq.Vector(back[0], back[1], bore.z_mm),
        cq.Vector(bore.direction_x, bore.direction_y, 0),
    )


def prism(outline: Outline, low: float, high: float) -> cq.Solid:
    """Return the outline extruded from z = `low` to z = `high`."""
    edges = []
    for a, b in outline.segments():
        start, end = cq.Vector(a.x, a.y, low), cq.Vector(b.x, b.y, low)
        if a.bulge:
            x, y = arc_middle(a.x, a.y, b.x, b.y, a.bulge)
            edges.append(cq.Edge.makeThreePointArc(start, cq.Vector(x, y, low), end))
        else:
            edges.append(cq.Edge.makeLine(start, end))
    wire = cq.Wire.assembleEdges(edges)
    return cq.Solid.extrudeLinear(wire, [], cq.Vector(0, 0, high - low))


def arc_middle(ax: float, ay: float, bx: float, by: float, bulge: float) -> tuple[float, float]:
    """Return the middle of the arc with the given ends and bulge."""
    return (ax + bx) / 2 + bulge * (by - ay) / 2, (ay + by) / 2 - bulge * (bx - ax) / 2
