"""The entry: a question in, a verified answer out."""

from random import Random

from nesting.draft import Draft
from nesting.errors import BrokenSolution, ShortageProof
from nesting.fit_check import refuse_oversized
from nesting.instance import Instance
from nesting.lower_bounds import price_bound, sheets_bound
from nesting.meter import WorkMeter
from nesting.problem import Problem, problem_of
from nesting.progress import ProgressListener, SilentProgress
from nesting.record import Goal, Record
from nesting.search import Search
from nesting.settings import Effort
from nesting.shortage import shortage
from nesting.solution import BoundKind, Layout, Placement, Solution, canonical
from nesting.verify import violations


def solve(
    instance: Instance,
    *,
    seed: int = 1,
    progress: ProgressListener | None = None,
    effort: Effort = Effort.NORMAL,
) -> Solution:
    """Return layouts that hold every piece exactly as often as asked, at the lowest price found.

    Equal prices are told apart by the number of sheets, then of layouts. The same question, seed
    and effort give the same answer. Every answer has passed `violations`.

    Raises:
        PieceTooBig: a piece fits no stock in any turn that it may take.
        NotEnoughStock: the sheets on hand do not hold all pieces, or no way was found.
        BrokenSolution: the answer failed its verification; a bug in the nest.
    """
    refuse_oversized(instance)
    if not instance.pieces:
        return Solution(layouts=(), lower_bound=0, bound_kind=BoundKind.NOTHING)
    problem = problem_of(instance)
    bound = sheets_bound(instance)
    draft = _searched(
        problem,
        _goal(instance),
        WorkMeter(_offers(problem, effort)),
        Random(seed),
        progress or SilentProgress(),
    )
    if bound is None:
        raise shortage(instance, problem, draft, ShortageProof.AREA)
    if draft.short:
        raise shortage(instance, problem, draft, ShortageProof.SEARCH)
    solution = Solution(
        layouts=_layouts(instance, draft), lower_bound=bound.sheets, bound_kind=bound.kind
    )
    broken = violations(instance, solution)
    if broken:
        raise BrokenSolution(violations=broken, seed=seed)
    return solution


def _searched(
    problem: Problem, goal: Goal, meter: WorkMeter, rng: Random, progress: ProgressListener
) -> Draft:
    total = meter.limit
    progress.step(0, total)
    record = Record(problem, goal, meter, progress)
    Search(problem, record, meter, rng).run()
    progress.step(total, total)
    return record.best


def _offers(problem: Problem, effort: Effort) -> int:
    return effort.offers(len(problem.kinds), sum(problem.demand), len(problem.rooms))


def _goal(instance: Instance) -> Goal:
    """Return what no answer can beat; nothing is unbeatable when the stock has too little area."""
    sheets, price = sheets_bound(instance), price_bound(instance)
    if sheets is None or price is None:
        return Goal(sheets=0, price=0.0)
    cheapest = min(stock.price for stock in instance.stocks if stock.on_hand != 0)
    return Goal(sheets=sheets.sheets, price=max(price, cheapest * sheets.sheets))


def _layouts(instance: Instance, draft: Draft) -> tuple[Layout, ...]:
    """Return the draft in the sheets' own frame and identities."""
    trim = instance.rules.trim
    return canonical(
        Layout(
            stock=instance.stocks[filling.room].id,
            placements=tuple(
                Placement(
                    piece=instance.pieces[spot.kind].id,
                    x=trim + spot.x,
                    y=trim + spot.y,
                    turned=spot.turned,
                )
                for spot in filling.spots
            ),
            runs=runs,
        )
        for filling, runs in draft
    )
