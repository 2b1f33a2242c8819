"""Linear and integer programs: the only door to HiGHS. Every program is minimised.

Questions and answers are in nesting.programs.programs.

Answers are floats, good to about 1e-7 and no proof: whoever needs one rounds the duals and prices
again in whole numbers. Nothing here looks at a clock. One thread, one seed and limits that count
work: the same program gives the same answer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from math import inf, isfinite

import highspy
import numpy as np
from highspy import cb

from nesting.programs.programs import (
    Column,
    Domain,
    IntegerAnswer,
    IntegerLimits,
    IntegerStatus,
    LinearAnswer,
    LinearStatus,
    ProgramRefused,
    Row,
    SolverFailed,
)

Cancel = Callable[[], bool]
"""Asked again and again while HiGHS works, on the thread that called; True stops it."""


class MasterProblem:
    """A linear program that grows: solved, given new columns or rows, and solved again.

    Each solve starts from the last basis. Whether a column is whole does not matter here: this is
    the relaxation.
    """

    def __init__(self, rows: Iterable[Row], columns: Iterable[Column] = ()) -> None:
        """Start with these rows and columns.

        Raises:
            ProgramRefused: a number is not one, or a column names a row that is not there.
        """
        self._model = _Model()
        for row in rows:
            self._model.add_row(row, ())
        for column in columns:
            self._model.add_column(column)
        # Presolve would throw the last basis away.
        self._model.set_option("presolve", "off")
        self._model.set_option("solver", "simplex")

    @property
    def rows(self) -> int:
        """Return how many rows there are."""
        return self._model.rows

    @property
    def columns(self) -> int:
        """Return how many columns there are."""
        return self._model.columns

    def add_column(self, column: Column) -> int:
        """Add a column and return its place.

        Raises:
            ProgramRefused: a number is not one, or the column names a row that is not there.
        """
        return self._model.add_column(column)

    def add_row(self, row: Row, entries: Iterable[tuple[int, float]] = ()) -> int:
        """Add a row over columns that exist, given as (column, coefficient); return its place.

        Raises:
            ProgramRefused: a number is not one, or the row names a column that is not there.
        """
        return self._model.add_row(row, tuple(entries))

    def change_row(self, place: int, row: Row) -> None:
        """Give a row other limits.

        Raises:
            ProgramRefused: there is no such row, or a limit is not a number.
        """
        self._model.change_row(place, row)

    def change_column(self, place: int, *, lower: float, upper: float) -> None:
        """Give a column other limits; with both at 0 it is out.

        Raises:
            ProgramRefused: there is no such column, or a limit is not a number.
        """
        self._model.change_column(place, lower, upper)

    def change_cost(self, place: int, cost: float) -> None:
        """Give a column another cost.

        Raises:
            ProgramRefused: there is no such column, or the cost is not a number.
        """
        self._model.change_cost(place, cost)

    def solve(self, *, cancel: Cancel | None = None) -> LinearAnswer:
        """Return the optimum with its duals, or why there is none.

        Raises:
            SolverFailed: HiGHS gave up for a reason that no caller can mend.
        """
        return self._model.linear_answer(cancel)


def solve_integer(
    rows: Iterable[Row],
    columns: Sequence[Column],
    *,
    limits: IntegerLimits | None = None,
    start: Sequence[float] | None = None,
    cancel: Cancel | None = None,
) -> IntegerAnswer:
    """Return the best choice found of whole (and real) columns, with a bound on its cost.

    `start` gives one value for each column of an answer already known; HiGHS begins there when it
    keeps to the rows. Values of whole columns are whole exactly. The caller checks the rows again
    in its own whole numbers.

    Raises:
        ProgramRefused: a number is not one, a column names a row that is not there, or `start`
            does not give one value for each column.
        SolverFailed: HiGHS gave up for a reason that no caller can mend.
    """
    model = _Model()
    for row in rows:
        model.add_row(row, ())
    for column in columns:
        model.add_column(column)
    model.restrict(columns)
    if start is not None:
        model.start_from(start)
    return model.integer_answer(columns, limits or IntegerLimits(), cancel)


SEED = 1
"""Seed of HiGHS; any would do, but it must be one."""

_LINEAR_ENDS = {
    highspy.HighsModelStatus.kOptimal: LinearStatus.OPTIMAL,
    highspy.HighsModelStatus.kInfeasible: LinearStatus.INFEASIBLE,
    highspy.HighsModelStatus.kUnbounded: LinearStatus.UNBOUNDED,
    highspy.HighsModelStatus.kInterrupt: LinearStatus.CANCELLED,
}

_STOPS = (
    highspy.HighsModelStatus.kInterrupt,
    highspy.HighsModelStatus.kSolutionLimit,  # what HiGHS says at its limit of nodes
    highspy.HighsModelStatus.kIterationLimit,
)


class _Model:
    """A program inside HiGHS. No other class talks to it."""

    def __init__(self) -> None:
        # The public class prints a banner before it can be silenced; its base does not.
        self._highs = highspy._core._Highs()
        for name, value in (("output_flag", False), ("threads", 1), ("random_seed", SEED)):
            self.set_option(name, value)
        self.rows = 0
        self.columns = 0

    def set_option(self, name: str, value: bool | int | float | str) -> None:
        _accepted(self._highs.setOptionValue(name, value), f"option {name} = {value}")

    def add_row(self, row: Row, entries: tuple[tuple[int, float], ...]) -> int:
        places, values = _arrays(entries, self.columns, "column")
        _in_order(row.lower, row.upper, f"row {self.rows}")
        done = self._highs.addRow(row.lower, row.upper, len(entries), places, values)
        _accepted(done, f"row {self.rows}")
        self.rows += 1
        return self.rows - 1

    def add_column(self, column: Column) -> int:
        places, values = _arrays(column.entries, self.rows, "row")
        what = f"column {self.columns}"
        _in_order(column.lower, column.upper, what)
        _finite(column.cost, what)
        done = self._highs.addCol(
            column.cost, column.lower, column.upper, len(places), places, values
        )
        _accepted(done, what)
        self.columns += 1
        return self.columns - 1

    def change_row(self, place: int, row: Row) -> None:
        _known(place, self.rows, "row")
        _in_order(row.lower, row.upper, f"row {place}")
        _accepted(self._highs.changeRowBounds(place, row.lower, row.upper), f"row {place}")

    def change_column(self, place: int, lower: float, upper: float) -> None:
        _known(place, self.columns, "column")
        _in_order(lower, upper, f"column {place}")
        _accepted(self._highs.changeColBounds(place, lower, upper), f"column {place}")

    def change_cost(self, place: int, cost: float) -> None:
        _known(place, self.columns, "column")
        _finite(cost, f"column {place}")
        _accepted(self._highs.changeColCost(place, cost), f"column {place}")

    def restrict(self, columns: Sequence[Column]) -> None:
        for place, column in enumerate(columns):
            if column.domain is Domain.WHOLE:
                self._highs.changeColIntegrality(place, highspy.HighsVarType.kInteger)

    def start_from(self, values: Sequence[float]) -> None:
        if len(values) != self.columns:
            raise ProgramRefused(f"a start of {len(values)} values for {self.columns} columns")
        # HiGHS 1.16 takes a start over into what presolve leaves without what presolve took out,
        # and calls it optimal at a cost that nothing has.
        self.set_option("presolve", "off")
        start = highspy.HighsSolution()
        start.col_value = list(values)
        _accepted(self._highs.setSolution(start), "start")

    def linear_answer(self, cancel: Cancel | None) -> LinearAnswer:
        if not self.columns:
            return self._answer_without_columns()
        self._run(cancel, None)
        status = _LINEAR_ENDS.get(self._ended())
        if status is None:
            raise SolverFailed(f"linear program ended with {self._ended().name}")
        if status is not LinearStatus.OPTIMAL:
            return LinearAnswer(status=status)
        solution = self._highs.getSolution()
        return LinearAnswer(
            status=status,
            cost=self._highs.getInfo().objective_function_value,
            values=tuple(solution.col_value),
            duals=tuple(solution.row_dual),
        )

    def _answer_without_columns(self) -> LinearAnswer:
        # HiGHS calls such a program empty and looks no further.
        program = self._highs.getLp()
        limits = zip(program.row_lower_, program.row_upper_, strict=True)
        if all(lower <= 0 <= upper for lower, upper in limits):
            return LinearAnswer(status=LinearStatus.OPTIMAL, cost=0.0, duals=(0.0,) * self.rows)
        return LinearAnswer(status=LinearStatus.INFEASIBLE)

    def integer_answer(
        self, columns: Sequence[Column], limits: IntegerLimits, cancel: Cancel | None
    ) -> IntegerAnswer:
        if not self.columns:
            empty = self._answer_without_columns()
            optimal = empty.status is LinearStatus.OPTIMAL
            return IntegerAnswer(
                status=IntegerStatus.OPTIMAL if optimal else IntegerStatus.INFEASIBLE,
                cost=empty.cost,
                bound=empty.cost,
            )
        self.set_option("mip_rel_gap", limits.relative_gap)
        self.set_option("mip_abs_gap", limits.absolute_gap)
        if limits.nodes is not None:
            self.set_option("mip_max_nodes", limits.nodes)
        self._run(cancel, limits.looks)
        ended = self._ended()
        if ended == highspy.HighsModelStatus.kInfeasible:
            return IntegerAnswer(status=IntegerStatus.INFEASIBLE, bound=inf)
        if ended != highspy.HighsModelStatus.kOptimal and ended not in _STOPS:
            raise SolverFailed(f"integer program ended with {ended.name}")
        return self._integer_answer(columns, ended)

    def _integer_answer(
        self, columns: Sequence[Column], ended: highspy.HighsModelStatus
    ) -> IntegerAnswer:
        info = self._highs.getInfo()
        if info.primal_solution_status != highspy.kSolutionStatusFeasible:
            return IntegerAnswer(
                status=IntegerStatus.NOTHING_FOUND,
                bound=info.mip_dual_bound,
                nodes=info.mip_node_count,
            )
        values = tuple(
            value if column.domain is Domain.REAL else float(round(value))
            for value, column in zip(self._highs.getSolution().col_value, columns, strict=True)
        )
        optimal = ended == highspy.HighsModelStatus.kOptimal
        return IntegerAnswer(
            status=IntegerStatus.OPTIMAL if optimal else IntegerStatus.STOPPED,
            cost=info.objective_function_value,
            values=values,
            bound=info.mip_dual_bound,
            nodes=info.mip_node_count,
        )

    def _ended(self) -> highspy.HighsModelStatus:
        return self._highs.getModelStatus()

    def _run(self, cancel: Cancel | None, looks: int | None) -> None:
        if cancel is None and looks is None:
            self._highs.run()
            return
        counted = 0
        failures: list[BaseException] = []

        def look(
            kind: cb.HighsCallbackType,
            message: str,
            found: cb.HighsCallbackOutput,
            reply: cb.HighsCallbackInput,
            data: object,
        ) -> None:
            nonlocal counted
            counted += 1
            if looks is not None and counted > looks:
                reply.user_interrupt = True
            try:
                if cancel is not None and cancel():
                    reply.user_interrupt = True
            except BaseException as error:  # must not pass through foreign code
                failures.append(error)
                reply.user_interrupt = True

        kinds = (
            cb.HighsCallbackType.kCallbackSimplexInterrupt,
            cb.HighsCallbackType.kCallbackMipInterrupt,
        )
        self._highs.setCallback(look, None)
        for kind in kinds:
            self._highs.startCallback(kind)
        self._highs.run()
        for kind in kinds:
            self._highs.stopCallback(kind)
        if failures:
            raise failures[0]


def _arrays(
    entries: Sequence[tuple[int, float]], count: int, what: str
) -> tuple[
    np.ndarray[tuple[int], np.dtype[np.int32]], np.ndarray[tuple[int], np.dtype[np.float64]]
]:
    places = [place for place, _ in entries]
    if len(set(places)) != len(places):
        raise ProgramRefused(f"a {what} stands twice in {places}")
    for place, value in entries:
        _known(place, count, what)
        _finite(value, f"{what} {place}")
    values = [value for _, value in entries]
    return np.array(places, dtype=np.int32), np.array(values, dtype=np.float64)


def _known(place: int, count: int, what: str) -> None:
    if not 0 <= place < count:
        raise ProgramRefused(f"there is no {what} {place}: there are {count}")


def _finite(value: float, what: str) -> None:
    if not isfinite(value):
        raise ProgramRefused(f"{what}: {value} is not a finite number")


def _in_order(lower: float, upper: float, what: str) -> None:
    # Written so that it refuses "not a number" too.
    if not (lower <= upper and lower < inf and upper > -inf):
        raise ProgramRefused(f"{what}: no number lies from {lower} to {upper}")


def _accepted(done: highspy.HighsStatus, what: str) -> None:
    # A warning is given for coefficients too small to matter, which are dropped.
    if done == highspy.HighsStatus.kError:
        raise ProgramRefused(f"{what} is refused by HiGHS")
