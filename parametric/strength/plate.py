"""A rectangular board over what it rests on, as a thin elastic plate. The only door to the solver.

Bogner, Fox and Schmit's rectangle: cubic along both sides, its slopes without a kink. Supports are
springs at points; those that only push, or only pull, let go where they would do the other (an
active set; Murty's least-index rule ends it). The plate is factorised once, with all its springs;
those that let go are taken out for each load by a small system (Woodbury's formula).

The plate has a bending stiffness of one, and springs are given as shares of it: moments and forces
do not depend on it, and sags go with its reciprocal. Lengths are millimetres from the low corner,
forces are those of a load of one.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

import numpy as np
from numpy.polynomial import Polynomial
from numpy.typing import NDArray
from scipy.sparse import csc_matrix, csr_matrix, kron
from scipy.sparse.linalg import splu
from skfem import Basis, BilinearForm, ElementQuadBFS, LinearForm, MeshQuad
from skfem.helpers import dd, ddot, eye, trace
from threadpoolctl import threadpool_limits

POISSON = 0.3  # of wood-based boards, from memory; moments hardly depend on it
MESH_MM = 33.0  # elements at most so long
NEAR_MM = 4.0  # lines of the mesh that are nearer than that are one
INSIDE_MM = 1e-3  # points on the rim are looked at so far within it
RINGS = 4  # of points in a pad: 1, and 8, 16 and 24 around it, which share its load
SAMPLES = 3  # along each side of an element, where moments and sags are looked at
BLOCK_ROUNDS, MOST_ROUNDS = 12, 2_000
TIPPING = 1e9
"""A load of one that moves a plate of stiffness one so far tips it: ten times a span of 20 m."""

Vector = NDArray[np.float64]


class Grip(StrEnum):
    """What a support can do to the plate."""

    PUSHES = "pushes"
    PULLS = "pulls"
    BOTH = "pushes and pulls"


@dataclass(frozen=True, slots=True, order=True)
class Support:
    """A spring under a point of the plate, its stiffness as a share of the plate's (1/mm2)."""

    x: float
    y: float
    grip: Grip
    stiffness: float


@dataclass(frozen=True, slots=True)
class Pad:
    """A load of one, spread evenly over a disc around its centre."""

    x: float
    y: float
    diameter: float


@dataclass(frozen=True, slots=True)
class Answer:
    """What a load does: the greatest mean moment for each millimetre of width and where, the
    greatest sag and where, and the force of each support, above 0 where it pushes.

    With nothing to keep the plate where it is, it tips, and moment and sag are infinite.
    """

    moment: float
    moment_at: tuple[float, float]
    sag: float
    sag_at: tuple[float, float]
    forces: tuple[float, ...]

    @property
    def tips(self) -> bool:
        """Return whether nothing keeps the plate where it is."""
        return self.moment == np.inf


