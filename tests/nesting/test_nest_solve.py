"""Random questions, every way of cutting: answers verify, are exact, and keep to their bounds."""

import dataclasses
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting import solve as solve_module
from nesting.answer.solution import BoundKind, Solution, StopReason, canonical, price_of
from nesting.answer.verify import violations
from nesting.bounds.lower_bounds import quick_bounds
from nesting.question.errors import BrokenSolution
from nesting.question.instance import Instance
from nesting.question.problem import problem_of
from nesting.question.settings import Preference
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.question.violation import ViolationKind
from nesting.solve import solve
from tests.nesting.random_nests import SAWS, assert_exact, instances
from tests.nesting.room_job import room_job
from tests.nesting.small_efforts import AS_FOUND, SmallEffort


def assert_right(instance: Instance, solution: Solution) -> None:
    assert_exact(instance, solution)
    assert violations(instance, solution) == ()
    assert solution.layouts == canonical(solution.layouts)
    assert solution.price == price_of(instance.stocks, solution.layouts)
    problem = problem_of(instance)
    quick = quick_bounds(problem)
    assert quick.sheets <= solution.lower_bound <= solution.sheets
    assert float(quick.price * problem.unit) <= solution.price_bound <= solution.price
    proven = solution.price == solution.price_bound
    assert (solution.stop is StopReason.PROVEN) == proven


@given(instances(), st.integers(0, 5))
@settings(max_examples=30, phases=AS_FOUND)
def test_every_free_answer_verifies_and_is_exact(instance, seed):
    assert_right(instance, solve(instance, seed=seed, effort=SmallEffort.TINY))


@given(instances(saws=SAWS), st.integers(0, 5))
@settings(max_examples=45, phases=AS_FOUND)
def test_every_sawn_answer_verifies_and_is_exact(instance, seed):
    assert_right(instance, solve(instance, seed=seed, effort=SmallEffort.TINY))


@given(instances(saws=st.none() | SAWS), st.data())
@settings(max_examples=40, phases=AS_FOUND)
def test_what_is_proven_of_fewer_pieces_holds_for_all_of_them(instance, data):
    """Removing a piece raises no bound that is met, and none above what was found with it.

    Quick bounds never rise at all (tests/nesting/bounds/test_quick_bounds.py). Those of a longer
    search may come nearer to the optimum of fewer pieces, as it ends after so much work.
    """
    gone = data.draw(st.sampled_from(instance.pieces))
    rest = [piece for piece in instance.pieces if piece is not gone]
    if gone.quantity > 1 and data.draw(st.booleans()):
        rest.append(dataclasses.replace(gone, quantity=gone.quantity - 1))
    fewer = solve(dataclasses.replace(instance, pieces=tuple(rest)), effort=SmallEffort.TINY)
    every = solve(instance, effort=SmallEffort.TINY)
    assert fewer.lower_bound <= every.sheets
    assert fewer.price_bound <= every.price


@given(
    instances(most_item_types=4, most_copies=80, saws=st.none() | SAWS),
    st.sampled_from([0.0, 0.01, 0.2]),
)
@settings(max_examples=25, phases=AS_FOUND)
def test_fewer_layouts_cost_no_more_than_allowed(instance, extra_price):
    preference = Preference(extra_price=extra_price)
    chosen = solve(instance, effort=SmallEffort.TINY, preference=preference)
    assert_right(instance, chosen)
    # The curve is of what the search met; grouping may only have saved layouts since.
    curve = chosen.choices
    cheapest = min(choice.price for choice in curve)
    assert [c.layouts for c in curve] == sorted({c.layouts for c in curve}, reverse=True)
    assert [c.price for c in curve] == sorted(c.price for c in curve)
    most = Fraction(str(cheapest)) * (1 + Fraction(str(extra_price)))
    assert Fraction(str(chosen.price)) <= most
    if cheapest > 0:
        affordable = [c for c in curve if Fraction(str(c.price)) <= most]
        assert chosen.distinct <= min(choice.layouts for choice in affordable)


@given(instances(most_item_types=4, most_copies=4, saws=st.none() | SAWS))
@settings(max_examples=15, phases=AS_FOUND)
def test_the_same_seed_gives_the_same_answer(instance):
    first = solve(instance, seed=3, effort=SmallEffort.TINY)
    assert solve(instance, seed=3, effort=SmallEffort.TINY) == first


def test_nothing_to_cut_is_an_empty_answer():
    rules = SheetRules(trim=Trim.even(0), gap=0)
    solution = solve(Instance(pieces=(), stocks=(), rules=rules))
    assert (solution.layouts, solution.sheets, solution.lower_bound) == ((), 0, 0)
    assert (solution.price, solution.price_bound) == (0.0, 0.0)
    assert solution.bound_kind is solution.price_bound_kind is BoundKind.NOTHING
    assert solution.stop is StopReason.PROVEN


def test_more_work_never_needs_more_sheets_on_the_room_job():
    job = room_job(10)
    tiny, small = (solve(job, effort=e) for e in (SmallEffort.TINY, SmallEffort.SMALL))
    assert small.lower_bound <= small.sheets <= tiny.sheets


def test_an_answer_that_fails_verification_never_leaves(monkeypatch):
    def shifted(instance, draft):
        layouts = right(instance, draft)
        first, *others = layouts[0].placements
        moved = dataclasses.replace(first, x=first.x - 1)
        return (dataclasses.replace(layouts[0], placements=(moved, *others)), *layouts[1:])

    right = solve_module.layouts_of
    monkeypatch.setattr(solve_module, "layouts_of", shifted)
    with pytest.raises(BrokenSolution) as caught:
        solve(room_job(1), seed=11, effort=SmallEffort.TINY)
    assert caught.value.seed == 11
    assert ViolationKind.OUTSIDE in {found.kind for found in caught.value.violations}
