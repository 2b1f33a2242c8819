"""The bound of a linear program over relaxed layouts, improved by looking for better dual values.

Any dual values prove a bound once it is known what a sheet can hold of them (Farley 1990). The dual
values are moved from the best ones known towards the duals of a linear program over the relaxed
layouts met so far, inside a box around the best ones (Marsten, Hogan and Blankenship 1975), which
keeps them steady. Where many layouts are known from the start, true ones among them, the duals need
no box: relaxed layouts worth more than their cost join the program until there is none, by less and
less. The linear programs only propose: nothing of them is part of a proof.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from nesting.bounds.bars_both_ways import both_ways
from nesting.bounds.certificate import Certificate, least_cost
from nesting.bounds.layout_duals import KnownLayout, LayoutDuals
from nesting.bounds.relaxed_sheet import Above, Along, Held, RelaxedSheet
from nesting.bounds.sides import Turns
from nesting.bounds.stopping import Ask, never
from nesting.programs.linear_programs import MasterProblem
from nesting.programs.programs import Column, LinearStatus, at_least
from nesting.question.problem import Room

Floats = NDArray[np.float64]

LARGEST = 1 << 57
"""Value of as many copies of one piece as a sheet's area holds, at most."""
SHARES = (0.5, 0.8, 0.0, 0.9, 0.3, 0.65)
"""How much of the best dual values stays in the next ones, in turn."""
BOX = 0.06
"""How far the duals may leave the best dual values, as a share of them."""
CALLS = 30
"""A search for what a sheet can hold takes one of so many shares of the nodes."""
ENOUGH = 1e-4
SLACKS = (0.03, 0.02, 0.01, 0.005, 0.002, 0.0005)
"""By how much a layout may be worth more than its cost, in turn."""
FIRST_NODES = 500_000
"""Nodes of the first search for a layout worth more; after one in vain, four times as many."""


class SearchedSheet(Protocol):
    """A sheet on which layouts worth more than a goal are searched for."""

    def above(self, dual_values: Sequence[int], goal: int, nodes: int) -> Above:
        """Return what about so many nodes came to."""


