"""The door to HiGHS, on programs solved by hand and against scipy's own copy of a solver."""

import threading
from math import inf, nan
from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from nesting.programs.linear_programs import MasterProblem, solve_integer
from nesting.programs.programs import (
    Column,
    Domain,
    IntegerLimits,
    IntegerStatus,
    LinearStatus,
    ProgramRefused,
    Row,
    at_least,
    at_most,
    exactly,
)


def test_a_program_grows_by_columns_and_rows() -> None:
    master = MasterProblem([at_least(4), exactly(3)])
    assert master.solve().status is LinearStatus.INFEASIBLE
    master.add_column(Column(cost=2, entries=((0, 1),)))
    master.add_column(Column(cost=3, entries=((1, 1),)))
    answer = master.solve()
    assert (answer.cost, answer.values, answer.duals) == (17.0, (4.0, 3.0), (2.0, 3.0))
    assert master.add_column(Column(cost=3, entries=((0, 2), (1, 1)))) == 2
    assert master.solve().cost == 9.0
    limit = master.add_row(at_most(1), [(2, 1.0)])
    answer = master.solve()
    # One of the good column less costs 4 more: a limit from above has a dual below 0.
    assert (answer.cost, answer.duals[limit]) == (13.0, -4.0)
    master.change_row(limit, at_most(2))
    assert master.solve().cost == 9.0
    master.change_column(2, lower=0, upper=0)
    assert master.solve().cost == 17.0
    master.change_cost(0, 1.0)
    assert master.solve().cost == 13.0
    assert (master.rows, master.columns) == (3, 3)


def test_a_program_without_least_cost_says_so() -> None:
    master = MasterProblem([Row()], [Column(cost=-1, entries=())])
    assert master.solve().status is LinearStatus.UNBOUNDED


def test_programs_without_columns_are_programs_too() -> None:
    assert MasterProblem([at_least(0), at_most(3)]).solve().duals == (0.0, 0.0)
    assert solve_integer([], []).status is IntegerStatus.OPTIMAL
    assert solve_integer([exactly(3)], []).status is IntegerStatus.INFEASIBLE


def test_whole_and_real_columns() -> None:
    whole = solve_integer([at_least(3)], [Column(cost=2, entries=((0, 2),))])
    assert (whole.cost, whole.wholes, whole.bound) == (4.0, (2,), 4.0)
    real = solve_integer([at_least(3)], [Column(cost=2, entries=((0, 2),), domain=Domain.REAL)])
    assert (real.cost, real.values) == (3.0, (1.5,))
    impossible = solve_integer([exactly(3)], [Column(cost=2, entries=((0, 2),))])
    assert (impossible.status, impossible.bound) == (IntegerStatus.INFEASIBLE, inf)


programs = st.integers(1, 4).flatmap(
    lambda rows: st.tuples(
        st.lists(st.integers(1, 30), min_size=rows, max_size=rows),
        st.lists(
            st.tuples(
                st.integers(1, 20), st.lists(st.integers(1, 6), min_size=rows, max_size=rows)
            ),
            min_size=1,
            max_size=6,
        ),
    )
)


@settings(max_examples=40, deadline=None)
@given(programs)
def test_integer_programs_agree_with_scipy(
    program: tuple[list[int], list[tuple[int, list[int]]]],
) -> None:
    needs, choices = program
    answer = solve_integer(
        [at_least(need) for need in needs],
        [Column(cost=cost, entries=tuple(enumerate(brings))) for cost, brings in choices],
    )
    matrix = np.array([brings for _, brings in choices]).T
    expected = milp(
        np.array([cost for cost, _ in choices]),
        constraints=LinearConstraint(matrix, np.array(needs), np.full(len(needs), np.inf)),
        bounds=Bounds(0, np.inf),
        integrality=np.ones(len(choices)),
    )
    assert answer.status is IntegerStatus.OPTIMAL
    assert answer.cost == pytest.approx(expected.fun, abs=1e-6)
    assert all(matrix @ np.array(answer.wholes) >= np.array(needs))


