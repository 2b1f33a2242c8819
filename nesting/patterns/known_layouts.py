"""An answer from layouts that are known: the same pieces in other numbers, or on some of the stock.

The layouts known run as much more, or less, as there are pieces, and first answers hold the rest.
Or whole runs of all of these are chosen by an integer program, and what they make too much of is
left uncut. In the better of both single pieces move about for one sheet fewer. That is an answer
like any other, verified, and its bounds are proven anew. A long search may find a cheaper one; how
much cheaper the bounds say.
"""

import time
from collections.abc import Iterable, Mapping, Sequence

from nesting.answer.shortage import shortage
from nesting.answer.solution import Layout, Solution, StopReason, price_of
from nesting.answer.verify import violations
from nesting.bounds.lower_bounds import LowerBounds, quick_bounds, thorough_bounds
from nesting.patterns.rounding import less_stock
from nesting.patterns.whole_runs import NO_CHEAPER, thinned
from nesting.programs.linear_programs import solve_integer
from nesting.programs.programs import Column, IntegerLimits, Row, at_least, at_most
from nesting.question.errors import BrokenSolution, ShortageProof
from nesting.question.fit_check import refuse_impossible
from nesting.question.instance import Instance
from nesting.question.problem import Problem, problem_of
from nesting.search.arrays import arrays_of
from nesting.search.budget import Budget
from nesting.search.draft import Draft, joined, rank, residual
from nesting.search.draft_layouts import layouts_of
from nesting.search.first_answers import first_answer
from nesting.search.one_sheet_fewer import improved
from nesting.search.pattern import Pattern, Spot, pattern_of
from nesting.search.watch import Unwatched

FIRST_OFFERS, FEWER_OFFERS = 30_000, 200_000
"""Work for first answers, and for one sheet fewer: pieces offered, some hundredths of a second."""

LOOKS = 10
"""How long the integer program may take: some hundredths of a second."""

SEED = 1


def from_known(instance: Instance, known: Iterable[Layout]) -> Solution:
    """Return an answer from the known layouts; what they hold of pieces and stock that nobody asks
    for is left out. The same question and layouts give the same answer.

    Raises:
        PieceTooBig: a piece fits no stock in any turn that it may take.
        NotEnoughStock: the sheets on hand do not hold all pieces, or no way was found.
        BrokenSolution: the answer failed its verification; a bug here.
    """
    refuse_impossible(instance)
    problem = problem_of(instance)
    demand = dict(enumerate(problem.demand))
    bounds = quick_bounds(problem)
    if bounds is None:
        raise shortage(instance, problem, demand, ShortageProof.BOUND)
    best = first_answer(problem, arrays_of(problem), demand, _work(FIRST_OFFERS), bounds.price)
    if not _met(problem, best, bounds):
        draft = _draft(instance, known)
        patterns = tuple(pattern for pattern, _ in draft)
        bounds = thorough_bounds(problem, patterns, 0, known=bounds)
        best = _bettered(problem, demand, draft, best, bounds.price)
    if best.short:
        raise shortage(instance, problem, best.short, ShortageProof.SEARCH)
    return _verified(instance, problem, best, bounds)


def _work(offers: int) -> Budget:
    return Budget(offers, None, time.monotonic, Unwatched())


def _met(problem: Problem, draft: Draft, bounds: LowerBounds) -> bool:
    return not draft.short and rank(problem, draft).price <= bounds.price


def _bettered(
    problem: Problem,
    demand: Mapping[int, int],
    known: Draft,
    first: Draft,
    goal: int,
) -> Draft:
    """Return the best of the first draft, the known one scaled and completed, and whole runs of the
    patterns of all of these, with one sheet fewer where that is found.
    """
    arrays = arrays_of(problem)
    scaled = _scaled(problem, demand, known)
    left = residual(demand, scaled)
    rest = less_stock(problem, scaled)
    last = first_answer(rest, arrays, left, _work(FIRST_OFFERS), 0) if left else Draft()
    patterns = {
        key: pattern for draft in (known, first, last) for key, (pattern, _) in draft.runs.items()
    }
    chosen = _chosen(problem, demand, tuple(patterns.values()))
    drafts = [first, joined(scaled, last), *([] if chosen is None else [chosen])]
    best = min(drafts, key=lambda draft: rank(problem, draft))
    return improved(problem, arrays, best, goal, _work(FEWER_OFFERS), SEED)


