"""Linear and integer programs as data: what is asked and what comes back. All are minimised.

A program is a list of rows (what a sum must keep to) and of columns (what may be chosen, what it
costs, and how much of each row it brings). Rows and columns are named by their place, from 0.
"""

from dataclasses import dataclass
from enum import StrEnum
from math import inf

from nesting.question.errors import NestingError


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A sum that must lie from `lower` to `upper`, both included; infinite means open."""

    lower: float = -inf
    upper: float = inf


class Domain(StrEnum):
    """Which values a column may take in an integer program."""

    WHOLE = "whole numbers"
    REAL = "any numbers"


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A choice: cost of one, what one brings to which row, and from how many to how many."""

    cost: float
    entries: tuple[tuple[int, float], ...]
    lower: float = 0.0
    upper: float = inf
    domain: Domain = Domain.WHOLE


def at_least(value: float) -> Row:
    """Return a row that covers a need."""
    return Row(lower=value)


def at_most(value: float) -> Row:
    """Return a row that keeps to a limit."""
    return Row(upper=value)


def exactly(value: float) -> Row:
    """Return a row that meets a need and no more."""
    return Row(lower=value, upper=value)


class LinearStatus(StrEnum):
    """How a linear program ended."""

    OPTIMAL = "optimal"
    INFEASIBLE = "no choice keeps to all rows"
    UNBOUNDED = "no least cost"
    CANCELLED = "cancelled"


@dataclass(frozen=True, slots=True, kw_only=True)
class LinearAnswer:
    """An optimum: `values` by column, `duals` by row; both empty unless it is optimal.

    A dual says what one more of its row costs: 0 or more where the lower limit holds, 0 or less
    where the upper one does. A column that costs less than its entries times the duals is worth
    adding.
    """

    status: LinearStatus
    cost: float = inf
    values: tuple[float, ...] = ()
    duals: tuple[float, ...] = ()


class IntegerStatus(StrEnum):
    """How an integer program ended."""

    OPTIMAL = "optimal"
    STOPPED = "stopped at a limit or cancelled, with an answer"
    NOTHING_FOUND = "stopped at a limit or cancelled, without an answer"
    INFEASIBLE = "no choice keeps to all rows"


@dataclass(frozen=True, slots=True, kw_only=True)
class IntegerLimits:
    """When to stop. None means without limit; gaps are above the bound, the relative one a share.

    `looks` counts how often HiGHS asks whether to go on, within the root as well: the only one
    that caps the work of a hard program (a thousand take about a second).
    """

    nodes: int | None = None
    looks: int | None = None
    relative_gap: float = 0.0
    absolute_gap: float = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class IntegerAnswer:
    """A choice by column (empty if there is none), its cost, and a cost that no choice is below.

    The bound is the solver's, in floats; it is as good as its tolerances.
    """

    status: IntegerStatus
    cost: float = inf
    values: tuple[float, ...] = ()
    bound: float = -inf
    nodes: int = 0

    @property
    def wholes(self) -> tuple[int, ...]:
        """Return the values as integers, for programs in which every column is whole."""
        return tuple(round(value) for value in self.values)


class ProgramRefused(NestingError):
    """A program is malformed: a mistake of the caller, found before or by HiGHS."""


class SolverFailed(NestingError):
    """HiGHS ended without an answer and without a reason that is part of the question."""
