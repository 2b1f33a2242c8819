"""Progress, cancel and time limit: the best answer so far is never lost."""

from itertools import count

import pytest

from nesting import solve as solve_module
from nesting.answer.solution import StopReason
from nesting.answer.verify import violations
from nesting.bounds.lower_bounds import quick_bounds
from nesting.question.errors import StoppedTooEarly
from nesting.question.instance import Instance
from nesting.question.problem import problem_of
from nesting.question.settings import Preference
from nesting.search import search as search_module
from nesting.search.budget import CHUNK, Budget
from nesting.search.watch import Standing
from nesting.solve import solve
from tests.nesting.random_nests import assert_exact
from tests.nesting.room_job import room_job
from tests.nesting.small_efforts import SmallEffort, limits


class Watch:
    """Keeps what it is told, and cancels at the n-th look."""

    def __init__(self, last_look: int | None = None) -> None:
        self.told: list[Standing] = []
        self.looks = 0
        self._last_look = last_look

    def standing(self, standing: Standing) -> None:
        self.told.append(standing)

    def cancelled(self) -> bool:
        self.looks += 1
        return self._last_look is not None and self.looks >= self._last_look

    def best_told(self) -> int | None:
        return min((s.sheets for s in self.told if s.sheets is not None), default=None)


def looks_of(job: Instance) -> int:
    watch = Watch()
    solve(job, effort=SmallEffort.SMALL, watcher=watch)
    return watch.looks


def test_progress_rises_and_tells_only_answers_there_are():
    watch = Watch()
    solution = solve(room_job(10), watcher=watch, effort=SmallEffort.SMALL)
    done = [standing.done for standing in watch.told]
    assert done == sorted(done)
    assert 0.0 <= done[0] <= done[-1] <= 1.0
    assert len(watch.told) > 2
    assert all(standing.lower_bound <= solution.lower_bound for standing in watch.told)
    assert solution.sheets == watch.best_told()


@pytest.mark.parametrize("share", [0.1, 0.3, 0.5, 0.7, 0.9, 0.99])
@pytest.mark.parametrize("rooms", [6, 10])
def test_a_cancelled_nest_returns_the_best_answer_so_far(rooms, share):
    job = room_job(rooms)
    watch = Watch(1 + int(share * looks_of(job)))
    solution = solve(job, effort=SmallEffort.SMALL, watcher=watch)
    assert_exact(job, solution)
    assert violations(job, solution) == ()
    assert solution.stop is StopReason.CANCELLED
    told = watch.best_told()
    assert told is not None
    assert solution.sheets <= told


@pytest.mark.parametrize("share", [0.3, 0.36, 0.4, 0.6, 0.7, 0.9])
def test_the_answer_of_the_first_search_is_kept_whenever_a_later_one_is_stopped(share):
    job = room_job(10)
    watch = Watch()
    solve(job, effort=SmallEffort.SEVERAL, watcher=watch)
    watch = Watch(1 + int(share * watch.looks))
    solution = solve(job, effort=SmallEffort.SEVERAL, watcher=watch)
    assert violations(job, solution) == ()
    assert solution.sheets <= watch.best_told()


def test_progress_is_over_all_searches():
    watch = Watch()
    solve(room_job(10), effort=SmallEffort.SEVERAL, watcher=watch)
    done = [standing.done for standing in watch.told]
    assert done == sorted(done)
    assert done[0] < 0.3
    assert 0.9 < done[-1] <= 1.0
    sheets = [standing.sheets for standing in watch.told if standing.sheets is not None]
    assert sheets == sorted(sheets, reverse=True)


@pytest.mark.parametrize("looks", [1, 2, 5])
def test_cancelled_before_any_answer_it_says_so(looks):
    watch = Watch(last_look=looks)
    with pytest.raises(StoppedTooEarly):
        solve(room_job(10), effort=SmallEffort.SMALL, watcher=watch)
    assert not watch.told
    assert watch.looks == looks


