"""The search: fixed recipes first, then learning what pieces are worth, then improving."""

from collections.abc import Iterator, Sequence
from itertools import chain, product, zip_longest
from random import Random

from nesting.draft import Draft
from nesting.improve import Walk, shaken_values, taken_apart
from nesting.meter import WorkMeter
from nesting.offers import Order
from nesting.pool import Pool
from nesting.problem import Problem
from nesting.proposals import SHAKEN_RULES, ByRecipe, Recipe, Shaken
from nesting.record import Record
from nesting.rectpack_start import Axis, Rule
from nesting.settings import (
    FAVOURITE_CHANCE,
    FAVOURITE_SHARE,
    IMPROVING_TRIES,
    LEARNING_PASSES,
    LEARNING_TRIES,
    PORTFOLIO_SHARE,
    VALUES_SHARE,
    WHOLE_LIST_PIECES,
    WHOLE_LIST_SHARE,
)
from nesting.sheet_by_sheet import Tiers, complete
from nesting.stock_plans import stock_plans
from nesting.values import corrected, first_values
from nesting.whole_list import best_fit


class Search:
    """One search over one problem. The record holds the best draft at any moment."""

    def __init__(self, problem: Problem, record: Record, meter: WorkMeter, rng: Random) -> None:
        """Keep what the search works with."""
        self._problem = problem
        self._record = record
        self._meter = meter
        self._rng = rng
        self._pool = Pool(problem)
        self._plans = stock_plans(problem)
        self._demand = dict(enumerate(problem.demand))
        self._values: Sequence[float] = first_values(problem)
        self._favourite = self._plans[0]
        self._limit = meter.limit

    def run(self) -> None:
        """Search until the work limit is reached; at once when there is not one sheet on hand."""
        if self._plans == (((),),):
            return
        offers_of_pass = self._portfolio()
        self._whole_lists()
        affordable = int((VALUES_SHARE - PORTFOLIO_SHARE) * self._limit / LEARNING_PASSES)
        self._learn(min(LEARNING_TRIES, affordable // offers_of_pass + 1))
        self._improve()

    def _portfolio(self) -> int:
        """Try every plan at least once with fixed recipes; return the offers of one pass."""
        passes = 0
        for recipe in _recipes(self._rng):
            for plan in self._plans:
                source = ByRecipe(self._problem, recipe, self._pool, self._meter)
                values = self._values
                draft = complete(self._problem, Draft(), self._demand, plan, values, source)
                self._offer(draft, plan)
                passes += 1
            if self._spent(PORTFOLIO_SHARE):
                break
        return self._meter.spent // passes + 1

    def _whole_lists(self) -> None:
        """Pack short lists with all sheets open, as often as the share of the work allows."""
        pieces = sum(self._problem.demand)
        if pieces > WHOLE_LIST_PIECES:
            return
        looks = self._record.best.sheets * len(self._problem.kinds) + 2 * pieces
        last = self._meter.spent + WHOLE_LIST_SHARE * self._limit
        for recipe, plan in product(_WHOLE_LIST_RECIPES, self._plans):
            if self._meter.exhausted or self._meter.spent + looks > last:
                return
            self._record.offer(best_fit(self._problem, recipe, plan, self._meter))

    def _learn(self, tries: int) -> None:
        """Build answers from scratch by the favourite plan, values corrected by the last answer."""
        values = self._values
        favourite = self._favourite
        while not self._spent(VALUES_SHARE):
            self._meter.spend()
            draft = self._built(Draft(), self._demand, favourite, values, tries)
            if self._offer(draft, favourite):
                self._values = values
            values = corrected(self._problem, values, draft)
            self._pool.shrink(values)

    def _improve(self) -> None:
        """Take parts of the best answer so far apart and rebuild them, on and on."""
        walk = Walk(self._problem, self._record.best)
        while not self._meter.exhausted:
            self._meter.spend()
            plan = self._some_plan()
            rest, freed = taken_apart(self._problem, walk.draft, self._rng)
            values = shaken_values(self._values, self._rng)
            draft = self._built(rest, freed, plan, values, self._rng.choice(IMPROVING_TRIES))
            walk.go_if_no_worse(draft)
            self._offer(draft, plan)
            self._pool.shrink(self._values)

    def _some_plan(self) -> Tiers:
        """Return the plan that gave the best answer so far; late in the search, or any."""
        if not self._spent(FAVOURITE_SHARE) or self._rng.random() < FAVOURITE_CHANCE:
            return self._favourite
        return self._rng.choice(self._plans)

    def _offer(self, draft: Draft, plan: Tiers) -> bool:
        better = self._record.offer(draft)
        if better:
            self._favourite = plan
        return better

    def _built(
        self,
        draft: Draft,
        demand: dict[int, int],
        plan: Tiers,
        values: Sequence[float],
        tries: int,
    ) -> Draft:
        source = Shaken(self._problem, self._pool, self._meter, self._rng, values, tries)
        return complete(self._problem, draft, demand, plan, values, source)

    def _spent(self, share: float) -> bool:
        return self._meter.exhausted or self._meter.spent >= share * self._limit


_WHOLE_LIST_RECIPES = tuple(
    Recipe(rule, Axis.LENGTH, order)
    for rule, order in product((Rule.MAX_SHORT_SIDE, Rule.MAX_AREA), (Order.AREA, Order.LONG_SIDE))
)


def _recipes(rng: Random) -> Iterator[Recipe]:
    """Yield all fixed recipes in random order, max-rects and the other families in turn."""
    orders = list(product(Axis, Order))
    best = [Recipe(rule, *order) for rule in SHAKEN_RULES for order in orders]
    others = [Recipe(rule, *order) for rule in Rule if rule not in SHAKEN_RULES for order in orders]
    rng.shuffle(best)
    rng.shuffle(others)
    pairs = zip_longest(best, others)
    return (recipe for recipe in chain.from_iterable(pairs) if recipe is not None)
