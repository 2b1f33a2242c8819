"""What the solid of a shape tells of it; the kernel is loaded only where that is not remembered."""

from __future__ import annotations

import pickle
from dataclasses import dataclass

from parametric.remembered import remembered
from parametric.shapes.laid_panel import LaidPanel
from parametric.shapes.routing import Routing
from parametric.shapes.shape import Shape
from parametric.solids.shape_identity import MOST_KEPT, made_from, named


@dataclass(frozen=True, slots=True)
class ShapeReading:
    """What was read from the solid of a board or cleat as it is cut, before milling for bands; no
    panel is read from what is bought. `bands` is how many solids its bands are.
    """

    laid: LaidPanel | None
    volume_mm3: float
    bands: int


def shape_reading(name: str, shape: Shape, routing: Routing) -> ShapeReading:
    """Return what was read from a shape; errors name the part that asks for it.

    Raises:
        KernelFailure: its solid cannot be built.
        NotFlat: a board cannot be read back, which is a bug.
    """
    with named(name):
        return read_of(shape, routing)


def _frozen(reading: ShapeReading) -> bytes:
    return pickle.dumps(reading)


def _thawed(frozen: bytes) -> ShapeReading:
    reading: ShapeReading = pickle.loads(frozen)
    return reading


@remembered("what solids tell", key=made_from, freeze=_frozen, thaw=_thawed, most=MOST_KEPT)
def read_of(shape: Shape, routing: Routing) -> ShapeReading:
    """Return what was read from a shape; errors know no part."""
    from parametric.solids.shape_solids import solids_of

    made = solids_of(shape, routing)
    return ShapeReading(made.laid, made.volume_mm3, len(made.bands))
