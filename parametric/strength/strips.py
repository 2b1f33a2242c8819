"""A strip of board over its supports, solved as a continuous beam. The only door to the solver."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from Pynite import FEModel3D

NEAR_MM = 1e-6


@dataclass(frozen=True, slots=True)
class UnderForce:
    """What a force of one newton does at one place of a strip: the greatest moment anywhere,
    without its sign, and how hard each support pushes, negative where it holds the strip down.
    """

    at_mm: float
    moment_mm: float
    pushes: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Stretch:
    """What a load of one newton per millimetre of strip does between two supports, or beyond the
    last one, where the bending stiffness is 1 N mm2: the greatest moment there, without its sign,
    and how far the strip goes down at most, 0 where it does not.
    """

    length_mm: float
    moment_mm2: float
    sag: float


@lru_cache(maxsize=4096)
def under_force(
    length_mm: float, supports_mm: tuple[float, ...], at_mm: tuple[float, ...]
) -> tuple[UnderForce, ...]:
    """Return what a force does at each of the places, along a strip on two or more supports.

    Raises:
        ValueError: fewer than two supports.
    """
    model, nodes = _model(length_mm, supports_mm)
    members = list(pairwise(nodes))
    for number, at in enumerate(at_mm):
        start, end = next(pair for pair in members if pair[0] - NEAR_MM <= at <= pair[1] + NEAR_MM)
        model.add_member_pt_load(
            _member(start), "Fy", -1.0, min(max(0.0, at - start), end - start), case=f"{number}"
        )
        model.add_load_combo(f"{number}", {f"{number}": 1.0})
    model.analyze_linear(check_statics=False)
    return tuple(
        UnderForce(
            at_mm=at,
            moment_mm=_greatest_moment(model, members, f"{number}"),
            pushes=tuple(
                float(model.nodes[_node(each)].RxnFY[f"{number}"]) for each in supports_mm
            ),
        )
        for number, at in enumerate(at_mm)
    )


@lru_cache(maxsize=1024)
def under_spread(length_mm: float, supports_mm: tuple[float, ...]) -> tuple[Stretch, ...]:
    """Return what an even load does to each stretch of a strip on two or more supports.

    Raises:
        ValueError: fewer than two supports.
    """
    model, nodes = _model(length_mm, supports_mm)
    members = list(pairwise(nodes))
    for start, _ in members:
        model.add_member_dist_load(_member(start), "Fy", -1.0, -1.0, case="even")
    model.add_load_combo("even", {"even": 1.0})
    model.analyze_linear(check_statics=False)
    return tuple(
        Stretch(
            length_mm=end - start,
            moment_mm2=_greatest_moment(model, [(start, end)], "even"),
            sag=max(0.0, -float(model.members[_member(start)].min_deflection("dy", "even"))),
        )
        for start, end in members
    )


def _model(length_mm: float, supports_mm: Sequence[float]) -> tuple[FEModel3D, list[float]]:
    """Return a level beam of unit stiffness along x, and the places of its nodes."""
    if len(supports_mm) < 2:
        raise ValueError("a strip needs two supports at least")
    nodes = sorted({0.0, length_mm, *supports_mm})
    model = FEModel3D()
    # Only the bending stiffness about the level axis matters: nothing pulls, twists or sways.
    model.add_material("unit", E=1.0, G=1.0, nu=0.0, rho=0.0)
    model.add_section("unit", A=1.0, Iy=1.0, Iz=1.0, J=1.0)
    for at in nodes:
        model.add_node(_node(at), at, 0.0, 0.0)
        model.def_support(
            _node(at),
            support_DX=at == nodes[0],
            support_DY=at in supports_mm,
            support_DZ=True,
            support_RX=True,
            support_RY=True,
        )
    for start, end in pairwise(nodes):
        model.add_member(_member(start), _node(start), _node(end), "unit", "unit")
    return model, nodes


def _greatest_moment(
    model: FEModel3D, members: Sequence[tuple[float, float]], combination: str
) -> float:
    return max(
        abs(float(end))
        for start, _ in members
        for end in (
            model.members[_member(start)].max_moment("Mz", combination),
            model.members[_member(start)].min_moment("Mz", combination),
        )
    )


def _node(at: float) -> str:
    return f"n{at!r}"


def _member(start: float) -> str:
    return f"m{start!r}"
