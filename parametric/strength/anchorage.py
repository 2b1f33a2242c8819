"""What screws must hold of a rigid body that leans on walls and floor.

Screws only pull, along their axes; walls, floor and whatever else it rests on only push; nothing
rubs. The body is stiff, its screws give way alike and elastically, what pushes hardly at all: of
all forces in balance with the load, those that store least work in the screws (Castigliano). A
head pulls through a board at once, so that no other screw takes its load over.
How far a body may be loaded before it tips is a linear program.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog, nnls

from parametric.geometry.space import Direction, Point

Vector = NDArray[np.float64]
_UNBOUNDED = 3  # status of `linprog`
STIFF_SHARE = 0.01  # as the square root: what pushes gives way a ten thousandth as much as a screw
BALANCE = 1e4  # weight of balance against the work in the screws
NOTHING = 1e-7  # of the greatest force
OUT_OF_BALANCE = 1e-4  # of the load: then nothing holds the body


@dataclass(frozen=True, slots=True)
class Contact:
    """A place where a force of unknown size acts on the body, and which way."""

    at: Point
    way: Direction


@dataclass(frozen=True, slots=True)
class Load:
    """A force on the body, newtons, and where and which way it acts."""

    force_n: float
    at: Point
    way: Direction


def tensions_n(
    loads: Sequence[Load], screws: Sequence[Contact], pushes: Sequence[Contact]
) -> tuple[float, ...] | None:
    """Return what each screw bears, None if nothing holds the body.

    The way of a screw is the one it pulls the body.
    """
    columns = np.array([_wrench(each.at, each.way) for each in (*screws, *pushes)])
    acting = _acting(loads)
    if not columns.size:
        return None if np.abs(acting).max() > 0 else ()
    soft = np.array([1.0] * len(screws) + [STIFF_SHARE] * len(pushes))
    scale = max(1.0, float(np.abs(acting).max()))
    forces, _ = nnls(
        np.vstack([np.diag(soft), BALANCE * columns.T]),
        np.concatenate([np.zeros(len(columns)), -BALANCE * acting / scale]),
    )
    if np.abs(columns.T @ forces + acting / scale).max() > OUT_OF_BALANCE:
        return None
    # Those that act are known now; balance is met exactly with them alone.
    acts = forces > NOTHING * forces.max(initial=0.0)
    gives = 1.0 / soft[acts] ** 2
    turns = np.linalg.lstsq((columns[acts].T * gives) @ columns[acts], -acting, rcond=None)[0]
    forces = np.zeros(len(columns))
    forces[acts] = gives * (columns[acts] @ turns)
    return tuple(forces[: len(screws)].tolist())


def greatest_load_n(load: Load, loads: Sequence[Load], pushes: Sequence[Contact]) -> float:
    """Return how far a load may grow, whatever its force is, before the body tips or is lifted;
    infinite if it never does. `loads` act all the time.
    """
    columns = [_wrench(each.at, each.way) for each in pushes] + [_wrench(load.at, load.way)]
    found = linprog(
        np.append(np.zeros(len(pushes)), -1.0),
        A_eq=np.array(columns).T,
        b_eq=-_acting(loads),
        method="highs",
    )
    if found.status == _UNBOUNDED:
        return math.inf
    return -float(found.fun) if found.success else -math.inf


def _acting(loads: Sequence[Load]) -> Vector:
    return sum((load.force_n * _wrench(load.at, load.way) for load in loads), np.zeros(6))


def _wrench(at: Point, way: Direction) -> Vector:
    """Return a unit force and its moment about the origin; moments in metres, to scale alike."""
    x, y, z = (value / 1000.0 for value in at)
    fx, fy, fz = (float(value) for value in way.vector)
    return np.array([fx, fy, fz, y * fz - z * fy, z * fx - x * fz, x * fy - y * fx])
