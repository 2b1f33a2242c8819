"""What stands on a drawing as its DXF file has it: every text's box, every line. For tests that
look for texts on lines. Reads with ezdxf, judges with shapely.
"""

from __future__ import annotations

import itertools
from typing import Any

from shapely.geometry import LineString, Point, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.strtree import STRtree

from tests.drawn_part import flat

BROAD = 0.75
"""How broad a letter is for its height: what a single-stroke font takes with the style's factor."""


def texts_of(document: Any) -> list[tuple[str, BaseGeometry]]:
    """The texts of the views with their boxes, also those in blocks of dimensions."""
    return [
        (text.dxf.text, text_box(text))
        for layout in layouts(document)
        for text in layout.query("TEXT")
        if text.dxf.layer != "DRAWING-TABLE"
    ]


def lines_of(document: Any) -> list[BaseGeometry]:
    """All lines, edges, circles and arrowheads."""
    found: list[BaseGeometry] = []
    for layout in layouts(document):
        for each in layout:
            match each.dxftype():
                case "LINE":
                    ends = each.dxf.start, each.dxf.end
                    found.append(LineString([(end.x, end.y) for end in ends]))
                case "LWPOLYLINE":
                    points = each.get_points("xyb")
                    loop = flat(points)
                    # Else the last edge, back to the first point, would be drawn though it is not.
                    path = [*loop, loop[0]] if each.closed else [p[:2] for p in points]
                    found += [LineString(pair) for pair in itertools.pairwise(path)]
                case "CIRCLE":
                    centre = each.dxf.center
                    found.append(Point(centre.x, centre.y).buffer(each.dxf.radius).exterior)
                case "SOLID":
                    found.append(Polygon([(v.x, v.y) for v in each.vertices()]))
    return found


def layouts(document: Any) -> list[Any]:
    used = {d.dxf.geometry for d in document.modelspace().query("DIMENSION")}
    return [document.modelspace(), *(b for b in document.blocks if b.name in used)]


def text_box(text: Any) -> BaseGeometry:
    x, y = text.dxf.align_point.x, text.dxf.align_point.y
    high = text.dxf.height
    long = BROAD * high * len(text.dxf.text)
    across, up = (high, long) if text.dxf.rotation == 90 else (long, high)
    return box(x - across / 2, y - up / 2, x + across / 2, y + up / 2)


def collisions(document: Any) -> list[str]:
    """Where a text meets a line or another text."""
    texts, lines = texts_of(document), lines_of(document)
    boxes = [each for _, each in texts]
    found = []
    tree = STRtree(lines)
    for text, own in texts:
        if tree.query(own, predicate="intersects").size:
            found.append(f"{text} on a line")
    others = STRtree(boxes)
    for index, (text, own) in enumerate(texts):
        for other in others.query(own, predicate="intersects"):
            if other > index:
                found.append(f"{text} on {texts[other][0]}")
    return found
