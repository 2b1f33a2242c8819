"""Pictures of solids by lines, what is hidden removed."""

from __future__ import annotations

import math
import pickle
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import chain
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
        (picture,) = _of_all((tuple(solids),), towards, right)
        return picture


def line_pictures(
    name: str, groups: Sequence[Sequence[Drawn]], towards: Point, right: Point
) -> tuple[LinePicture, ...]:
    """Return one picture for each group of solids: its lines that no solid of any group hides.

    The frame is that of `line_picture`.

    Raises:
        KernelFailure: the kernel cannot make the pictures.
    """
    with kernel_operation(name, "hidden lines"):
        return _of_each(tuple(map(tuple, groups)), towards, right)


_Groups = tuple[tuple[Drawn, ...], ...]


def _key(groups: _Groups, towards: Point, right: Point) -> object:
    return [[drawn.identity for drawn in group] for group in groups], towards, right


def _frozen(pictures: tuple[LinePicture, ...]) -> bytes:
    return pickle.dumps(pictures)


def _thawed(frozen: bytes) -> tuple[LinePicture, ...]:
    pictures: tuple[LinePicture, ...] = pickle.loads(frozen)
    return pictures


@remembered("a picture of all lines", key=_key, freeze=_frozen, thaw=_thawed, most=0)
def _of_all(groups: _Groups, towards: Point, right: Point) -> tuple[LinePicture, ...]:
    found = _hidden_lines(groups, towards, right)
    compounds = (found.VCompound(), found.Rg1LineVCompound(), found.OutLineVCompound())
    return (_picture(compounds),)


@remembered("pictures of groups", key=_key, freeze=_frozen, thaw=_thawed, most=0)
def _of_each(groups: _Groups, towards: Point, right: Point) -> tuple[LinePicture, ...]:
    found = _hidden_lines(groups, towards, right)
    return tuple(
        _picture(
            of_kind(drawn.solid.wrapped)
            for drawn in group
            for of_kind in (found.VCompound, found.Rg1LineVCompound, found.OutLineVCompound)
        )
        for group in groups
    )


def _hidden_lines(groups: _Groups, towards: Point, right: Point) -> HLRBRep_HLRToShape:
    algorithm = HLRBRep_Algo()
    for drawn in chain.from_iterable(groups):
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
