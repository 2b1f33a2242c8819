"""A part's solid made from its DXF files alone: what a stranger would make of them.

Reads the files with ezdxf and the manifest's layer table; shares no code with the program.
"""

import json
import math
from pathlib import Path
from typing import Any

import cadquery as cq
import ezdxf

from tests.solid_assertions import difference_mm3

Layers = dict[str, dict[str, Any]]


def manifest_of(out: Path) -> dict[str, Any]:
    return json.loads((out / "manifest.json").read_text())


def layers_of(manifest: dict[str, Any]) -> Layers:
    return {layer["name"]: layer for layer in manifest["layers"]}


def part_files(manifest: dict[str, Any], number: str) -> list[dict[str, Any]]:
    found = [f for f in manifest["files"] if f["role"] == "part" and f["part"] == number]
    return sorted(found, key=lambda f: f["operation"])


def solid_from_dxf(out: Path, manifest: dict[str, Any], number: str, thickness: float) -> cq.Solid:
    """Face UP is z = thickness. The second operation is turned over about the length."""
    layers = layers_of(manifest)
    blank: cq.Solid | None = None
    tools: list[cq.Solid] = []
    pockets: list[cq.Shape] = []
    for file in part_files(manifest, number):
        second = file["operation"] == "second"
        placed: list[tuple[dict[str, Any], cq.Wire, tuple[float, float]]] = []
        edge: list[cq.Wire] = []
        for entity in ezdxf.readfile(out / file["path"]).modelspace():
            layer = layers[entity.dxf.layer]
            if layer["role"] == "text":
                continue
            wire = wire_of(entity)
            if layer["role"] in ("sheet", "outline"):
                edge.append(wire)
            if layer["role"] == "outline":
                blank = extruded(wire, 0, thickness)
            elif layer["role"] != "sheet":
                placed.append((layer, wire, (0, 0)))
        assert len(edge) == 1
        width = edge[0].BoundingBox().ymax
        grooves: dict[str, list[cq.Wire]] = {}
        for layer, wire, _ in placed:
            if layer["role"] == "groove":
                grooves.setdefault(layer["name"], []).append(wire)
                continue
            depth = thickness if layer["depth_mm"] is None else layer["depth_mm"]
            tools.append(cut_from_above(wire, depth, thickness, second, width))
        for name, wires in grooves.items():
            depth = layers[name]["depth_mm"]
            for outer, islands in nested(wires):
                tool: cq.Shape = cut_from_above(outer, depth, thickness, second, width)
                for island in islands:
                    tool = tool.cut(cut_from_above(island, depth, thickness, second, width))
                pockets.append(tool)
    assert blank is not None
    return blank.cut(*tools, *pockets).Solids()[0] if tools or pockets else blank


def nested(wires: list[cq.Wire]) -> list[tuple[cq.Wire, list[cq.Wire]]]:
    """Outer wires with the islands inside them (even-odd rule, one level)."""

    def inside(a: cq.Wire, b: cq.Wire) -> bool:
        p, q = a.BoundingBox(), b.BoundingBox()
        return p.xmin > q.xmin and p.xmax < q.xmax and p.ymin > q.ymin and p.ymax < q.ymax

    outers = [w for w in wires if not any(inside(w, other) for other in wires if other is not w)]
    return [(o, [w for w in wires if w is not o and inside(w, o)]) for o in outers]


def cut_from_above(
    wire: cq.Wire, depth: float, thickness: float, second: bool, width: float
) -> cq.Solid:
    tool = extruded(wire, thickness - depth, thickness + 1)
    if depth >= thickness:
        tool = extruded(wire, -1, thickness + 1)
    if not second:
        return tool
    # Turned over about the length: (x, y, z) -> (x, width - y, thickness - z).
    turned = tool.rotate(cq.Vector(0, 0, 0), cq.Vector(1, 0, 0), 180)
    return turned.moved(cq.Location(cq.Vector(0, width, thickness)))


def extruded(wire: cq.Wire, low: float, high: float) -> cq.Solid:
    base = wire.moved(cq.Location(cq.Vector(0, 0, low)))
    return cq.Solid.extrudeLinear(base, [], cq.Vector(0, 0, high - low))


def wire_of(entity: Any) -> cq.Wire:
    if entity.dxftype() == "CIRCLE":
        centre = cq.Vector(entity.dxf.center.x, entity.dxf.center.y, 0)
        return cq.Wire.makeCircle(entity.dxf.radius, centre, cq.Vector(0, 0, 1))
    if entity.dxftype() == "LWPOLYLINE":
        assert entity.closed
        points = [(x, y, b) for x, y, b in entity.get_points("xyb")]
    else:
        assert entity.dxftype() == "POLYLINE"
        assert entity.is_closed
        points = [(v.dxf.location.x, v.dxf.location.y, v.dxf.bulge) for v in entity.vertices]
    edges = []
    for (ax, ay, bulge), (bx, by, _) in zip(points, points[1:] + points[:1], strict=True):
        start, end = cq.Vector(ax, ay, 0), cq.Vector(bx, by, 0)
        if bulge:
            middle = ((ax + bx) / 2 + bulge * (by - ay) / 2, (ay + by) / 2 - bulge * (bx - ax) / 2)
            edges.append(cq.Edge.makeThreePointArc(start, cq.Vector(*middle, 0), end))
        else:
            edges.append(cq.Edge.makeLine(start, end))
    return cq.Wire.assembleEdges(edges)


def best_difference(dxf_solid: cq.Shape, step_solid: cq.Shape, enough_mm3: float = 0.0) -> float:
    """Least volume of the difference over the proper motions that lay one bounding box on the
    other; or a small one, if less than `enough_mm3` is all that is asked. The STEP solid may stand
    anywhere as long as its faces follow the axes.
    """
    target = centred(step_solid)
    turned = [t for t in turned_every_way(centred(dxf_solid)) if same_box(t, target)]
    at_least = [(least_difference_mm3(t, target), at) for at, t in enumerate(turned)]
    best = math.inf
    for least, at in sorted(at_least):
        if best < enough_mm3 or best <= least:
            break
        best = min(best, difference_mm3(turned[at], target))
    return best


def least_difference_mm3(a: cq.Shape, b: cq.Shape) -> float:
    """What two solids in one box about the origin differ by at least: no more of one than that can
    shift the moment of the volume by as much, from no further than a corner of the box.
    """
    reach = a.BoundingBox().DiagonalLength / 2
    moments = (s.Center() * s.Volume() for s in (a, b))
    one, other = moments
    return float((one - other).Length / reach)


def centred(solid: cq.Shape) -> cq.Shape:
    box = solid.BoundingBox()
    return solid.moved(cq.Location(cq.Vector(*(-v for v in box.center.toTuple()))))


def same_box(a: cq.Shape, b: cq.Shape) -> bool:
    p, q = a.BoundingBox(), b.BoundingBox()
    return math.dist((p.xlen, p.ylen, p.zlen), (q.xlen, q.ylen, q.zlen)) < 1e-3


def turned_every_way(solid: cq.Shape) -> list[cq.Shape]:
    """The 24 proper turns that map the axes onto the axes."""
    o, x, y, z = (cq.Vector(*v) for v in ((0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 1)))
    faces = [
        solid,
        solid.rotate(o, x, 90),
        solid.rotate(o, x, 180),
        solid.rotate(o, x, 270),
        solid.rotate(o, y, 90),
        solid.rotate(o, y, 270),
    ]
    axes = [z, y, z, y, x, x]
    return [
        face.rotate(o, axis, quarter * 90)
        for face, axis in zip(faces, axes, strict=True)
        for quarter in range(4)
    ]