def _scaled(problem: Problem, demand: Mapping[int, int], known: Draft) -> Draft:
    """Return the known layouts with as many runs as the demand has more pieces, or less where it or
    the sheets on hand end first; those with many runs first.
    """
    held = sum(count * runs for pattern, runs in known for _, count in pattern.counts)
    asked, left = sum(demand.values()), dict(demand)
    on_hand = {room.index: room.on_hand for room in problem.rooms}
    draft = Draft()
    for pattern, runs in sorted(known, key=lambda entry: (-entry[1], entry[0].counts)):
        limits = [left[item_type] // count for item_type, count in pattern.counts]
        sheets = on_hand[pattern.room]
        more = min([runs * asked // held, *limits, *([] if sheets is None else [sheets])])
        if more:
            draft.add(pattern, more)
            on_hand[pattern.room] = None if sheets is None else sheets - more
            for item_type, count in pattern.counts:
                left[item_type] -= count * more
    return draft


def _draft(instance: Instance, known: Iterable[Layout]) -> Draft:
    """Return the layouts as the search sees them."""
    rooms = {stock.id: at for at, stock in enumerate(instance.stocks)}
    item_types = {piece.id: at for at, piece in enumerate(instance.pieces)}
    trim = instance.rules.trim
    draft = Draft()
    for layout in known:
        spots = [
            Spot(item_types[each.piece], each.x - trim.left, each.y - trim.bottom, each.turned)
            for each in layout.placements
            if each.piece in item_types
        ]
        if spots and layout.stock in rooms:
            draft.add(pattern_of(rooms[layout.stock], spots), layout.runs)
    return draft


def _chosen(
    problem: Problem, demand: Mapping[int, int], patterns: Sequence[Pattern]
) -> Draft | None:
    """Return the cheapest whole runs found of the patterns; None where these do not do."""
    rows: list[Row] = [at_least(count) for _, count in sorted(demand.items())]
    limit_of: dict[int, int] = {}
    for room in problem.rooms:
        if room.on_hand is not None:
            limit_of[room.index] = len(rows)
            rows.append(at_most(room.on_hand))
    columns = []
    for pattern in patterns:
        entries = [(item_type, float(count)) for item_type, count in pattern.counts]
        if pattern.room in limit_of:
            entries.append((limit_of[pattern.room], 1.0))
        cost = float(problem.rooms[pattern.room].cost)
        columns.append(Column(cost=cost, entries=tuple(entries)))
    limits = IntegerLimits(looks=LOOKS, absolute_gap=NO_CHEAPER)
    answer = solve_integer(rows, columns, limits=limits)
    draft = Draft()
    for pattern, runs in zip(patterns, answer.wholes, strict=False):
        if runs:
            draft.add(pattern, runs)
    return thinned(draft, demand)


def _verified(instance: Instance, problem: Problem, draft: Draft, bounds: LowerBounds) -> Solution:
    """Return the draft as an answer.

    Raises:
        BrokenSolution: it failed its verification.
    """
    layouts = layouts_of(instance, draft)
    solution = Solution(
        layouts=layouts,
        lower_bound=bounds.sheets,
        bound_kind=bounds.sheets_kind,
        price=price_of(instance.stocks, layouts),
        price_bound=float(bounds.price * problem.unit),
        price_bound_kind=bounds.price_kind,
        stop=StopReason.PROVEN if _met(problem, draft, bounds) else StopReason.WORK,
        seed=SEED,
    )
    broken = violations(instance, solution)
    if broken:
        raise BrokenSolution(violations=broken, seed=SEED)
    return solution