class DualSearch:
    """A search for dual values that prove more, for sheets at given costs.

    Costs are a price for each room, or 1 each for the number of sheets; at least one is not 0.
    """

    def __init__(
        self,
        pieces: Sequence[Turns],
        rooms: Sequence[Room],
        along: Along,
        costs: Sequence[float],
        layouts: Sequence[KnownLayout] = (),
        ask: Ask = never,
    ) -> None:
        """Start with the layouts known; it asks `ask` whether to stop."""
        self._rooms, self._costs, self._ask = rooms, costs, ask
        self._demand = [piece.demand for piece in pieces]
        self._needs = np.array(self._demand, dtype=float)
        area = max(room.area for room in rooms)
        areas = [piece.sides[0][0] * piece.sides[0][1] for piece in pieces]
        self._copies = np.array([area / own for own in areas])
        self._sheets = [RelaxedSheet(pieces, room, along, ask) for room in rooms]
        self._known: list[list[tuple[int, ...]]] = [[] for _ in rooms]
        self._master = MasterProblem(at_least(need) for need in self._needs.tolist())
        for piece in range(len(pieces)):
            for sign in (1.0, -1.0):
                self._master.add_column(Column(cost=0.0, entries=((piece, sign),)))
        self._duals = LayoutDuals(pieces, costs, layouts)
        self._mixes: list[int] = []
        self._reachable = 0.0
        self.best = np.zeros(len(pieces))
        self.proven = 0.0
        self.spent = 0

    @property
    def usable(self) -> bool:
        """Return whether the relaxed sheets are fine enough for the pieces."""
        return all(sheet.usable for sheet in self._sheets)

    def proven_by(self, certificate: Certificate) -> float:
        """Return the least cost by that certificate, of the search or not; 0 when it has none."""
        total = certificate.total(self._demand)
        costs = [Fraction(cost) for cost in self._costs]
        cost = least_cost(total, certificate.most, costs, self._rooms)
        return float(cost or Fraction(0))

    def both_ways(self) -> Floats | None:
        """Return the dual values that bars and lines together prove most of, and use their parts.

        None where there are none.
        """
        paid = [place for place, cost in enumerate(self._costs) if cost > 0]
        sheets = [self._sheets[place] for place in paid]
        costs = [self._costs[place] for place in paid]
        found = both_ways(sheets, costs, self._needs, self._ask)
        if found is None:
            return None
        for sheet, parts in zip(sheets, found.parts, strict=True):
            sheet.part(parts)
        return found.dual_values

    def duals(self) -> Floats | None:
        """Return the dual values of the linear program over the layouts known."""
        proposed = self._duals.dual_values(self._ask)
        return None if proposed is None else proposed[0]

    def settle(
        self,
        nodes: int,
        sheets: Sequence[SearchedSheet] | None = None,
        slacks: Sequence[float] = SLACKS,
    ) -> Iterator[Certificate]:
        """Yield what the duals of the layouts known prove, with layouts found that join them.

        It ends when nothing more can be proven so, or before more than `nodes` nodes are used.
        Layouts are looked for on the relaxed sheets, or on those given; these may be true ones.
        """
        searched_on = sheets or self._sheets
        call, end = FIRST_NODES, self.spent + nodes
        for slack in slacks:
            while True:
                proposed = self._duals.dual_values(self._ask)
                if proposed is None:
                    return
                values, cost = proposed
                if self._hopeless(cost / (1 + slack)):
                    break
                dual_values, scale = self._whole(values)
                goals = [int(scale * own * (1 + slack)) for own in self._costs]
                searched = [
                    sheet.above(dual_values, goal, min(call, end - self.spent) // len(goals))
                    for sheet, goal in zip(searched_on, goals, strict=True)
                ]
                for place, above in enumerate(searched):
                    self.spent += above.nodes
                    for counts in above.found:
                        self._learn(place, counts)
                        self._duals.add(KnownLayout(place, counts))
                most = tuple(above.most for above in searched if above.most is not None)
                if len(most) == len(searched):
                    certificate = Certificate(dual_values=tuple(dual_values), most=most)
                    self._keep(certificate, values, scale)
                    yield certificate
                    break
                if self.spent >= end:
                    return
                if not any(above.found for above in searched):
                    call *= 4

    def start(self, values: Floats, nodes: int) -> Certificate:
        """Return what these values prove with so many nodes; keep them if none proves more."""
        dual_values, scale = self._whole(values)
        most = []
        for place, (sheet, cost) in enumerate(zip(self._sheets, self._costs, strict=True)):
            # A sheet that holds no more than that is no obstacle to what can be reached.
            wanted = float(values @ self._needs) / self._reachable if self._reachable else 0.0
            target = max(
                (_value(dual_values, counts) for counts in self._known[place]),
                default=0,
            )
            held = sheet.most(dual_values, max(target, int(wanted * scale * cost)), nodes)
            self._held(place, held)
            most.append(held.most)
            self.spent += held.nodes
        certificate = Certificate(dual_values=tuple(dual_values), most=tuple(most))
        self._keep(certificate, values, scale)
        return certificate

    def deepen(self, values: Floats, nodes: int) -> Certificate:
        """Return the same for values that are good already, and take longer for it."""
        dual_values, scale = self._whole(values)
        held = [sheet.least(dual_values, nodes // len(self._sheets)) for sheet in self._sheets]
        for place, each in enumerate(held):
            self._held(place, each)
            self.spent += each.nodes
        most = [each.most for each in held]
        certificate = Certificate(dual_values=tuple(dual_values), most=tuple(most))
        self._keep(certificate, values, scale)
        return certificate

    def improve(self, rounds: int, nodes: int) -> Iterator[Certificate]:
        """Yield what ever other dual values prove, until rounds or nodes are used up."""
        end, call = self.spent + nodes, nodes // CALLS
        for turn in range(rounds):
            answer = self._master.solve(cancel=self._ask)
            if answer.status is not LinearStatus.OPTIMAL:
                return
            if self._hopeless(answer.cost):
                if not nodes or not self._mixes:
                    return
                self._forget_mixes()
                continue
            self._reachable = answer.cost
            share = SHARES[turn % len(SHARES)]
            kept = share * answer.cost / max(float(self.best @ self._needs), 1e-300)
            tried = kept * self.best + (1 - share) * np.maximum(answer.duals, 0.0)
            yield self.start(tried, call)
            if nodes and self.spent >= end:
                return

    def _keep(self, certificate: Certificate, values: Floats, scale: float) -> None:
        """Keep the values if none prove more."""
        now = self.proven_by(certificate)
        if now > self.proven:
            paid = zip(certificate.most, self._costs, strict=True)
            self.proven = now
            self.best = values / max(most / scale / cost for most, cost in paid if cost > 0)
            self._move_box()

    def _hopeless(self, reachable: float) -> bool:
        if reachable <= self.proven * (1 + ENOUGH):
            return True
        only = len(self._rooms) == 1
        # With one stock only whole sheets count.
        cost = self._costs[0]
        return only and ceil(reachable / cost - ENOUGH) <= ceil(self.proven / cost - ENOUGH)

    def _held(self, place: int, held: Held) -> None:
        if held.counts is not None:
            self._learn(place, held.counts)
        if held.mix is not None and self._costs[place] > 0:
            self._mixes.append(self._joined(place, held.mix))

    def _learn(self, place: int, counts: tuple[int, ...]) -> None:
        if self._costs[place] > 0:
            self._known[place].append(counts)
            self._joined(place, counts)

    def _joined(self, place: int, layout: Sequence[float]) -> int:
        entries = tuple((n, float(count)) for n, count in enumerate(layout) if count)
        return self._master.add_column(Column(cost=self._costs[place], entries=entries))

    def _forget_mixes(self) -> None:
        """Take fractional layouts out: a longer look may show that no sheet holds so much."""
        for at in self._mixes:
            self._master.change_column(at, lower=0.0, upper=0.0)
        self._mixes.clear()

    def _move_box(self) -> None:
        for piece, value in enumerate(self.best.tolist()):
            self._master.change_cost(2 * piece, value * (1 + BOX))
            self._master.change_cost(2 * piece + 1, -value * (1 - BOX))

    def _whole(self, values: Floats) -> tuple[list[int], float]:
        """Return the values as integers, rounded down, and how much larger these are."""
        scale = LARGEST / max(float((values * self._copies).max()), 1e-300)
        return [int(value * scale) for value in values.tolist()], scale


def _value(dual_values: Sequence[int], counts: Sequence[int]) -> int:
    return sum(value * count for value, count in zip(dual_values, counts, strict=True) if count)
