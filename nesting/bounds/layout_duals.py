"""Dual values from a linear program over layouts: what a piece counts where these are all there is.

The program only proposes: whether a sheet can hold more of the dual values is for others to prove.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nesting.bounds.sides import Turns
from nesting.bounds.stopping import Ask
from nesting.programs.linear_programs import MasterProblem
from nesting.programs.programs import Column, LinearStatus, at_least

Floats = NDArray[np.float64]

NOTHING = 1e-9
"""Dual values of so small a share of a sheet's cost are left of rounding."""


@dataclass(frozen=True, slots=True)
class KnownLayout:
    """A layout by the place of its room and how often each piece lies on it."""

    room: int
    counts: tuple[int, ...]


class LayoutDuals:
    """The program, in which sheets of each room have a cost; layouts can join."""

    def __init__(
        self, pieces: Sequence[Turns], costs: Sequence[float], layouts: Sequence[KnownLayout]
    ) -> None:
        """Start with these layouts, and with every piece alone on the dearest sheet."""
        self._costs = costs
        self._master = MasterProblem(at_least(float(piece.demand)) for piece in pieces)
        for piece in range(len(pieces)):
            self._master.add_column(Column(cost=max(costs), entries=((piece, 1.0),)))
        for layout in layouts:
            self.add(layout)

    def add(self, layout: KnownLayout) -> None:
        """Take a layout into the program."""
        entries = tuple((n, float(count)) for n, count in enumerate(layout.counts) if count)
        self._master.add_column(Column(cost=self._costs[layout.room], entries=entries))

    def dual_values(self, ask: Ask) -> tuple[Floats, float] | None:
        """Return the dual value of each piece and of all of them; None if there is no answer."""
        answer = self._master.solve(cancel=ask)
        if answer.status is not LinearStatus.OPTIMAL:
            return None
        duals = np.array(answer.duals)
        duals[duals < NOTHING * max(self._costs)] = 0.0
        return duals, answer.cost
