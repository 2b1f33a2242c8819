"""The entry: a question in, a verified answer out."""

import time
from collections.abc import Callable
from concurrent.futures import Executor
from dataclasses import replace

from nesting.after.compaction import compacted
from nesting.after.grouping import grouped
from nesting.answer.shortage import shortage
from nesting.answer.solution import (
    BoundKind,
    Choice,
    Solution,
    StopReason,
    price_of,
)
from nesting.answer.verify import violations
from nesting.bounds.lower_bounds import LowerBounds, quick_bounds
from nesting.bounds.stopping import Stopped, asking
from nesting.question.errors import BrokenSolution, ShortageProof, StoppedTooEarly
from nesting.question.fit_check import refuse_impossible
from nesting.question.instance import Instance, Piece
from nesting.question.problem import Problem, problem_of
from nesting.question.settings import Effort, Preference
from nesting.search.arrays import arrays_of
from nesting.search.budget import Clock
from nesting.search.collection import collection_put_off
from nesting.search.compiling import USUAL, get_ready
from nesting.search.draft import Draft, Rank
from nesting.search.draft_layouts import layouts_of
from nesting.search.first_answers import by_priority
from nesting.search.independent import best_of, independent
from nesting.search.search import Found, Task
from nesting.search.watch import Standing, Unwatched, Watcher

AS_IT_IS = Preference()

SEED_STEP = 1_000_003
"""Between the seeds of independent searches: a prime, so that few seeds of callers meet them."""


def solve(
    instance: Instance,
    *,
    seed: int = 1,
    effort: Effort = Effort.NORMAL,
    preference: Preference = AS_IT_IS,
    seconds: float | None = None,
    clock: Clock = time.monotonic,
    watcher: Watcher | None = None,
    executor: Executor | None = None,
) -> Solution:
    """Return layouts that hold every piece exactly as often as asked, at the lowest price found.

    Equal prices are told apart by the number of sheets, then of layouts; `preference` may trade
    price for fewer layouts. The same question, seed, effort and preference give the same answer,
    on any number of workers of the `executor` that runs the effort's independent searches.
    With `seconds` the clock decides when to stop, and answers can no longer be repeated; it starts
    once the compiled loops are loaded.
    Every answer has passed `violations`.

    Raises:
        InvalidInstance: the rules contradict each other.
        PieceTooBig: a piece fits no stock in any turn that it may take.
        NotEnoughStock: the sheets on hand do not hold all pieces, or no way was found.
        StoppedTooEarly: the watcher stopped it before there was any answer.
        BrokenSolution: the answer failed its verification; a bug in the nest.
    """
    refuse_impossible(instance)
    if not instance.pieces:
        return _nothing(seed)
    instance = _in_order(instance)
    problem = problem_of(instance)
    watcher = watcher or Unwatched()
    load(watcher)
    left = _left_of(seconds, clock)
    bounds = _bounds(instance, problem, watcher)
    tasks = _tasks(problem, bounds, effort, preference, left(), seed)
    found = best_of(problem, independent(tasks, watcher, clock, executor), preference)
    found = _nothing_short(instance, problem, found)
    return _finished(instance, problem, found, seed, watcher)


def _in_order(instance: Instance) -> Instance:
    """Return the question with its pieces in an order of their own: how a list is written, or what
    its pieces are called, must not change what they cost.
    """

    def content(piece: Piece) -> tuple[object, ...]:
        size = piece.length, piece.width, piece.turn, piece.priority, piece.quantity
        return *size, piece.group, piece.id

    return replace(instance, pieces=tuple(sorted(instance.pieces, key=content)))


def load(watcher: Watcher) -> None:
    """Have the compiled loops loaded, which `solve` does first; after an installation they are
    compiled once, for some seconds.

    Raises:
        StoppedTooEarly: the watcher stopped it.
    """

    def tell(done: int, of: int) -> None:
        stage = f"compiling {done} of {of}"
        watcher.standing(Standing(stage=stage, done=0.0, sheets=None, lower_bound=0))

    try:
        get_ready(USUAL, asking(watcher.cancelled), tell)
    except Stopped:
        raise StoppedTooEarly from None


def _left_of(seconds: float | None, clock: Clock) -> Callable[[], float | None]:
    """Return what tells how many seconds are left of these, which start now; None: no limit."""
    if seconds is None:
        return lambda: None
    start = clock()
    return lambda: max(0.0, seconds - (clock() - start))


