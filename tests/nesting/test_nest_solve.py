"""Random questions: every answer verifies, is exact, and is not below its bound."""

import dataclasses

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nesting import solve as solve_module
from nesting.errors import BrokenSolution
from nesting.instance import Instance, SheetRules
from nesting.lower_bounds import price_bound, sheets_bound
from nesting.settings import Effort
from nesting.solution import BoundKind, canonical, cost
from nesting.solve import solve
from nesting.verify import violations
from nesting.violation import ViolationKind
from tests.nesting.random_nests import assert_exact, instances
from tests.nesting.room_job import room_job


@given(instances(), st.integers(0, 5))
@settings(deadline=None, max_examples=60, suppress_health_check=[HealthCheck.too_slow])
def test_every_answer_verifies_and_is_exact(instance, seed):
    solution = solve(instance, seed=seed, effort=Effort.QUICK)
    assert_exact(instance, solution)
    assert violations(instance, solution) == ()
    assert solution.layouts == canonical(solution.layouts)
    assert solution.lower_bound == sheets_bound(instance).sheets <= solution.sheets
    assert price_bound(instance) <= cost(instance, solution) * (1 + 1e-9)


@given(instances(most_kinds=4, most_copies=4))
@settings(deadline=None, max_examples=10)
def test_the_same_seed_gives_the_same_answer(instance):
    first = solve(instance, seed=3, effort=Effort.QUICK)
    assert solve(instance, seed=3, effort=Effort.QUICK) == first


def test_nothing_to_cut_is_an_empty_answer():
    nothing = Instance(pieces=(), stocks=(), rules=SheetRules(trim=0, gap=0))
    solution = solve(nothing)
    assert (solution.layouts, solution.sheets, solution.lower_bound) == ((), 0, 0)
    assert solution.bound_kind == BoundKind.NOTHING


def test_more_effort_never_needs_more_sheets_on_the_room_job():
    job = room_job(6)
    quick, normal = (solve(job, effort=effort) for effort in (Effort.QUICK, Effort.NORMAL))
    assert normal.lower_bound <= normal.sheets <= quick.sheets


class Watch:
    def __init__(self) -> None:
        self.steps: list[tuple[int, int]] = []
        self.found: list[tuple[int, int]] = []

    def step(self, done: int, total: int) -> None:
        self.steps.append((done, total))

    def best_found(self, sheets: int, lower_bound: int) -> None:
        self.found.append((sheets, lower_bound))


def test_progress_rises_to_its_total_and_tells_better_answers():
    watch = Watch()
    solution = solve(room_job(4), progress=watch, effort=Effort.QUICK)
    done = [done for done, _ in watch.steps]
    (total,) = {total for _, total in watch.steps}
    assert done == sorted(done)
    assert (done[0], done[-1]) == (0, total)
    assert len(done) > 10
    sheets = [sheets for sheets, _ in watch.found]
    assert sheets == sorted(sheets, reverse=True)
    assert watch.found[-1] == (solution.sheets, solution.lower_bound)


def test_an_answer_that_fails_verification_never_leaves(monkeypatch):
    def shifted(instance, draft):
        layouts = right(instance, draft)
        first, *others = layouts[0].placements
        moved = dataclasses.replace(first, x=first.x - 1)
        return (dataclasses.replace(layouts[0], placements=(moved, *others)), *layouts[1:])

    right = solve_module._layouts
    monkeypatch.setattr(solve_module, "_layouts", shifted)
    with pytest.raises(BrokenSolution) as caught:
        solve(room_job(1), seed=11, effort=Effort.QUICK)
    assert caught.value.seed == 11
    assert ViolationKind.OUTSIDE in {found.kind for found in caught.value.violations}
