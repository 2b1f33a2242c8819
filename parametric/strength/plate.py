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
from numpy.typing import NDArray
from scipy.sparse import csc_matrix, csr_matrix
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
        mesh = MeshQuad.init_tensor(*lines)
        self._basis = Basis(mesh, ElementQuadBFS(), intorder=6)
        self._samples = _Samples(mesh, lines)
        self._elements = np.empty([len(each) - 1 for each in lines], dtype=np.int64)
        middles = mesh.p[:, mesh.t].mean(axis=1)
        row, column = (
            np.searchsorted(each, at) - 1 for each, at in zip(lines, middles, strict=True)
        )
        self._elements[row, column] = np.arange(mesh.nelements)
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
        within = np.clip(points, INSIDE_MM, self._size - INSIDE_MM)
        # The library's own search for the element around a point knows nothing of rows.
        row, column = (
            np.searchsorted(lines, at) - 1 for lines, at in zip(self._lines, within, strict=True)
        )
        elements, basis = self._elements[row, column], self._basis
        places = basis.mapping.invF(within[:, :, None], tind=elements)
        values = [
            np.asarray(basis.elem.gbasis(basis.mapping, places, number, tind=elements)[0]).ravel()
            for number in range(basis.Nbfun)
        ]
        rows, columns = basis.element_dofs[:, elements], np.arange(points.shape[1])
        return csc_matrix(
            (np.concatenate(values), (rows.ravel(), np.tile(columns, basis.Nbfun))),
            (basis.N, points.shape[1]),
        )

    def _answers(self, loads: Vector, mean_mm: float) -> tuple[Answer, ...]:
        with _one_thread():
            fields = self._solved.solve(loads)
            all_held = [self._held(sinks) for sinks in (self._at_supports.T @ fields).T]
        forces, tips = np.zeros((len(self.supports), loads.shape[1])), []
        for column, held in enumerate(all_held):
            tips.append(held is None)
            if held is not None:
                sunk, active = held
                let_go = np.where(active, 0.0, self._stiff * sunk)
                fields[:, column] += self._gives @ let_go
                forces[:, column] = np.where(active, self._stiff * sunk, 0.0)
        moments = self._samples.greatest_moments(fields, mean_mm)
        sags = self._samples.greatest_sags(fields)
        return tuple(
            Answer(np.inf, (0.0, 0.0), np.inf, (0.0, 0.0), ())
            if tips[column]
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


class _Samples:
    """Places all over the plate where it is looked at: the middles of cells."""

    def __init__(self, mesh: MeshQuad, lines: Sequence[Vector]) -> None:
        parts = (np.arange(SAMPLES) + 0.5) / SAMPLES
        inside = np.array([each.ravel() for each in np.meshgrid(parts, parts, indexing="ij")])
        basis = Basis(mesh, ElementQuadBFS(), quadrature=(inside, np.ones(inside.shape[1])))
        self._cells = [_cells(each) for each in lines]
        self._middles = [(cells[:-1] + cells[1:]) / 2 for cells in self._cells]
        self._shape = tuple(len(each) for each in self._middles)
        row, column = (
            np.searchsorted(cells, at.ravel()) - 1
            for cells, at in zip(self._cells, np.asarray(basis.global_coordinates()), strict=True)
        )
        place = row * self._shape[1] + column
        dofs = np.repeat(basis.element_dofs[:, :, None], inside.shape[1], axis=2)

        def looked_at(values: Sequence[Vector]) -> csr_matrix:
            """Return the matrix from degrees of freedom to values at all places."""
            at = np.tile(place, len(values))
            data = np.concatenate([each.ravel() for each in values])
            return csr_matrix((data, (at, dofs.reshape(-1))), (len(place), basis.N))

        shapes = [fields[0] for fields in basis.basis]
        self._sinks = looked_at([np.asarray(each) for each in shapes])
        xx, yy, xy = (
            looked_at([np.asarray(each.hess)[i, j] for each in shapes])
            for i, j in ((0, 0), (1, 1), (0, 1))
        )
        self._bends = (xx + POISSON * yy, yy + POISSON * xx, (1 - POISSON) * xy)

    def greatest_moments(
        self, fields: Vector, mean_mm: float
    ) -> list[tuple[float, tuple[float, float]]]:
        """Return the greatest principal moment of the means of each field, and its place."""
        along, across = (_means(cells, mean_mm) for cells in self._cells)
        bent = [np.ascontiguousarray((bends @ fields).T) for bends in self._bends]
        found = []
        for each in zip(*bent, strict=True):
            means = ((across @ (along @ grid.reshape(self._shape)).T).T for grid in each)
            found.append(self._greatest(_principal(*means)))
        return found

    def greatest_sags(self, fields: Vector) -> list[tuple[float, tuple[float, float]]]:
        """Return how far the plate of each field goes down at most, and where."""
        sunk = np.ascontiguousarray((self._sinks @ fields).T)
        return [self._greatest(each.reshape(self._shape)) for each in sunk]

    def _greatest(self, grid: Vector) -> tuple[float, tuple[float, float]]:
        row, column = divmod(int(np.argmax(np.ascontiguousarray(grid))), grid.shape[1])
        at = float(self._middles[0][row]), float(self._middles[1][column])
        return float(grid[row, column]), at


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
    greatest: Vector = np.abs(xx + yy) / 2 + np.hypot((xx - yy) / 2, xy)
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
