"""What screws must hold of a rigid body that leans on walls and floor: a linear program.

Screws only pull, along their axes; walls, floor and whatever else it rests on only push; nothing
rubs. Any such set of forces in balance with the load is one that the body can stand by, since wood
screws give before they break: the one sought asks least of the screw that bears most.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog

from parametric.space import Direction, Point

Vector = NDArray[np.float64]
_UNBOUNDED = 3  # status of `linprog`


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


def least_tension_n(
    loads: Sequence[Load], screws: Sequence[Contact], pushes: Sequence[Contact]
) -> float:
    """Return the least that the screw under the highest tension bears; infinite if nothing holds
    the body. The way of a screw is the one it pulls the body.
    """
    # Unknown: the force at each contact, screws first, then the highest tension.
    columns = [_wrench(each.at, each.way) for each in (*screws, *pushes)] + [np.zeros(6)]
    below_highest = np.zeros((len(screws), len(columns)))
    below_highest[:, : len(screws)] = np.eye(len(screws))
    below_highest[:, -1] = -1.0
    return _least(columns, loads, below_highest)


def greatest_load_n(load: Load, loads: Sequence[Load], pushes: Sequence[Contact]) -> float:
    """Return how far a load may grow, whatever its force is, before the body tips or is lifted;
    infinite if it never does. `loads` act all the time.
    """
    columns = [_wrench(each.at, each.way) for each in pushes] + [_wrench(load.at, load.way)]
    return -_least(columns, loads, np.zeros((0, len(columns))), grow=True)


def _least(
    columns: Sequence[Vector], loads: Sequence[Load], at_most_zero: Vector, *, grow: bool = False
) -> float:
    """Return the least value of the last unknown, or of its opposite if it is to grow, where all
    are in balance with the loads; infinite if no forces are.
    """
    acting = sum((load.force_n * _wrench(load.at, load.way) for load in loads), np.zeros(6))
    found = linprog(
        np.append(np.zeros(len(columns) - 1), -1.0 if grow else 1.0),
        A_ub=at_most_zero,
        b_ub=np.zeros(len(at_most_zero)),
        A_eq=np.array(columns).T,
        b_eq=-acting,
        method="highs",
    )
    if found.status == _UNBOUNDED:
        return -math.inf
    return float(found.fun) if found.success else math.inf


def _wrench(at: Point, way: Direction) -> Vector:
    """Return a unit force and its moment about the origin; moments in metres, to scale alike."""
    force = np.array(way.vector, dtype=float)
    return np.concatenate([force, np.cross(np.array(at) / 1000.0, force)])
