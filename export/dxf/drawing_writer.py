"""A part's drawing as DXF bytes, in millimetres and full size: the same drawing as on paper.

Sizes are real DIMENSION entities that carry the measured value; what people read beside it is their
text. Lines and texts of each stand in its own block, so that they lie where they lie on paper. The
corner that all is measured from is the origin, in the first view.
"""

from __future__ import annotations

from collections.abc import Iterable

from ezdxf import units as dxf_units
from ezdxf.document import Drawing as Document
from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts.base import BaseLayout
from ezdxf.lldxf.const import BLK_ANONYMOUS, DXFError

from export.dimensions.content import ARROW_MM, CAPITAL_MM, Arrow, Dimension, Line, Measure, Text
from export.dimensions.on_page import OnPage
from export.dimensions.picture import DOT_MM
from export.dxf.drawing_layers import EDGE_LAYERS, DrawingLayer
from export.dxf.drawing_tables import add_tables
from export.dxf.writer import encoded, fixed_meta_data
from export.dxf_version import DxfVersion
from export.errors import DxfFailure
from export.part_drawing.content import PartDrawing, View
from export.visible_text import visible

RELEASE = DxfVersion.R2010
STYLE = "PART-DRAWING"
_NARROW = 0.75  # single-stroke letters are as wide as high; so they keep to their boxes

# Kinds of dimensions as the format numbers them; 32: it has a block of its own, 128: its text a
# place of its own.
_TYPES = {
    Measure.LENGTH: 0 | 32 | 128,
    Measure.WIDTH: 0 | 32 | 128,
    Measure.DIAMETER: 3 | 32 | 128,
    Measure.RADIUS: 4 | 32 | 128,
    Measure.Y: 6 | 32 | 128,
    Measure.X: 6 | 32 | 64 | 128,
}


def drawing_dxf(drawing: PartDrawing) -> bytes:
    """Return the drawing as a DXF file. The same drawing always gives the same bytes.

    Raises:
        DxfFailure: the DXF library refuses the drawing.
    """
    try:
        with fixed_meta_data():
            document = Document.new(RELEASE.value)
            full = _full_size(drawing)
            _set_up(document, drawing, full)
            pen = _Pen(document, full)
            for view in drawing.views:
                pen.view(view)
            add_tables(document, drawing, full, STYLE)
            return encoded(document, RELEASE)
    except (DXFError, ValueError, TypeError) as error:
        raise DxfFailure(doing=f"drawing {drawing.number}", found=str(error)) from error


def _full_size(drawing: PartDrawing) -> OnPage:
    """Return the way from the page to full size, the corner at the origin."""
    (x, y), scale = drawing.views[0].corner, drawing.scale
    return OnPage(scale, -x * scale, -y * scale)


def _set_up(document: Document, drawing: PartDrawing, full: OnPage) -> None:
    document.units = dxf_units.MM
    document.header["$MEASUREMENT"] = 1
    document.header["$EXTMIN"] = (*full.at((0.0, 0.0)), 0.0)
    document.header["$EXTMAX"] = (*full.at(drawing.size_mm), 0.0)
    for layer in DrawingLayer:
        document.layers.add(layer.value, color=7)
    document.styles.add(STYLE, font="txt").dxf.width = _NARROW
    document.dimstyles.add(
        STYLE,
        dxfattribs={
            "dimtxt": CAPITAL_MM * full.scale,
            "dimasz": ARROW_MM * full.scale,
            "dimtxsty": STYLE,
            "dimdec": 3,
            "dimzin": 8,
        },
    )
    wide, high = (side * full.scale for side in drawing.size_mm)
    middle = full.at((drawing.size_mm[0] / 2, drawing.size_mm[1] / 2))
    document.set_modelspace_vport(height=max(wide, high) * 1.1, center=middle)


