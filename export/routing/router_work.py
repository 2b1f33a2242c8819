"""How long the router works on a file: which bit runs which layers, how far, how often down.

An estimate, since no machine reaches its feed on short ways: bits, feeds and times are those of
the machine file. What no bit of the machine can cut has no time, and is told as such.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from export.drawing.primitives import Drawing
from export.layer_table import LayerTable
from export.routing.cuts import STEP_OVER, Cut, LayerCuts, layer_cuts
from export.routing.machine_rates import SECONDS_PER_MINUTE, Bit, BitRole, Times
from parametric.geometry.space import SAME_MM

SAME_DRILL_MM = 0.05
"""A hole that is drilled takes a drill of its own diameter (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BitRun:
    """What one bit does before it is changed. `path_mm` is cut along lines and in lanes, all passes
    counted; a plunge is each way down; `rapid_mm` is travelled above the sheet between cuts.

    Without a `bit` no bit of the machine can do it: `missing_mm` is the diameter of the hole, or
    the most that the bit may have, and there are no times.
    """

    bit: Bit | None
    layers: tuple[str, ...]
    cuts: int
    path_mm: float
    plunges: int
    plunged_mm: float
    rapid_mm: float
    seconds: float
    missing_mm: float = 0.0
    role: BitRole = BitRole.OUTLINE


@dataclass(frozen=True, slots=True, kw_only=True)
class RouterWork:
    """What one sheet, or one part in its second operation, asks of the router."""

    runs: tuple[BitRun, ...]
    tool_changes: int
    change_s: float
    handling_s: float

    @property
    def path_mm(self) -> float:
        """All that is cut along lines and in lanes."""
        return math.fsum(run.path_mm for run in self.runs)

    @property
    def plunges(self) -> int:
        """How often a bit goes down."""
        return sum(run.plunges for run in self.runs)

    @property
    def seconds(self) -> float:
        """All of it: bits, changes, and handling."""
        return math.fsum((*(run.seconds for run in self.runs), self.change_s, self.handling_s))

    @property
    def missing(self) -> tuple[BitRun, ...]:
        """What no bit of the machine can do."""
        return tuple(run for run in self.runs if run.bit is None)


def router_work(
    drawing: Drawing,
    layers: LayerTable,
    thickness_mm: float,
    bits: Sequence[Bit],
    times: Times,
    handling_s: float,
) -> RouterWork:
    """Return what a file asks for, and what is laid on the table and taken off in `handling_s`.

    Bits follow each other as layers do: holes, pockets, openings, outlines. The rack is back at the
    first one for the next sheet, so that a single bit needs no change.
    """
    listed = layer_cuts(drawing, layers, thickness_mm)
    runs = tuple(
        _run(bit, members, times)
        for bit, members in _sequence([(bit_for(each, bits), each) for each in listed])
    )
    used = sum(run.bit is not None for run in runs)
    changes = used if used > 1 else 0
    return RouterWork(
        runs=runs,
        tool_changes=changes,
        change_s=changes * times.tool_change_s,
        handling_s=handling_s,
    )


def bit_for(cuts: LayerCuts, bits: Iterable[Bit]) -> Bit | None:
    """Return the bit that cuts a layer: for holes the drill of their size, else the largest that
    goes into the narrowest of them; None without one.
    """
    able = [bit for bit in bits if cuts.role in bit.roles]
    narrowest = cuts.narrowest_mm
    if cuts.role is BitRole.BORE:
        off = {bit: abs(bit.diameter_mm - narrowest) for bit in able}
        near = [bit for bit in able if off[bit] <= SAME_DRILL_MM]
        return min(near, key=lambda bit: off[bit], default=None)
    if cuts.role is not BitRole.OUTLINE:  # what stands inside may be as narrow as it likes
        able = [bit for bit in able if bit.diameter_mm <= narrowest + SAME_MM]
    return max(able, key=lambda bit: bit.diameter_mm, default=None)


def _sequence(
    by_bit: Sequence[tuple[Bit | None, LayerCuts]],
) -> list[tuple[Bit | None, list[LayerCuts]]]:
    """Return what each bit does before it is changed. Each drill comes once; what nothing can cut
    stays alone.
    """
    found: list[tuple[Bit | None, list[LayerCuts]]] = []
    for bit, cuts in by_bit:
        drill = cuts.role is BitRole.BORE
        earlier = found if drill else found[-1:]
        same = next((members for known, members in earlier if bit and known == bit), None)
        if same is not None:
            same.append(cuts)
        else:
            found.append((bit, [cuts]))
    return found


def _run(bit: Bit | None, members: Sequence[LayerCuts], times: Times) -> BitRun:
    cuts = [cut for each in members for cut in each.cuts]
    names = tuple(each.layer.name for each in members)
    if bit is None:
        return BitRun(
            bit=None,
            layers=names,
            cuts=len(cuts),
            path_mm=0.0,
            plunges=0,
            plunged_mm=0.0,
            rapid_mm=0.0,
            seconds=0.0,
            missing_mm=min(each.narrowest_mm for each in members),
            role=members[0].role,
        )
    path_mm = math.fsum(_path_mm(each, bit) for each in members)
    plunges = sum(passes(each.depth_mm, bit) * len(each.cuts) for each in members)
    plunged_mm = math.fsum(_plunged_mm(each, bit) for each in members)
    rapid_mm = _between_mm(cuts)
    minutes = (
        path_mm / bit.feed_mm,
        plunged_mm / bit.plunge_mm,
        rapid_mm / times.rapid_mm,
    )
    return BitRun(
        bit=bit,
        layers=names,
        cuts=len(cuts),
        path_mm=path_mm,
        plunges=plunges,
        plunged_mm=plunged_mm,
        rapid_mm=rapid_mm,
        seconds=math.fsum(minutes) * SECONDS_PER_MINUTE + len(cuts) * times.lift_s,
        role=members[0].role,
    )


def passes(depth_mm: float, bit: Bit) -> int:
    """Return in how many passes a bit gets so deep."""
    if bit.pass_depth_mm is None:
        return 1
    return max(1, math.ceil((depth_mm - SAME_MM) / bit.pass_depth_mm))


def _path_mm(cuts: LayerCuts, bit: Bit) -> float:
    """Return the way along lines and in the lanes that clear pockets, in all passes."""
    lanes = max(0.0, cuts.area_mm2 - cuts.along_mm * bit.diameter_mm)
    once = cuts.along_mm + lanes / (STEP_OVER * bit.diameter_mm)
    return once * passes(cuts.depth_mm, bit)


def _plunged_mm(cuts: LayerCuts, bit: Bit) -> float:
    """Return how far the bit goes down at its plunge feed: each cut to its depth once, since every
    pass begins where the one before ended.
    """
    return cuts.depth_mm * len(cuts.cuts)


def _between_mm(cuts: Sequence[Cut]) -> float:
    """Return the ways from where each cut began, and ended, to where the next begins."""
    return math.fsum(math.dist((a.x, a.y), (b.x, b.y)) for a, b in pairwise(cuts))
