"""A neutral drawing as DXF bytes. The same drawing always gives the same bytes.

Closed paths become lightweight polylines (R12 has none: 2D polylines there) with a bulge where a
segment is an arc; drilled holes become circles; labels become single-line texts. Nothing else is
written, and only the layers that the drawing uses are declared.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager

from ezdxf import options, units  # type: ignore[attr-defined]  # exported, but not in its __all__
from ezdxf.document import Drawing as Document
from ezdxf.layouts.layout import Modelspace
from ezdxf.lldxf.const import DXFError

from export.drawing.primitives import Drawing
from export.dxf.colours import layer_colours
from export.dxf.fitness import require_fit
from export.dxf_version import DxfVersion
from export.errors import DxfFailure
from export.layer_table import LayerTable
from parametric.geometry.outline import Bounds
from parametric.remembered import remembered


def _key(drawing: Drawing, layers: LayerTable, version: DxfVersion) -> object:
    return drawing, layers, version.value


@remembered("a DXF file", key=_key, freeze=bytes, thaw=bytes, most=0)
def dxf_bytes(drawing: Drawing, layers: LayerTable, version: DxfVersion) -> bytes:
    """Return the drawing as a DXF file in millimetres.

    The unit is stated in the header ($INSUNITS 4), except in R12, which has no such entry.

    Raises:
        UnfitDrawing: the drawing holds what no machine can cut (see `require_fit`).
        DxfFailure: the DXF library refuses the drawing.
    """
    require_fit(drawing, layers)
    doing = f"writing a DXF of release {version}"
    try:
        with fixed_meta_data():
            # Not by the factory `ezdxf.new`: it sets a unit, also where the release has none.
            document = Document.new(version.value)
            _set_up(document, drawing, version)
            _declare_layers(document, drawing, layers)
            _add_entities(document.modelspace(), drawing, version)
            return encoded(document, version)
    except (DXFError, ValueError, TypeError) as error:
        raise DxfFailure(doing=doing, found=str(error)) from error


def _set_up(document: Document, drawing: Drawing, version: DxfVersion) -> None:
    if version is not DxfVersion.R12:
        document.units = units.MM
        document.header["$MEASUREMENT"] = 1  # metric line types and hatches
    bounds = drawing.bounds or Bounds(0.0, 0.0, 1.0, 1.0)
    low, high = (bounds.x0, bounds.y0), (bounds.x1, bounds.y1)
    document.modelspace().reset_extents((*low, 0.0), (*high, 0.0))
    document.modelspace().reset_limits(low, high)
    # The library does not carry an extent over to the header when it starts at the origin.
    document.header["$EXTMIN"], document.header["$EXTMAX"] = (*low, 0.0), (*high, 0.0)
    width, height = bounds.x1 - bounds.x0, bounds.y1 - bounds.y0
    document.set_modelspace_vport(
        height=max(width, height) * 1.1,
        center=((bounds.x0 + bounds.x1) / 2, (bounds.y0 + bounds.y1) / 2),
    )


def _declare_layers(document: Document, drawing: Drawing, layers: LayerTable) -> None:
    used = drawing.used_layers()
    for name, colour in layer_colours(layers).items():
        if name in used:
            document.layers.add(name, color=colour)
    # The library adds this layer for dimensions, of which there are none.
    document.layers.discard("Defpoints")


def _add_entities(space: Modelspace, drawing: Drawing, version: DxfVersion) -> None:
    for path in drawing.paths:
        points = [(vertex.x, vertex.y, vertex.bulge) for vertex in path.vertices]
        attributes = {"layer": path.layer}
        if version is DxfVersion.R12:
            space.add_polyline2d(points, format="xyb", close=True, dxfattribs=attributes)
        else:
            space.add_lwpolyline(points, format="xyb", close=True, dxfattribs=attributes)
    for circle in drawing.circles:
        centre = (circle.x, circle.y)
        space.add_circle(centre, circle.diameter_mm / 2, dxfattribs={"layer": circle.layer})
    for label in drawing.labels:
        text = space.add_text(
            label.text,
            height=label.height_mm,
            rotation=label.angle_deg,
            dxfattribs={"layer": label.layer},
        )
        text.set_placement((label.x, label.y))


def encoded(document: Document, version: DxfVersion) -> bytes:
    """Return the document as the bytes of a file."""
    if version is not DxfVersion.R12:
        # Else the library would add these in the order of a set, which changes from run to run.
        for name in sorted(document.entitydb.dxf_types_in_use()):
            document.classes.add_class(name)
    stream = io.StringIO()
    document.write(stream)
    return document.encode(stream.getvalue())


@contextmanager
def fixed_meta_data() -> Iterator[None]:
    """Keep the clock and random identities out of the file; the library has one switch for both."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before