def _bounds(instance: Instance, problem: Problem, watcher: Watcher) -> LowerBounds:
    """Return the quick bounds.

    Raises:
        NotEnoughStock: it is proven that there are too few sheets.
        StoppedTooEarly: the watcher stopped it.
    """
    try:
        ask = asking(watcher.cancelled)
        bounds = quick_bounds(problem, ask) if _each_has_a_sheet(problem) else None
    except Stopped:
        raise StoppedTooEarly from None
    if bounds is None:
        short = _by_priority(instance, problem).short
        raise shortage(instance, problem, short, _proof(problem))
    return bounds


def _tasks(
    problem: Problem,
    bounds: LowerBounds,
    effort: Effort,
    preference: Preference,
    seconds: float | None,
    seed: int,
) -> list[Task]:
    """Return the effort's independent searches; the first alone goes through sets of pieces."""
    first = effort.value
    others = [replace(first, set_nodes=0)] * (first.searches - 1)
    return [
        Task(problem, bounds, limits, preference, seconds, seed + number * SEED_STEP)
        for number, limits in enumerate([first, *others])
    ]


def _nothing_short(instance: Instance, problem: Problem, found: Found) -> Found:
    """Return the answer found, or one that holds all pieces where that one does not.

    Raises:
        NotEnoughStock: that one does not either.
    """
    if not found.draft.short:
        return found
    draft = _by_priority(instance, problem)
    if draft.short:
        raise shortage(instance, problem, draft.short, ShortageProof.SEARCH)
    return replace(found, draft=draft, choices=())


def _finished(
    instance: Instance, problem: Problem, found: Found, seed: int, watcher: Watcher
) -> Solution:
    """Return the answer in the sheets' own frame, as an operator likes it, and verified.

    Once cancelled it is verified only.

    Raises:
        BrokenSolution: it failed.
    """
    with collection_put_off():
        solution = _solution(instance, problem, found, seed)
        if not watcher.cancelled():
            # Groups kept together, and the emptiest sheet drawn together.
            solution = compacted(instance, grouped(instance, solution))
        broken = violations(instance, solution)
    if broken:
        raise BrokenSolution(violations=broken, seed=seed)
    return solution


def _solution(instance: Instance, problem: Problem, found: Found, seed: int) -> Solution:
    layouts, bounds = layouts_of(instance, found.draft), found.bounds
    return Solution(
        layouts=layouts,
        lower_bound=bounds.sheets,
        bound_kind=bounds.sheets_kind,
        price=price_of(instance.stocks, layouts),
        price_bound=float(bounds.price * problem.unit),
        price_bound_kind=bounds.price_kind,
        stop=found.stop,
        seed=seed,
        choices=tuple(_choice(each, problem) for each in found.choices),
    )


def _choice(found: Rank, problem: Problem) -> Choice:
    price = float(found.price * problem.unit)
    return Choice(layouts=found.layouts, sheets=found.sheets, price=price)


def _nothing(seed: int) -> Solution:
    return Solution(
        layouts=(),
        lower_bound=0,
        bound_kind=BoundKind.NOTHING,
        price=0.0,
        price_bound=0.0,
        price_bound_kind=BoundKind.NOTHING,
        stop=StopReason.PROVEN,
        seed=seed,
    )


def _by_priority(instance: Instance, problem: Problem) -> Draft:
    """Return a draft in which the pieces of the highest priority have their places first."""
    demand = dict(enumerate(problem.demand))
    priorities = [piece.priority for piece in instance.pieces]
    return by_priority(problem, arrays_of(problem), demand, priorities)


def _each_has_a_sheet(problem: Problem) -> bool:
    """Return whether every piece fits a sheet of which there is at least one."""
    rooms = [room for room in problem.rooms if room.on_hand != 0]
    return all(any(item_type.fits(room) for room in rooms) for item_type in problem.item_types)


def _proof(problem: Problem) -> ShortageProof:
    """Return how it is known that the sheets do not suffice: by area, or by a finer bound."""
    needed = sum(
        item_type.area * count
        for item_type, count in zip(problem.item_types, problem.demand, strict=True)
    )
    on_hand = sum(room.area * (room.on_hand or 0) for room in problem.rooms)
    return ShortageProof.AREA if needed > on_hand else ShortageProof.BOUND
