"""The layers of a part's drawing. None of them is a layer of cut files: it is there to be read."""

from __future__ import annotations

from enum import StrEnum

from export.part_drawing.content import Kind


class DrawingLayer(StrEnum):
    """What stands on a layer; the value is its name."""

    PART = "DRAWING-PART"
    OPENING = "DRAWING-OPENING"
    GROOVE = "DRAWING-GROOVE"
    HOLE = "DRAWING-HOLE"
    BAND = "DRAWING-BAND"
    SIGN = "DRAWING-SIGN"  # crosses of holes, the way of the grain
    LETTER = "DRAWING-LETTER"
    DIMENSION = "DRAWING-DIMENSION"
    TABLE = "DRAWING-TABLE"


EDGE_LAYERS = {
    Kind.PART: DrawingLayer.PART,
    Kind.OPENING: DrawingLayer.OPENING,
    Kind.GROOVE: DrawingLayer.GROOVE,
}