class _Pen:
    """Draws what stands on the page into a document, full size."""

    def __init__(self, document: Document, full: OnPage) -> None:
        self._document = document
        self._space = document.modelspace()
        self._full = full

    def view(self, view: View) -> None:
        """Draw a view with all that belongs to it."""
        full, space = self._full, self._space
        for edge in view.edges:
            points = [(v.x, v.y, v.bulge) for v in full.outline(edge.outline).vertices]
            layer = {"layer": EDGE_LAYERS[edge.kind].value}
            space.add_lwpolyline(points, format="xyb", close=True, dxfattribs=layer)
        for hole in view.holes:
            radius = hole.radius_mm * full.scale
            layer = {"layer": DrawingLayer.HOLE.value}
            space.add_circle(full.at(hole.middle), radius, dxfattribs=layer)
        self._lines(space, view.strokes, DrawingLayer.SIGN)
        self._arrows(space, view.arrows, DrawingLayer.SIGN)
        self._lines(space, view.bands, DrawingLayer.BAND)
        self._text(space, view.title, DrawingLayer.LETTER)
        for mark in view.marks:
            self._text(space, mark.text, DrawingLayer.LETTER)
            if mark.leader:
                self._lines(space, [mark.leader], DrawingLayer.LETTER)
        space.add_circle(
            full.at(view.corner),
            DOT_MM * full.scale,
            dxfattribs={"layer": DrawingLayer.LETTER.value},
        )
        for dimension in view.dimensions:
            self._dimension(dimension)

    def _dimension(self, dimension: Dimension) -> None:
        blocks = self._document.blocks
        block = blocks.new(f"*D{len(blocks)}", dxfattribs={"flags": BLK_ANONYMOUS})
        self._lines(block, dimension.lines, DrawingLayer.DIMENSION)
        self._arrows(block, dimension.arrows, DrawingLayer.DIMENSION)
        self._text(block, dimension.text, DrawingLayer.DIMENSION)
        attributes = {
            "layer": DrawingLayer.DIMENSION.value,
            "dimstyle": STYLE,
            "geometry": block.name,
            "dimtype": _TYPES[dimension.measure],
            "text": dimension.text.text,
            "text_midpoint": self._full.at(dimension.text.middle),
            "actual_measurement": dimension.value_mm,
        }
        self._space.new_entity("DIMENSION", attributes | self._defined(dimension))

    def _defined(self, dimension: Dimension) -> dict[str, object]:
        """Return the points that define a dimension, by the names that the library has."""
        points = [self._full.at(point) for point in dimension.points]
        match dimension.measure:
            case Measure.RADIUS | Measure.DIAMETER:
                return {"defpoint": points[0], "defpoint4": points[1], "leader_length": 0.0}
            case Measure.LENGTH | Measure.WIDTH:
                angle = 0.0 if dimension.measure is Measure.LENGTH else 90.0
                start, end, on_line = points
                return {"defpoint": on_line, "defpoint2": start, "defpoint3": end, "angle": angle}
            case _:
                return dict(zip(("defpoint", "defpoint2", "defpoint3"), points, strict=True))

    def _lines(self, layout: BaseLayout, lines: Iterable[Line], layer: DrawingLayer) -> None:
        for line in lines:
            points = [self._full.at(point) for point in line]
            if len(points) == 2:
                layout.add_line(points[0], points[1], dxfattribs={"layer": layer.value})
            else:
                layout.add_lwpolyline(points, dxfattribs={"layer": layer.value})

    def _arrows(self, layout: BaseLayout, arrows: Iterable[Arrow], layer: DrawingLayer) -> None:
        for arrow in arrows:
            points = [self._full.at(corner) for corner in arrow.head]
            layout.add_solid(points, dxfattribs={"layer": layer.value})

    def _text(self, layout: BaseLayout, text: Text, layer: DrawingLayer) -> None:
        layout.add_text(
            visible(text.text),
            height=CAPITAL_MM * self._full.scale,
            rotation=text.reading.value,
            dxfattribs={"layer": layer.value, "style": STYLE, "width": _NARROW},
        ).set_placement(self._full.at(text.middle), align=TextEntityAlignment.MIDDLE_CENTER)
