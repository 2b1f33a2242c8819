"""Model files: STEP and binary glTF of a set, one product a part number, placed in the room."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

import cadquery as cq
from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.IFSelect import IFSelect_RetDone
from OCP.Message import Message_ProgressRange
from OCP.Quantity import Quantity_Color, Quantity_TOC_sRGB
from OCP.RWGltf import RWGltf_CafWriter
from OCP.RWMesh import RWMesh_CoordinateSystem_glTF, RWMesh_CoordinateSystem_Zup
from OCP.STEPCAFControl import STEPCAFControl_Writer
from OCP.TCollection import (
    TCollection_AsciiString,
    TCollection_ExtendedString,
    TCollection_HAsciiString,
)
from OCP.TColStd import TColStd_IndexedDataMapOfStringString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label
from OCP.TDocStd import TDocStd_Document
from OCP.XCAFDoc import XCAFDoc_ColorType, XCAFDoc_DocumentTool

from parametric.geometry.pose import Pose
from parametric.geometry.space import Point
from parametric.remembered import remembered
from parametric.solids.kernel_errors import KernelFailure, kernel_operation
from parametric.solids.kernel_pose import location

# Chord and angle error of the triangles in glTF: round corners look round at arm's length.
MESH_MM = 0.3
MESH_RADIANS = 0.3
METRES_PER_MM = 0.001
# STEP wants a time; the files must not depend on the clock.
STEP_TIME = "1970-01-01T00:00:00"

Colour = tuple[float, float, float]
Solid = cq.Shape


@dataclass(frozen=True, slots=True, kw_only=True)
class Product:
    """One part: its solid in a frame of its own, made when it is needed, and where it stands in the
    room. `identity` tells the solid from all others: files are remembered by that.
    """

    name: str
    solid: Callable[[], Solid]
    identity: str
    poses: tuple[Pose, ...]
    colour: Colour


def _key(name: str, products: tuple[Product, ...]) -> object:
    return name, [(each.name, each.identity, each.poses, each.colour) for each in products]


ROOM = Pose(Point(0.0, 0.0, 0.0), Point(1.0, 0.0, 0.0), Point(0.0, 0.0, 1.0))


@remembered("a STEP file", key=_key, freeze=bytes, thaw=bytes, most=0)
def step_bytes(name: str, products: tuple[Product, ...]) -> bytes:
    """Return a STEP file (AP214, millimetres) of the products as one assembly.

    Raises:
        KernelFailure: the kernel cannot write it.
    """
    with kernel_operation(name, "writing STEP"), tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "model.step"
        writer = STEPCAFControl_Writer()
        writer.SetNameMode(True)
        # Without colours: the kernel writes them in the order of memory addresses.
        writer.SetColorMode(False)
        if not writer.Transfer(document(name, products)):
            raise KernelFailure(name, "writing STEP", "nothing was transferred")
        header = APIHeaderSection_MakeHeader(writer.ChangeWriter().Model())
        header.SetName(TCollection_HAsciiString(name))
        header.SetTimeStamp(TCollection_HAsciiString(STEP_TIME))
        header.SetOriginatingSystem(TCollection_HAsciiString("casewright"))
        if writer.Write(str(path)) != IFSelect_RetDone:
            raise KernelFailure(name, "writing STEP", "the file could not be written")
        return renumbered(path.read_bytes())


def renumbered(step: bytes) -> bytes:
    """Return the STEP file with its assembly links numbered from 1.

    The kernel counts them over the life of the process, so the same model would differ.
    """
    count = 0

    def number(match: re.Match[bytes]) -> bytes:
        nonlocal count
        count += 1
        # The writer broke the line by the length of its own number.
        rest = re.sub(rb"\s*\n\s*", b"", match[1])
        return b"NEXT_ASSEMBLY_USAGE_OCCURRENCE('%d'%b);" % (count, rest)

    return re.sub(rb"NEXT_ASSEMBLY_USAGE_OCCURRENCE\('\d+'(.*?)\);", number, step, flags=re.DOTALL)


@remembered("a GLB file", key=_key, freeze=bytes, thaw=bytes, most=0)
def glb_bytes(name: str, products: tuple[Product, ...]) -> bytes:
    """Return a binary glTF file (metres, y up) of the products.

    Raises:
        KernelFailure: the kernel cannot write it.
    """
    with kernel_operation(name, "writing GLB"), tempfile.TemporaryDirectory() as folder:
        for product in products:
            BRepMesh_IncrementalMesh(product.solid().wrapped, MESH_MM, False, MESH_RADIANS, False)
        path = Path(folder) / "model.glb"
        writer = RWGltf_CafWriter(TCollection_AsciiString(str(path)), True)
        converter = writer.ChangeCoordinateSystemConverter()
        converter.SetInputLengthUnit(METRES_PER_MM)
        converter.SetInputCoordinateSystem(RWMesh_CoordinateSystem_Zup)
        converter.SetOutputLengthUnit(1.0)
        converter.SetOutputCoordinateSystem(RWMesh_CoordinateSystem_glTF)
        written = writer.Perform(
            document(name, products),
            TColStd_IndexedDataMapOfStringString(),
            Message_ProgressRange(),
        )
        if not written:
            raise KernelFailure(name, "writing GLB", "the file could not be written")
        return path.read_bytes()


def document(name: str, products: Iterable[Product]) -> TDocStd_Document:
    """Return the kernel's document of one assembly, each product in it once and placed often."""
    doc = TDocStd_Document(TCollection_ExtendedString("casewright"))
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(doc.Main())
    colours = XCAFDoc_DocumentTool.ColorTool_s(doc.Main())
    root = shapes.NewShape()
    label_name(root, name)
    for product in products:
        label = shapes.AddShape(product.solid().wrapped, False)
        label_name(label, product.name)
        colour = Quantity_Color(*product.colour, Quantity_TOC_sRGB)
        colours.SetColor(label, colour, XCAFDoc_ColorType.XCAFDoc_ColorSurf)
        for pose in product.poses:
            component = shapes.AddComponent(root, label, location(pose).wrapped)
            label_name(component, product.name)
    shapes.UpdateAssemblies()
    return doc


def label_name(label: TDF_Label, name: str) -> None:
    """Name a label of the document."""
    TDataStd_Name.Set_s(label, TCollection_ExtendedString(name))
