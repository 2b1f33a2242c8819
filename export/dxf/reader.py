"""A DXF file read back into neutral primitives, for checking and for pictures of what it holds."""

from __future__ import annotations

import hashlib
import io
import pickle
from pathlib import Path

from ezdxf import units
from ezdxf.document import Drawing as Document
from ezdxf.entities.circle import Circle as CircleEntity
from ezdxf.entities.dxfentity import DXFEntity
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.entities.polyline import Polyline
from ezdxf.entities.text import Text
from ezdxf.filemanagement import dxf_stream_info, read
from ezdxf.lldxf.const import DXFError

from export.drawing.primitives import Circle, ClosedPath, Drawing, Label
from export.dxf.content import DxfContent
from export.errors import DxfFailure
from parametric.geometry.outline import Vertex
from parametric.remembered import remembered

# What the library is seen to raise on files that are cut short or garbled.
_FAILURES = (OSError, ValueError, LookupError, TypeError, AttributeError, StopIteration, DXFError)


def read_dxf(source: bytes | Path) -> DxfContent:
    """Return the content of a DXF file's model space, in the order of the file.

    Raises:
        DxfFailure: the file is missing, is no DXF, or is in another unit than millimetres.
    """
    doing = f"reading {source}" if isinstance(source, Path) else "reading a DXF"
    try:
        data = source.read_bytes() if isinstance(source, Path) else source
        return _read(data, doing)
    except _FAILURES as error:
        raise DxfFailure(doing=doing, found=f"{type(error).__name__} {error}".strip()) from error


def _key(data: bytes, doing: str) -> object:
    return hashlib.sha256(data).hexdigest()


def _frozen(content: DxfContent) -> bytes:
    return pickle.dumps(content)


def _thawed(frozen: bytes) -> DxfContent:
    content: DxfContent = pickle.loads(frozen)
    return content


@remembered("what a DXF file holds", key=_key, freeze=_frozen, thaw=_thawed, most=0)
def _read(data: bytes, doing: str) -> DxfContent:
    return _content(_document(data), doing)


def _document(data: bytes) -> Document:
    # The header, in plain ASCII, says how the rest is encoded.
    info = dxf_stream_info(io.StringIO(data.decode("latin-1")))
    return read(io.StringIO(data.decode(info.encoding)))


def _content(document: Document, doing: str) -> DxfContent:
    stated = document.header.get("$INSUNITS")
    if stated not in (None, units.MM, 0):
        raise DxfFailure(doing=doing, found=f"unit code {stated} ($INSUNITS), not 4 (millimetres)")
    paths, circles, labels, unread = [], [], [], []
    for entity in document.modelspace():
        match _primitive(entity):
            case ClosedPath() as path:
                paths.append(path)
            case Circle() as circle:
                circles.append(circle)
            case Label() as label:
                labels.append(label)
            case None:
                unread.append(f"{entity.dxftype()} on layer {entity.dxf.layer}")
    return DxfContent(
        drawing=Drawing(paths=tuple(paths), circles=tuple(circles), labels=tuple(labels)),
        release=document.dxfversion,
        unit_code=stated,
        declared=tuple(
            layer.dxf.name
            for layer in document.layers
            if layer.dxf.name.casefold() not in ("0", "defpoints")
        ),
        unread=tuple(unread),
    )


def _primitive(entity: DXFEntity) -> ClosedPath | Circle | Label | None:
    layer = entity.dxf.layer
    if isinstance(entity, LWPolyline) and entity.closed:
        points = entity.get_points("xyb")
        # The library keeps these in arrays, whose numbers do not print as plain ones.
        vertices = tuple(Vertex(*map(float, point)) for point in points)
        return ClosedPath(layer=layer, vertices=vertices)
    if isinstance(entity, Polyline) and entity.is_2d_polyline and entity.is_closed:
        vertices = tuple(
            Vertex(vertex.dxf.location.x, vertex.dxf.location.y, vertex.dxf.bulge)
            for vertex in entity.vertices
        )
        return ClosedPath(layer=layer, vertices=vertices)
    if isinstance(entity, CircleEntity):
        centre = entity.dxf.center
        return Circle(layer=layer, x=centre.x, y=centre.y, diameter_mm=2 * entity.dxf.radius)
    if isinstance(entity, Text):
        at = entity.dxf.insert
        return Label(
            layer=layer,
            text=entity.dxf.text,
            x=at.x,
            y=at.y,
            height_mm=entity.dxf.height,
            angle_deg=entity.dxf.rotation,
        )
    return None
