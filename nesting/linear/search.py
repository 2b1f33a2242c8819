"""The search for a plan: each step only runs while the last left a gap to the bound."""

from dataclasses import dataclass
from math import ceil

from nesting.linear.answer import BarBoundKind
from nesting.linear.column_generation import PatternProgram, Proof
from nesting.linear.enumeration import helpful_patterns, least_reduced_cost
from nesting.linear.fewer_patterns import tidied
from nesting.linear.problem import BarProblem, Pattern, exact, plan_cost
from nesting.linear.rounding import best_choice, dive
from nesting.programs.linear_programs import Cancel
from nesting.programs.programs import IntegerLimits, IntegerStatus

CHOICE_LOOKS = 500
"""How long the choice among the patterns of the relaxation may take."""

COMPLETE_LOOKS = 150
"""How long the choice among all helpful patterns may take."""

MOST_CHOSEN = 300
"""Patterns of least reduced cost that join the choice among those of the relaxation."""

MOST_LISTED = 2_500
"""Patterns up to which a complete search is tried."""

WORTH_A_SEARCH = 2e-4
"""Gap, as a share of the cost, from which a complete search is tried."""

WHOLE = 0.999
"""Prices are whole numbers, so a solver may stop this close to its bound."""

SOLVER_NOISE = 1e-5
"""What a solver's bound may be too high by before it is rounded up, in price units."""


@dataclass(frozen=True, slots=True)
class Found:
    """An exact plan with a cost (price units) that no plan is below, and what that rests on."""

    plan: dict[Pattern, int]
    bound: int
    kind: BarBoundKind


def search(
    problem: BarProblem, known: dict[Pattern, int], *, cancel: Cancel | None = None
) -> Found:
    """Return the best plan found, no worse than the one already known."""
    return _Search(problem, known, cancel).run()


class _Search:
    def __init__(
        self, problem: BarProblem, known: dict[Pattern, int], cancel: Cancel | None
    ) -> None:
        self._problem = problem
        self._cancel = cancel
        self._best = exact(problem, known)
        self._program = PatternProgram(problem, self._best)
        self._bound = 0
        self._kind = BarBoundKind.PATTERNS

    def run(self) -> Found:
        relaxation = self._program.relax(cancel=self._cancel)
        self._bound = max(0, ceil(relaxation.proof.bound))
        if self._gap_left():
            self._keep_if_better(
                dive(self._program, self._problem, relaxation.runs, cancel=self._cancel)
            )
        if self._gap_left():
            self._choose(relaxation.proof)
        if self._gap_left(WORTH_A_SEARCH):
            self._complete(relaxation.proof)
        plan = self._best
        if not self._cancelled():
            plan = self._tidied(relaxation.proof)
        return Found(plan, self._bound, self._kind)

    def _tidied(self, proof: Proof) -> dict[Pattern, int]:
        slack = plan_cost(self._problem, self._best) - proof.bound
        equals = helpful_patterns(self._problem, proof, slack, MOST_LISTED) or ()
        patterns = list(dict.fromkeys([*self._program.patterns, *equals]))
        return tidied(self._problem, self._best, patterns, proof, cancel=self._cancel)

    def _choose(self, proof: Proof) -> None:
        """Choose among the patterns found so far and those of least reduced cost."""
        patterns = [*self._program.patterns, *least_reduced_cost(self._problem, proof, MOST_CHOSEN)]
        limits = IntegerLimits(looks=CHOICE_LOOKS, absolute_gap=WHOLE)
        answer = best_choice(
            self._problem,
            list(dict.fromkeys([*patterns, *self._best])),
            self._best,
            limits,
            most=None,
            cancel=self._cancel,
        )
        self._keep_if_better(answer.plan)

    def _complete(self, proof: Proof) -> None:
        """Choose among all patterns that a cheaper plan could hold: that settles it."""
        most = plan_cost(self._problem, self._best) - 1
        patterns = helpful_patterns(self._problem, proof, most - proof.bound, MOST_LISTED)
        if patterns is None:
            return
        limits = IntegerLimits(looks=COMPLETE_LOOKS, absolute_gap=WHOLE)
        answer = best_choice(self._problem, patterns, None, limits, most=most, cancel=self._cancel)
        self._keep_if_better(answer.plan)
        proven = most + 1
        if answer.status is not IntegerStatus.INFEASIBLE:
            proven = min(proven, ceil(max(answer.bound, 0.0) - SOLVER_NOISE))
        if proven > self._bound:
            self._bound = proven
            self._kind = BarBoundKind.SEARCH

    def _keep_if_better(self, plan: dict[Pattern, int] | None) -> None:
        if plan is None:
            return
        plan = exact(self._problem, plan)
        if self._rank(plan) < self._rank(self._best):
            self._best = plan

    def _rank(self, plan: dict[Pattern, int]) -> tuple[int, int]:
        return plan_cost(self._problem, plan), len(plan)

    def _gap_left(self, share: float = 0.0) -> bool:
        """Return whether the cost is above the bound, by more than a share of itself."""
        if self._cancelled():
            return False
        cost = plan_cost(self._problem, self._best)
        return cost - self._bound > share * cost

    def _cancelled(self) -> bool:
        return self._cancel is not None and self._cancel()