class Plate:
    """A plate of unit stiffness on its supports."""

    def __init__(
        self,
        length_mm: float,
        width_mm: float,
        supports: Sequence[Support],
        mesh_mm: float = MESH_MM,
    ) -> None:
        """Build and factorise it.

        Raises:
            ValueError: there are no supports at three places that are not in one line.
        """
        self.supports = tuple(supports)
        places = np.array([[s.x for s in supports], [s.y for s in supports]])
        if len(supports) < 3 or np.linalg.matrix_rank(places - places[:, :1], tol=1.0) < 2:
            raise ValueError("a plate needs supports that are not in one line")
        lines = self._lines = tuple(
            _lines(side, through, mesh_mm)
            for side, through in zip((length_mm, width_mm), places, strict=True)
        )
        self._size = np.array([[length_mm], [width_mm]])
        self._basis = Basis(MeshQuad.init_tensor(*lines), ElementQuadBFS(), intorder=6)
        self._values = _Values(self._basis, lines)
        self._samples = _Samples(self._values, lines)
        self._stiff = np.array([support.stiffness for support in supports])
        self._pushes = np.array([support.grip is not Grip.PULLS for support in supports])
        self._pulls = np.array([support.grip is not Grip.PUSHES for support in supports])
        self._at_supports = self._shares(places)
        springs = (self._at_supports.multiply(self._stiff)) @ self._at_supports.T
        self._solved = splu(
            csc_matrix(_bending.assemble(self._basis) + springs),
            permc_spec="MMD_AT_PLUS_A",
            diag_pivot_thresh=0.0,
            options={"SymmetricMode": True},
        )
        with _one_thread():
            self._gives = self._solved.solve(self._at_supports.toarray())
        self._between = self._at_supports.T @ self._gives

    def under_pads(self, pads: Sequence[Sequence[Pad]], mean_mm: float) -> tuple[Answer, ...]:
        """Return what each set of pads does, all of a set at once; moments are means over squares
        of `mean_mm`.
        """
        each = [pad for together in pads for pad in together]
        points = [_points(pad) for pad in each]
        shares = self._shares(np.hstack(points)) / points[0].shape[1]
        number = np.repeat(np.arange(len(pads)), [len(together) for together in pads])
        columns = np.repeat(number, points[0].shape[1])
        rows = np.arange(len(columns))
        sets = csr_matrix((np.ones(len(columns)), (rows, columns)), (len(columns), len(pads)))
        return self._answers((shares @ sets).toarray(), mean_mm)

    def under_spread(self, mean_mm: float) -> Answer:
        """Return what one newton on each square millimetre does."""
        (answer,) = self._answers(_even.assemble(self._basis)[:, None], mean_mm)
        return answer

    def _shares(self, points: Vector) -> csc_matrix:
        """Return how a force at each point acts on the plate: a column for each."""
        return csc_matrix(self._values.at(np.clip(points, INSIDE_MM, self._size - INSIDE_MM)).T)

    def _answers(self, loads: Vector, mean_mm: float) -> tuple[Answer, ...]:
        with _one_thread():
            fields = self._solved.solve(loads)
            all_held = [self._held(sinks) for sinks in (self._at_supports.T @ fields).T]
        nothing = np.zeros(len(self.supports)), np.ones(len(self.supports), dtype=bool)
        sinks, active = (
            np.array(each).T for each in zip(*(held or nothing for held in all_held), strict=True)
        )
        springs = self._stiff[:, None] * sinks
        forces = np.where(active, springs, 0.0)
        with _one_thread():
            fields += self._gives @ np.where(active, 0.0, springs)
        moments = self._samples.greatest_moments(fields, mean_mm)
        sags = self._samples.greatest_sags(fields)
        return tuple(
            Answer(np.inf, (0.0, 0.0), np.inf, (0.0, 0.0), ())
            if all_held[column] is None
            else Answer(*moments[column], *sags[column], tuple(forces[:, column].tolist()))
            for column in range(loads.shape[1])
        )

    def _held(self, with_all: Vector) -> tuple[Vector, NDArray[np.bool_]] | None:
        """Return how far each support sinks and which ones act; None where the plate tips.

        `with_all` is how far they sink if all act.
        """
        active = np.ones(len(with_all), dtype=bool)
        for number in range(MOST_ROUNDS):
            loose, sinks = np.flatnonzero(~active), with_all
            if loose.size:
                gone = self._between[:, loose] * self._stiff[loose]
                within = np.eye(loose.size) - gone[loose]
                try:
                    sinks = with_all + gone @ np.linalg.solve(within, with_all[loose])
                except np.linalg.LinAlgError:
                    return None
            if not np.abs(sinks).max() < TIPPING:
                return None
            acts = ((sinks > 0) & self._pushes) | ((sinks < 0) & self._pulls)
            wrong = np.flatnonzero(acts != active)
            if not wrong.size:
                return sinks, active
            changed = wrong if number < BLOCK_ROUNDS else wrong[:1]
            active[changed] = acts[changed]
        return None


class _Values:
    """What the degrees of freedom make of the plate at points: Hermite's cubics along both sides.

    The library's own way there takes a system of sixteen equations for each element.
    """

    def __init__(self, basis: Basis, lines: Sequence[Vector]) -> None:
        self._lines, self._dofs, self._size = lines, basis.element_dofs, basis.N
        corners = basis.mesh.p[:, basis.mesh.t]
        middles = corners.mean(axis=1)
        # Which end of its element a vertex is at: alike in all elements of a mesh of lines.
        self._ends = (corners[:, :, 0] > middles[:, :1]).astype(int).T
        self._elements = np.empty([len(each) - 1 for each in lines], dtype=np.int64)
        self._elements[self._cell(middles)] = np.arange(basis.mesh.nelements)

    def at(self, points: Vector, orders: tuple[int, int] = (0, 0)) -> csr_matrix:
        """Return the matrix from degrees of freedom to values at points, or to derivatives of
        these orders along the sides.
        """
        cell = self._cell(points)
        sides = [
            _hermite(each, of, where, order)
            for each, of, where, order in zip(self._lines, cell, points, orders, strict=True)
        ]
        values = [
            sides[0][along, one] * sides[1][across, other]
            for along, across in self._ends
            for one, other in ((0, 0), (1, 0), (0, 1), (1, 1))  # value, slopes, twist
        ]
        dofs, rows = self._dofs[:, self._elements[cell]], np.arange(points.shape[1])
        return csr_matrix(
            (np.concatenate(values), (np.tile(rows, len(values)), dofs.ravel())),
            (len(rows), self._size),
        )

    def _cell(self, points: Vector) -> tuple[NDArray[np.int64], ...]:
        return tuple(
            np.searchsorted(each, at) - 1 for each, at in zip(self._lines, points, strict=True)
        )


