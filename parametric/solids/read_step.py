"""Solids out of a STEP file (ISO 10303-21) that any program wrote, in millimetres."""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO

import cadquery as cq

from parametric.solids.kernel_errors import KernelFailure, kernel_operation
from parametric.solids.step_process import READER

Solid = cq.Solid
"""A solid of the kernel, for those who only hand it on."""

_BEGINS = b"ISO-10303-21"
_LOOKED_AT = 1000  # bytes; comments may stand before the first line


class NoSolids(ValueError):
    """A file gives no solids; the text says why, as it follows the word "found"."""


@dataclass(frozen=True, slots=True)
class StepSolids:
    """The solids of a file in its order, each as often as it stands there, and how many surfaces
    there are besides that enclose nothing.
    """

    solids: tuple[cq.Solid, ...]
    loose_surfaces: int


def step_solids(content: bytes) -> StepSolids:
    """Return the solids in a STEP file's coordinates, millimetres whatever its units are.

    Raises:
        NoSolids: it is no STEP file, it breaks off, or nothing in it is a solid.
    """
    if not content.strip():
        raise NoSolids("an empty file")
    if _BEGINS not in content[:_LOOKED_AT]:
        raise NoSolids("a file that does not begin as STEP files do (ISO-10303-21)")
    try:
        with kernel_operation("STEP file", "reading"):
            held = READER.shape(content)
            shape = cq.Shape.importBin(BytesIO(held)) if held else None
    except KernelFailure:
        raise NoSolids("a STEP file that cannot be read: it breaks off, or is damaged") from None
    solids = tuple(_right_way_out(solid) for solid in shape.Solids()) if shape else ()
    loose = 0 if shape is None else _loose_surfaces(shape)
    if not solids:
        what = "surfaces that enclose no solid" if loose else "no solid"
        raise NoSolids(f"a STEP file with {what} in it")
    return StepSolids(solids, loose)


def _right_way_out(solid: cq.Solid) -> cq.Solid:
    """Return the solid with its faces looking out of it, whichever way they were drawn."""
    return solid if solid.Volume() >= 0 else cq.Solid(solid.wrapped.Reversed())


def _loose_surfaces(shape: cq.Shape) -> int:
    of_solids = {face.hashCode() for solid in shape.Solids() for face in solid.Faces()}
    return sum(face.hashCode() not in of_solids for face in shape.Faces())
