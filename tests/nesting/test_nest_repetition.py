"""Repetition: more rooms of the same kinds are more runs, not more work."""

from statistics import median

import pytest

from nesting.answer.verify import violations
from nesting.bounds.lower_bounds import quick_bounds
from nesting.patterns.fewer_layouts import FewLayouts
from nesting.patterns.generation import Generation
from nesting.patterns.pricing import Pricer
from nesting.programs.linear_programs import MasterProblem
from nesting.question.problem import problem_of
from nesting.question.settings import Effort, Preference
from nesting.search import search as search_module
from nesting.search.arrays import arrays_of
from nesting.search.budget import Budget
from nesting.search.first_answers import first_answer
from nesting.search.watch import Unwatched
from nesting.solve import solve
from tests.nesting.random_nests import assert_exact
from tests.nesting.room_job import room_job
from tests.nesting.small_efforts import SmallEffort, limits

ENOUGH = 10**9
"""So much work that each part below ends by itself."""
GROWTH = 1.5
SEEDS = (1, 2, 3)
"""One search may be three times as long as another that differs by nothing but its seed."""
EXTRA = Preference(extra_price=0.01)


def no_clock() -> float:
    raise AssertionError("the clock was read")


@pytest.fixture
def programs(monkeypatch):
    """Counts the linear programs solved."""
    calls: list[int] = []
    right = MasterProblem.solve

    def counted(self, *args, **kwargs):
        calls.append(1)
        return right(self, *args, **kwargs)

    monkeypatch.setattr(MasterProblem, "solve", counted)
    return calls


def work_of_parts(rooms: int, seed: int) -> int:
    """Return the pieces offered by the parts of a nest, each left to come to its own end."""
    problem = problem_of(room_job(rooms))
    arrays, demand = arrays_of(problem), dict(enumerate(problem.demand))
    budget = Budget(ENOUGH, None, no_clock, Unwatched())
    first = first_answer(problem, arrays, demand, budget, 0.0)
    pricer = Pricer(problem, arrays, seed)
    generation = Generation(problem, demand, pricer, first)
    generation.run(budget)
    curve = FewLayouts(problem, arrays, demand, generation, pricer, seed)
    for waste in (0.0, 0.02):
        draft = curve.draft(waste, budget)
        assert draft is not None
        assert not draft.short
    return budget.spent


def test_each_part_left_to_its_end_costs_the_same_for_a_hundred_times_the_rooms():
    few, many = (median(work_of_parts(rooms, seed) for seed in SEEDS) for rooms in (40, 4000))
    assert many <= GROWTH * few


class Remembered(Budget):
    """The whole budget of the last search."""

    last: Budget

    def __init__(self, *args) -> None:
        super().__init__(*args)
        type(self).last = self


def test_a_search_of_four_hundred_times_the_rooms_costs_no_more(programs, monkeypatch):
    monkeypatch.setattr(search_module, "Budget", Remembered)
    offered, solved = {}, {}
    for rooms in (10, 400, 4000):
        programs.clear()
        problem = problem_of(room_job(rooms))
        bounds = quick_bounds(problem)
        task = search_module.Task(problem, bounds, limits(5_000_000), Preference(), None, 1)
        search_module.search(task)
        offered[rooms], solved[rooms] = Remembered.last.spent, len(programs)
    assert max(offered.values()) <= GROWTH * offered[10]
    assert max(solved.values()) <= GROWTH * solved[10]


@pytest.fixture(scope="module")
def nested():
    job = room_job(48)
    return job, solve(job, effort=Effort.NORMAL, preference=EXTRA)


def test_the_room_job_needs_few_sheets(nested):
    job, solution = nested
    assert_exact(job, solution)
    assert violations(job, solution) == ()
    # The bound is 177; more sheets than these are a step back.
    assert min(choice.sheets for choice in solution.choices) <= 182


def test_for_one_percent_more_there_are_no_more_layouts_than_kinds(nested):
    job, solution = nested
    fewest = min(choice.sheets for choice in solution.choices)
    assert solution.sheets <= 1.01 * fewest
    assert solution.distinct <= len(job.pieces)


def test_ten_times_the_rooms_need_no_more_layouts():
    job = room_job(480)
    solution = solve(job, effort=Effort.QUICK)
    assert_exact(job, solution)
    assert solution.distinct < 60 < solution.sheets
    assert solution.gap <= 0.05


def test_identical_sheets_become_one_layout():
    solution = solve(room_job(480), effort=SmallEffort.SMALL)
    contents = [(layout.stock, frozenset(layout.counts().items())) for layout in solution.layouts]
    assert len(contents) == len(set(contents))
