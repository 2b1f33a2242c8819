"""Hatching: lines at 45 degrees across an area (ISO 128-3)."""

from __future__ import annotations

import math

from shapely import LineString
from shapely.geometry.base import BaseGeometry

from export.dimensions.content import Line


def hatched(area: BaseGeometry, slope: float, apart_mm: float) -> list[Line]:
    """Return lines at 45 degrees across an area, rising (`slope` 1) or falling (-1); their places
    do not depend on it.
    """
    x0, y0, x1, y1 = area.bounds
    step = apart_mm * math.sqrt(2.0)
    low, high = min(y0 - slope * x for x in (x0, x1)), max(y1 - slope * x for x in (x0, x1))
    found: list[Line] = []
    for number in range(math.ceil(low / step), math.floor(high / step) + 1):
        at = number * step
        line = LineString([(x0, slope * x0 + at), (x1, slope * x1 + at)])
        found += pieces(area.intersection(line))
    return found


def pieces(of: BaseGeometry) -> list[Line]:
    """Return the lines of a geometry, each from point to point."""
    lines = getattr(of, "geoms", [of])
    return [
        tuple((x, y) for x, y in line.coords)
        for line in lines
        if line.geom_type in ("LineString", "LinearRing") and not line.is_empty
    ]
