"""Repetition: more rooms of the same kinds are more runs, not more work."""

import pytest

from nesting import filling
from nesting.draft import Draft
from nesting.meter import WorkMeter
from nesting.offers import Order
from nesting.pool import Pool
from nesting.problem import problem_of
from nesting.proposals import ByRecipe, Recipe
from nesting.rectpack_start import Axis, Rule, Surface
from nesting.settings import Effort
from nesting.sheet_by_sheet import complete
from nesting.solve import solve
from nesting.stock_plans import stock_plans
from nesting.values import first_values
from tests.nesting.random_nests import assert_exact
from tests.nesting.room_job import room_job


@pytest.fixture
def packer_calls(monkeypatch):
    calls: list[str] = []

    class Counted(Surface):
        def place(self, kind):
            calls.append("place")
            return super().place(kind)

        def fitness(self, kind):
            calls.append("fitness")
            return super().fitness(kind)

    monkeypatch.setattr(filling, "Surface", Counted)
    return calls


def calls_of_passes(rooms: int, calls: list[str]) -> tuple[int, int]:
    """Pack the job once by each of several recipes; return packer calls and layouts in all."""
    calls.clear()
    layouts = 0
    problem = problem_of(room_job(rooms))
    for rule in (Rule.MAX_AREA, Rule.SKY_BOTTOM_LEFT, Rule.CUT_AREA_LEAST):
        for order in Order:
            recipe = Recipe(rule, Axis.LENGTH, order)
            source = ByRecipe(problem, recipe, Pool(problem), WorkMeter(0))
            demand, plan = dict(enumerate(problem.demand)), stock_plans(problem)[0]
            draft = complete(problem, Draft(), demand, plan, first_values(problem), source)
            assert not draft.short
            layouts += len(draft.runs)
    return len(calls), layouts


def test_a_pass_over_ten_or_a_hundred_times_the_rooms_costs_no_more(packer_calls):
    few, _ = calls_of_passes(48, packer_calls)
    assert calls_of_passes(480, packer_calls)[0] <= 1.1 * few
    assert calls_of_passes(4800, packer_calls)[0] <= 1.1 * few


def test_a_whole_nest_of_ten_times_the_rooms_costs_no_more(packer_calls):
    work = []
    for rooms in (48, 480):
        packer_calls.clear()
        job = room_job(rooms)
        solution = solve(job, effort=Effort.QUICK)
        work.append(len(packer_calls))
        assert solution.distinct < 60 < solution.sheets
    assert work[1] <= 1.1 * work[0]


def test_the_room_job_stays_near_its_bound_with_few_layouts():
    job = room_job(48)
    solution = solve(job)
    assert_exact(job, solution)
    # Found by this nest with this seed; the bound is 176. Worse is a step back.
    assert solution.sheets <= 185
    assert solution.distinct <= 30


def test_identical_sheets_become_one_layout():
    solution = solve(room_job(480), effort=Effort.QUICK)
    contents = [(layout.stock, frozenset(layout.counts().items())) for layout in solution.layouts]
    assert len(contents) == len(set(contents))