def test_cancelled_at_the_first_answer_no_more_work_is_begun():
    job = room_job(10)

    class AtFirst(Watch):
        def cancelled(self) -> bool:
            return super().cancelled() or bool(self.told)

    watch = AtFirst()
    solution = solve(job, effort=SmallEffort.SMALL, watcher=watch)
    assert len(watch.told) <= 2
    assert solution.sheets <= watch.told[0].sheets
    assert watch.looks < looks_of(job) / 2


class SteadyClock:
    """Every look takes a hundredth of a second."""

    def __init__(self) -> None:
        self._ticks = count()

    def __call__(self) -> float:
        return next(self._ticks) / 100


def test_all_searches_together_take_the_seconds_asked():
    clock = SteadyClock()
    solution = solve(room_job(10), effort=SmallEffort.SEVERAL, seconds=2.0, clock=clock)
    assert solution.stop is StopReason.TIME
    # The steps of three searches that no clock stops: first answers, and the last layouts.
    assert 2.0 <= clock() < 2.5


@pytest.mark.parametrize("seconds", [0.0, 0.05, 1.0])
def test_the_search_stops_when_the_time_is_up(seconds):
    job = room_job(10)
    solution = solve(job, effort=SmallEffort.SMALL, seconds=seconds, clock=SteadyClock())
    assert solution.stop is StopReason.TIME
    assert_exact(job, solution)
    assert violations(job, solution) == ()


def test_with_a_time_limit_the_clock_decides_and_not_the_work():
    clock = SteadyClock()
    budget = Budget(10, 1.0, clock, Watch())
    part = budget.part(0.5)
    part.spend(1000)
    assert budget.over is None
    assert part.over is None
    while clock() < 0.6:
        assert budget.over is None
    assert part.over is StopReason.TIME
    while clock() < 1.0:
        assert budget.within(10**9).over in {None, StopReason.TIME}
    assert budget.over is StopReason.TIME


def test_a_part_of_the_work_ends_before_the_whole():
    budget = Budget(1_000, None, broken_clock, Watch())
    part = budget.part(0.25)
    part.spend(249)
    assert (part.over, budget.over) == (None, None)
    part.spend(1)
    assert (part.over, budget.over) == (StopReason.WORK, None)
    within = budget.within(10_000)
    within.spend(750)
    assert within.over is budget.over is StopReason.WORK
    assert budget.part(0.5).over is StopReason.WORK


def broken_clock() -> float:
    raise AssertionError("the clock was read")


def test_without_a_time_limit_no_clock_is_read():
    solution = solve(room_job(4), effort=SmallEffort.TINY, clock=broken_clock)
    assert solution.stop is not StopReason.TIME


class Counting(Budget):
    """Tells a list what was spent between two looks at the watcher."""

    between: list[int]

    def spend(self, offers: int) -> None:
        super().spend(offers)
        self.between[-1] += offers


@pytest.mark.parametrize("rooms", [4, 48, 4800])
def test_the_watcher_is_asked_often_however_large_the_job(rooms, monkeypatch):
    between = [0]

    class Asked(Watch):
        def cancelled(self) -> bool:
            between.append(0)
            return super().cancelled()

    monkeypatch.setattr(Counting, "between", between, raising=False)
    monkeypatch.setattr(search_module, "Budget", Counting)
    problem = problem_of(room_job(rooms))
    work = limits(1_500_000)
    task = search_module.Task(problem, quick_bounds(problem), work, Preference(), None, 1)
    search_module.search(task, Asked())
    assert sum(between) >= 0.9 * work.offers
    assert max(between) <= 2 * CHUNK


def test_loading_the_compiled_loops_counts_nothing_of_the_time_allowed(monkeypatch):
    """By hand: loading lasts 5 s by that clock, and the search 1 s."""
    clock = SteadyClock()

    def loads(*_: object) -> None:
        for _ in range(500):
            clock()

    monkeypatch.setattr(solve_module, "get_ready", loads)
    watch = Watch()
    solution = solve(
        room_job(10), effort=SmallEffort.SMALL, seconds=1.0, clock=clock, watcher=watch
    )
    assert solution.stop is StopReason.TIME
    assert 6.0 <= clock() < 6.5
