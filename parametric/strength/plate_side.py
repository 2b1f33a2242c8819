"""One side of a plate as a beam of Hermite's cubics. The only door to the library of elements."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.polynomial import Polynomial
from numpy.typing import NDArray
from scipy.sparse import csr_matrix
from skfem import Basis, BilinearForm, ElementLineHermite, LinearForm, MeshLine
from skfem.helpers import d, dd, ddot, dot, trace

NEAR_MM = 4.0  # lines of the mesh that are nearer than that are one

Vector = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Side:
    """One side of the plate as a beam: the lines of the mesh, a value and a slope at each.

    `values`, `slopes`, `curvatures` are the integrals of the products of each with each other,
    `mixed` those of a curvature with a value, `even` those of each value alone.
    """

    lines: Vector
    values: csr_matrix
    slopes: csr_matrix
    curvatures: csr_matrix
    mixed: csr_matrix
    even: Vector

    @classmethod
    def of(cls, lines: Vector) -> Side:
        """Return the side with these lines."""
        basis = Basis(MeshLine(lines), ElementLineHermite(), intorder=6)
        return cls(
            lines=lines,
            values=BilinearForm(_values).assemble(basis),
            slopes=BilinearForm(_slopes).assemble(basis),
            curvatures=BilinearForm(_curvatures).assemble(basis),
            mixed=BilinearForm(_curvature_by_value).assemble(basis),
            even=LinearForm(_itself).assemble(basis),
        )

    def rows(self, at: Vector, order: int = 0) -> Vector:
        """Return the matrix from values and slopes to derivatives of this order at places; to
        integrals from the side's start for -1.
        """
        lines = self.lines
        cell = np.clip(np.searchsorted(lines, at) - 1, 0, len(lines) - 2)
        rows = _in_cell(lines, cell, at, order)
        if order < 0:
            cells = np.arange(len(lines) - 1)
            whole = _in_cell(lines, cells, lines[1:], order).cumsum(axis=0)
            rows += np.vstack([np.zeros(whole.shape[1]), whole])[cell]
        return rows

    def mean_rows(self, at: Vector, mean_mm: float, order: int) -> Vector:
        """Return the matrix to means of derivatives over so many millimetres around each place, as
        far as they lie on the board.
        """
        start = np.maximum(at - mean_mm / 2, self.lines[0])
        end = np.minimum(at + mean_mm / 2, self.lines[-1])
        between = self.rows(end, order - 1) - self.rows(start, order - 1)
        means: Vector = between / (end - start)[:, None]
        return means


def mesh_lines(length_mm: float, through: Iterable[float], mesh_mm: float) -> Vector:
    """Return the lines of the mesh along one side: through supports, and between them."""
    kept = [0.0]
    for place in sorted(through):
        if place - kept[-1] > max(NEAR_MM, mesh_mm / 2) and length_mm - place > NEAR_MM:
            kept.append(place)
    lines = [0.0]
    for start, end in pairwise([*kept, length_mm]):
        steps = int(np.ceil((end - start) / mesh_mm - 1e-9))
        lines += [start + (end - start) * step / steps for step in range(1, steps + 1)]
    return np.array(lines)


def _in_cell(lines: Vector, cell: NDArray[np.int64], at: Vector, order: int) -> Vector:
    """Return what the four cubics of the cell that each place is in are there, derived so many
    times, integrated from the cell's start for -1.
    """
    length = lines[cell + 1] - lines[cell]
    part = (at - lines[cell]) / length
    rows = np.zeros((len(at), len(lines), 2))
    for (end, slope), cubic in _CUBICS.items():
        derived = cubic.deriv(order) if order >= 0 else cubic.integ(-order)
        rows[np.arange(len(at)), cell + end, slope] = derived(part) * length ** (slope - order)
    return rows.reshape(len(at), -1)


_CUBICS = {
    (0, 0): Polynomial([1, 0, -3, 2]),
    (0, 1): Polynomial([0, 1, -2, 1]),
    (1, 0): Polynomial([0, 0, 3, -2]),
    (1, 1): Polynomial([0, 0, -1, 1]),
}


def _values(u, v, w):  # type: ignore[no-untyped-def]
    return u * v


def _slopes(u, v, w):  # type: ignore[no-untyped-def]
    return dot(d(u), d(v))


def _curvatures(u, v, w):  # type: ignore[no-untyped-def]
    return ddot(dd(u), dd(v))


def _curvature_by_value(u, v, w):  # type: ignore[no-untyped-def]
    return trace(dd(u)) * v


def _itself(v, w):  # type: ignore[no-untyped-def]
    return v
