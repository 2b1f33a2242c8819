"""Pictures of solids by lines, what is hidden removed."""

from __future__ import annotations

import math
import pickle
from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

import cadquery as cq
from OCP.BRepLib import BRepLib
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
from OCP.HLRAlgo import HLRAlgo_Projector
from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape
from OCP.TopoDS import TopoDS_Shape

from parametric.geometry.space import Point
from parametric.remembered import remembered
from parametric.solids.kernel_errors import kernel_operation

PicturePoint = tuple[float, float]
Polyline = tuple[PicturePoint, ...]

STEP_DEGREES = 6.0  # chords of arcs in a picture
DIGITS = 2  # hundredths of a millimetre: finer than any print


class Drawn(NamedTuple):
    """A solid to draw, and what tells it and its place from all others: pictures are remembered by
    that.
    """

    solid: cq.Shape
    identity: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LinePicture:
    """The lines of a picture, millimetres in the picture's plane, y up."""

    visible: tuple[Polyline, ...]


def line_picture(name: str, solids: Iterable[Drawn], towards: Point, right: Point) -> LinePicture:
    """Return the visible lines of the solids, seen in parallel projection.

    `towards` points from the scene to the viewer, `right` to the right of the picture; both are
    unit vectors, square to each other.

    Raises:
        KernelFailure: the kernel cannot make the picture.
    """
    with kernel_operation(name, "hidden lines"):
        picture: LinePicture = _of_all(tuple(solids), towards, right)
        return picture


def _key(solids: tuple[Drawn, ...], towards: Point, right: Point) -> object:
    return [drawn.identity for drawn in solids], towards, right


def _thawed(frozen: bytes) -> LinePicture:
    picture: LinePicture = pickle.loads(frozen)
    return picture


@remembered("a picture of all lines", key=_key, freeze=pickle.dumps, thaw=_thawed, most=0)
def _of_all(solids: tuple[Drawn, ...], towards: Point, right: Point) -> LinePicture:
    found = _hidden_lines(solids, towards, right)
    compounds = (found.VCompound(), found.Rg1LineVCompound(), found.OutLineVCompound())
    return _picture(compounds)


def _hidden_lines(solids: Iterable[Drawn], towards: Point, right: Point) -> HLRBRep_HLRToShape:
    algorithm = HLRBRep_Algo()
    for drawn in solids:
        algorithm.Add(drawn.solid.wrapped)
    axes = gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(*towards), gp_Dir(*right))
    algorithm.Projector(HLRAlgo_Projector(axes))
    algorithm.Update()
    algorithm.Hide()
    return HLRBRep_HLRToShape(algorithm)


def _picture(compounds: Iterable[TopoDS_Shape | None]) -> LinePicture:
    lines: set[Polyline] = set()
    for compound in compounds:
        if compound is not None and not compound.IsNull():
            BRepLib.BuildCurves3d_s(compound)
            lines.update(polyline(edge) for edge in cq.Shape(compound).Edges())
    return LinePicture(visible=tuple(sorted(line for line in lines if len(line) > 1)))


def polyline(edge: cq.Edge) -> Polyline:
    """Return the edge as points, arcs as chords, run from its lesser end."""
    if edge.geomType() == "LINE":
        steps = 1
    else:
        turn = math.degrees(edge.tangentAt(0.0).getAngle(edge.tangentAt(0.5)))
        steps = max(4, math.ceil(2 * turn / STEP_DEGREES))
    points: list[PicturePoint] = []
    for index in range(steps + 1):
        x, y, _ = edge.positionAt(index / steps).toTuple()
        point = (round(x, DIGITS) + 0.0, round(y, DIGITS) + 0.0)
        if not points or points[-1] != point:
            points.append(point)
    return min(tuple(points), tuple(reversed(points)))