class _Samples:
    """Places all over the plate where it is looked at: the middles of cells."""

    def __init__(self, values: _Values, lines: Sequence[Vector]) -> None:
        self._cells = [_cells(each) for each in lines]
        self._middles = [(cells[:-1] + cells[1:]) / 2 for cells in self._cells]
        points = np.array([each.ravel() for each in np.meshgrid(*self._middles, indexing="ij")])
        self._sinks = values.at(points)
        xx, yy, xy = (values.at(points, orders) for orders in ((2, 0), (0, 2), (1, 1)))
        self._bends = (xx + POISSON * yy, yy + POISSON * xx, (1 - POISSON) * xy)

    def greatest_moments(
        self, fields: Vector, mean_mm: float
    ) -> list[tuple[float, tuple[float, float]]]:
        """Return the greatest principal moment of the means of each field, and its place."""
        along, across = (_means(cells, mean_mm) for cells in self._cells)
        means = kron(along, across, format="csr")
        return self._greatest(_principal(*(means @ bends @ fields for bends in self._bends)))

    def greatest_sags(self, fields: Vector) -> list[tuple[float, tuple[float, float]]]:
        """Return how far the plate of each field goes down at most, and where."""
        return self._greatest(self._sinks @ fields)

    def _greatest(self, found: Vector) -> list[tuple[float, tuple[float, float]]]:
        places = found.argmax(axis=0)
        rows, columns = np.divmod(places, len(self._middles[1]))
        most = found[places, np.arange(found.shape[1])]
        at = zip(self._middles[0][rows].tolist(), self._middles[1][columns].tolist(), strict=True)
        return list(zip(most.tolist(), at, strict=True))


def _hermite(
    lines: Vector, cell: NDArray[np.int64], at: Vector, order: int
) -> dict[tuple[int, int], Vector]:
    """Return the derivative of this order of the four cubics along a side: by the end of the cell
    that they belong to, and whether they have a value or a slope of one there.
    """
    length = lines[cell + 1] - lines[cell]
    part = (at - lines[cell]) / length
    return {
        (end, slope): cubic.deriv(order)(part) * length ** (slope - order)
        for (end, slope), cubic in _CUBICS.items()
    }


_CUBICS = {
    (0, 0): Polynomial([1, 0, -3, 2]),
    (0, 1): Polynomial([0, 1, -2, 1]),
    (1, 0): Polynomial([0, 0, 3, -2]),
    (1, 1): Polynomial([0, 0, -1, 1]),
}


@BilinearForm
def _bending(u, v, w):  # type: ignore[no-untyped-def]
    moments = (1 - POISSON) * dd(u) + POISSON * eye(trace(dd(u)), 2)
    return ddot(moments, dd(v))


@LinearForm
def _even(v, w):  # type: ignore[no-untyped-def]
    return v


def _one_thread() -> AbstractContextManager[object]:
    """Keep to one thread: systems this small take many times as long on several."""
    limited: AbstractContextManager[object] = threadpool_limits(limits=1, user_api="blas")
    return limited


def _principal(xx: Vector, yy: Vector, xy: Vector) -> Vector:
    """Return the greater of the two principal values, without its sign."""
    half = (xx - yy) / 2
    greatest: Vector = np.abs(xx + yy) / 2 + np.sqrt(half * half + xy * xy)
    return greatest


def _points(pad: Pad) -> Vector:
    """Return points that each stand for as much of the disc: rings of eight times the radius."""
    x, y = [pad.x], [pad.y]
    for ring in range(1, RINGS):
        count, radius = 8 * ring, pad.diameter * ring / (2 * RINGS - 1)
        turns = 2 * np.pi * (np.arange(count) + 0.5) / count
        x += (pad.x + radius * np.cos(turns)).tolist()
        y += (pad.y + radius * np.sin(turns)).tolist()
    return np.array([x, y])


def _cells(lines: Vector) -> Vector:
    """Return the edges of the cells along one side."""
    parts = np.arange(SAMPLES) / SAMPLES
    return np.append((lines[:-1, None] + np.diff(lines)[:, None] * parts).ravel(), lines[-1])


def _means(cells: Vector, mean_mm: float) -> csr_matrix:
    """Return the matrix that takes values in cells to means over so many millimetres around the
    middle of each, as far as they lie on the board.
    """
    middles = (cells[:-1] + cells[1:])[:, None] / 2
    shared = np.minimum(cells[1:], middles + mean_mm / 2) - np.maximum(
        cells[:-1], middles - mean_mm / 2
    )
    shared = np.maximum(shared, 0.0)
    return csr_matrix(shared / shared.sum(axis=1, keepdims=True))


def _lines(length_mm: float, through: Iterable[float], mesh_mm: float) -> Vector:
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
