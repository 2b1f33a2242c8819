"""A rectangular board over what it rests on, as a thin elastic plate. The only door to the solver.

Bogner, Fox and Schmit's rectangle: Hermite's cubics along one side times those along the other, its
slopes without a kink. So the plate's matrices are Kronecker products of those of its sides, which
the library assembles. Supports are
springs at points; those that only push, or only pull, let go where they would do the other (an
active set; Murty's least-index rule ends it). The plate is factorised once, with all its springs;
those that let go are taken out for each load by a small system (Woodbury's formula).

The plate has a bending stiffness of one, and springs are given as shares of it: moments and forces
do not depend on it, and sags go with its reciprocal. Lengths are millimetres from the low corner,
forces are those of a load of one.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from enum import StrEnum
from functools import cache, partial

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_matrix, csr_matrix, kron
from scipy.sparse.linalg import splu
from threadpoolctl import ThreadpoolController

from parametric.strength.plate_side import Side, Vector, mesh_lines

POISSON = 0.3  # of wood-based boards, from memory; moments hardly depend on it
MESH_MM = 33.0  # elements at most so long
RINGS = 4  # of points in a pad: 1, and 8, 16 and 24 around it, which share its load
BLOCK_ROUNDS, MOST_ROUNDS = 12, 2_000
TIPPING = 1e9
"""A load of one that moves a plate of stiffness one so far tips it: ten times a span of 20 m."""

_Held = tuple[Vector, NDArray[np.bool_]]


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
        along, across = self._sides = tuple(
            Side.of(mesh_lines(length, through, mesh_mm))
            for length, through in zip((length_mm, width_mm), places, strict=True)
        )
        self._size = np.array([[length_mm], [width_mm]])
        self._stiff = np.array([support.stiffness for support in supports])
        self._pushes = np.array([support.grip is not Grip.PULLS for support in supports])
        self._pulls = np.array([support.grip is not Grip.PUSHES for support in supports])
        self._at_supports = self._shares(places)
        springs = (self._at_supports.multiply(self._stiff)) @ self._at_supports.T
        self._solved = splu(
            csc_matrix(_bending(along, across) + springs),
            permc_spec="MMD_AT_PLUS_A",
            diag_pivot_thresh=0.0,
            options={"SymmetricMode": True},
        )
        self._gives = self._fields(self._at_supports.toarray())
        self._between = self._at_supports.T @ self._gives
        self._pad_fields: dict[Pad, Vector] = {}
        self._looked = cache(partial(_Looked, self._sides))

    def under_pads(self, pads: Sequence[Sequence[Pad]], mean_mm: float) -> tuple[Answer, ...]:
        """Return what each set of pads does, all of a set at once; moments are means over squares
        of `mean_mm`.
        """
        new = list(dict.fromkeys(pad for together in pads for pad in together))
        self._solve([pad for pad in new if pad not in self._pad_fields])
        # Fields of one newton on a pad with all supports acting add up.
        fields = [sum(self._pad_fields[pad] for pad in together) for together in pads]
        return self._answers(np.column_stack(fields), mean_mm)

    def _solve(self, pads: Sequence[Pad]) -> None:
        """Keep the field of each pad, all supports acting."""
        if not pads:
            return
        points = [_points(pad) for pad in pads]
        ends = np.cumsum([each.shape[1] for each in points])[:-1]
        rows = (np.split(each, ends) for each in self._rows(np.hstack(points)))
        loads = [(one.T @ other).ravel() / len(one) for one, other in zip(*rows, strict=True)]
        self._pad_fields.update(zip(pads, self._fields(np.column_stack(loads)).T, strict=True))

    def under_spread(self, mean_mm: float) -> Answer:
        """Return what one newton on each square millimetre does."""
        along, across = self._sides
        field = self._fields(np.outer(along.even, across.even).reshape(-1, 1))
        length, width = self._size.ravel()
        (answer,) = self._answers(field, mean_mm, TIPPING * length * width)
        return answer

    def _shares(self, points: Vector) -> csc_matrix:
        """Return how a force at each point acts on the plate: a column for each."""
        along, across = self._rows(points)
        return csc_matrix(np.einsum("pi,pj->ijp", along, across).reshape(-1, points.shape[1]))

    def _rows(self, points: Vector) -> tuple[Vector, Vector]:
        within = np.clip(points, 0.0, self._size)
        along, across = (side.rows(at) for side, at in zip(self._sides, within, strict=True))
        return along, across

    def _fields(self, loads: Vector) -> Vector:
        """Return how far the plate sinks under each load, all supports acting."""
        with _one_thread():
            fields: Vector = self._solved.solve(loads)
        return fields

    def _answers(self, fields: Vector, mean_mm: float, tips: float = TIPPING) -> tuple[Answer, ...]:
        with _one_thread():
            all_held = self._all_held((self._at_supports.T @ fields).T, tips)
            nothing = np.zeros(len(self.supports)), np.ones(len(self.supports), dtype=bool)
            sinks, active = (
                np.array(each).T
                for each in zip(*(held or nothing for held in all_held), strict=True)
            )
            springs = self._stiff[:, None] * sinks
            forces = np.where(active, springs, 0.0).T.tolist()
            fields = fields + self._gives @ np.where(active, 0.0, springs)
            looked = self._looked(mean_mm)
            return tuple(
                Answer(np.inf, (0.0, 0.0), np.inf, (0.0, 0.0), ())
                if held is None
                else Answer(
                    *looked.greatest_moment(field), *looked.greatest_sag(field), tuple(each)
                )
                for held, field, each in zip(all_held, fields.T, forces, strict=True)
            )

    def _all_held(self, with_all: Vector, tips: float) -> list[_Held | None]:
        """Return how far each support sinks under each load, and which ones act; None where the
        plate tips: sinks so far. `with_all` is how far they sink if all act.

        The search starts from what acts under the load before, which is mostly its neighbour;
        what it finds does not depend on that.
        """
        every = np.ones(len(self.supports), dtype=bool)
        found: list[_Held | None] = []
        acting = every
        for sinks in with_all:
            held = self._held(sinks, acting, tips)
            if held is None and acting is not every:
                held = self._held(sinks, every, tips)
            found.append(held)
            acting = every if held is None else held[1]
        return found

    def _held(self, with_all: Vector, acting: NDArray[np.bool_], tips: float) -> _Held | None:
        active = acting.copy()
        for number in range(MOST_ROUNDS):
            loose, sinks = np.flatnonzero(~active), with_all
            if loose.size:
                gone = self._between[:, loose] * self._stiff[loose]
                within = np.eye(loose.size) - gone[loose]
                try:
                    sinks = with_all + gone @ np.linalg.solve(within, with_all[loose])
                except np.linalg.LinAlgError:
                    return None
            if not np.abs(sinks).max() < tips:
                return None
            acts = ((sinks > 0) & self._pushes) | ((sinks < 0) & self._pulls)
            wrong = np.flatnonzero(acts != active)
            if not wrong.size:
                return sinks, active
            changed = wrong if number < BLOCK_ROUNDS else wrong[:1]
            active[changed] = acts[changed]
        return None


class _Looked:
    """Places all over the plate where it is looked at: lines of the mesh and the middles between
    them, supports among them. Means over a square are exact: those of derivatives along one side,
    times those along the other.
    """

    def __init__(self, sides: tuple[Side, ...], mean_mm: float) -> None:
        self._places = tuple(
            np.sort(np.append(side.lines, (side.lines[:-1] + side.lines[1:]) / 2)) for side in sides
        )
        looked = tuple(zip(sides, self._places, strict=True))
        self._sinks = tuple(side.rows(at) for side, at in looked)
        self._means = tuple(
            [side.mean_rows(at, mean_mm, order) for order in range(3)] for side, at in looked
        )

    def greatest_moment(self, field: Vector) -> tuple[float, tuple[float, float]]:
        """Return the greatest principal moment of the means of a field, and its place."""
        along, across = self._means
        values = field.reshape(along[0].shape[1], -1)
        xx, yy, xy = (along[order] @ values @ across[2 - order].T for order in (2, 0, 1))
        return self._greatest(_principal(xx + POISSON * yy, yy + POISSON * xx, (1 - POISSON) * xy))

    def greatest_sag(self, field: Vector) -> tuple[float, tuple[float, float]]:
        """Return how far the plate goes down at most, and where."""
        along, across = self._sinks
        return self._greatest(along @ field.reshape(along.shape[1], -1) @ across.T)

    def _greatest(self, found: Vector) -> tuple[float, tuple[float, float]]:
        row, column = divmod(int(found.argmax()), found.shape[1])
        at = float(self._places[0][row]), float(self._places[1][column])
        return float(found[row, column]), at


def _bending(along: Side, across: Side) -> csr_matrix:
    """Return the plate's stiffness: int (wxx + wyy)2 - 2 (1 - nu) (wxx wyy - wxy2)."""
    both = kron(along.mixed, across.mixed.T) + kron(along.mixed.T, across.mixed)
    twist = kron(along.slopes, across.slopes)
    return (
        kron(along.curvatures, across.values)
        + kron(along.values, across.curvatures)
        + POISSON * both
        + 2 * (1 - POISSON) * twist
    )


def _one_thread() -> AbstractContextManager[object]:
    """Keep to one thread: systems this small take many times as long on several."""
    limited: AbstractContextManager[object] = _threads().limit(limits=1, user_api="blas")
    return limited


@cache
def _threads() -> ThreadpoolController:
    """The libraries with threads of their own; looking for them takes as long as solving."""
    return ThreadpoolController()


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
