"""What tells the solids of a shape from all others, and whose errors they are."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from contextlib import contextmanager

from parametric.shapes.board import Board
from parametric.shapes.members import Cleat
from parametric.shapes.routing import Routing
from parametric.shapes.shape import Shape
from parametric.solids.kernel_errors import KernelFailure, NotFlat

MOST_KEPT = 4_000  # shapes: some hundred megabytes


def made_from(shape: Shape, routing: Routing) -> object:
    """Return what the solids of a shape depend on: of a board's material its thickness alone, which
    its box has.
    """
    part = shape.part
    match part:
        case Board():
            bands = [(band.edge, band.band.thickness_mm) for band in part.bands]
            built: object = (part.box, part.grain, part.facing, bands, part.rounded)
        case Cleat():
            built = (part.box, part.along)
        case _:
            built = part
    return type(part).__name__, built, shape.features, routing


def identity(shape: Shape, routing: Routing) -> str:
    """Return what tells the solids of a shape from all others."""
    return hashlib.sha256(repr(made_from(shape, routing)).encode()).hexdigest()


@contextmanager
def named(name: str) -> Iterator[None]:
    """Give what goes wrong with a shape the name of the part that has it."""
    try:
        yield
    except KernelFailure as error:
        raise KernelFailure(name, error.operation, error.reason) from error
    except NotFlat as error:
        raise NotFlat(name, error.reason) from error