def hard_program() -> tuple[list[Row], list[Column]]:
    chance = Random(3)
    rows = [at_least(chance.randint(900, 1000)) for _ in range(15)]
    columns = [
        Column(
            cost=chance.randint(80, 100),
            entries=tuple((row, chance.randint(1, 20)) for row in chance.sample(range(15), 6)),
        )
        for _ in range(60)
    ]
    return rows, columns


def test_limits_stop_early_and_alike() -> None:
    rows, columns = hard_program()
    limits = IntegerLimits(looks=20)
    first, second = (solve_integer(rows, columns, limits=limits) for _ in range(2))
    assert first.status is IntegerStatus.STOPPED
    assert first == second
    assert first.bound < first.cost


def test_a_known_answer_is_not_lost() -> None:
    rows, columns = hard_program()
    known = solve_integer(rows, columns, limits=IntegerLimits(looks=60))
    again = solve_integer(rows, columns, limits=IntegerLimits(nodes=0), start=known.values)
    assert again.cost <= known.cost


@pytest.mark.parametrize("seed", range(20))
def test_a_start_changes_neither_the_cost_nor_what_is_proven(seed: int) -> None:
    # Reference: scipy.optimize.milp, which is given no start.
    chance = Random(seed)
    needs = [chance.randint(20, 400) for _ in range(chance.randint(2, 6))]
    brings = [
        [chance.randint(1, 5) * chance.randint(0, 1) for _ in needs]
        for _ in range(chance.randint(4, 20))
    ]
    brings.append([1] * len(needs))
    costs = [chance.choice((58.7, 94.25)) for _ in brings]
    answer = solve_integer(
        [at_least(need) for need in needs],
        [
            Column(cost=cost, entries=tuple(enumerate(map(float, brought))))
            for cost, brought in zip(costs, brings, strict=True)
        ],
        start=[0.0] * (len(brings) - 1) + [float(max(needs))],
    )
    expected = milp(
        np.array(costs),
        constraints=LinearConstraint(np.array(brings).T, np.array(needs), np.inf),
        bounds=Bounds(0, np.inf),
        integrality=np.ones(len(costs)),
    )
    assert answer.cost == pytest.approx(expected.fun)
    assert answer.bound == pytest.approx(expected.fun)
    assert np.dot(costs, answer.wholes) == pytest.approx(expected.fun)


def test_cancel_stops_and_keeps_what_was_found() -> None:
    rows, columns = hard_program()
    asked = threading.Event()

    def cancel() -> bool:
        asked.set()
        return True

    answer = solve_integer(rows, columns, cancel=cancel)
    assert asked.is_set()
    assert answer.status in (IntegerStatus.STOPPED, IntegerStatus.NOTHING_FOUND)
    master = MasterProblem(rows, columns)
    assert master.solve(cancel=lambda: True).status is LinearStatus.CANCELLED


def test_a_failure_in_cancel_comes_out() -> None:
    def cancel() -> bool:
        raise KeyError("mine")

    with pytest.raises(KeyError, match="mine"):
        solve_integer(*hard_program(), cancel=cancel)


@pytest.mark.parametrize(
    "column",
    [
        Column(cost=nan, entries=()),
        Column(cost=inf, entries=()),
        Column(cost=1, entries=((1, 1),)),
        Column(cost=1, entries=((0, nan),)),
        Column(cost=1, entries=((0, 1), (0, 2))),
        Column(cost=1, entries=(), lower=2, upper=1),
    ],
)
def test_malformed_columns_are_refused(column: Column) -> None:
    with pytest.raises(ProgramRefused):
        MasterProblem([at_least(1)], [column])


def test_malformed_rows_and_starts_are_refused() -> None:
    with pytest.raises(ProgramRefused):
        MasterProblem([Row(lower=2, upper=1)])
    with pytest.raises(ProgramRefused):
        MasterProblem([]).change_row(0, Row())
    with pytest.raises(ProgramRefused, match="start of 2 values for 1"):
        solve_integer([at_least(1)], [Column(cost=1, entries=((0, 1),))], start=[1, 1])


def test_nothing_is_printed(capfd: pytest.CaptureFixture[str]) -> None:
    solve_integer([at_least(3)], [Column(cost=2, entries=((0, 2),))])
    assert capfd.readouterr() == ("", "")
