"""The entry: a question about bars in, a verified answer out."""

from nesting.linear.answer import BarAnswer, BarBoundKind, BarPattern, canonical
from nesting.linear.errors import BrokenBarAnswer
from nesting.linear.problem import Pattern, problem_of
from nesting.linear.question import BarQuestion
from nesting.linear.rounding import greedy
from nesting.linear.search import search
from nesting.linear.shortage import plan_from_bars_on_hand, refuse_too_long
from nesting.linear.verify import violations
from nesting.programs.linear_programs import Cancel


def solve_bars(question: BarQuestion, *, cancel: Cancel | None = None) -> BarAnswer:
    """Return patterns that make every piece exactly as often as asked, at the lowest cost found.

    Equal costs are told apart by the length of bars, then by the number of patterns. Nothing is
    random and no clock is read, so the same question gives the same answer; work hardly grows
    with the quantities. Once `cancel` says so, the best answer so far is returned. Every answer
    has passed `violations`.

    Raises:
        PieceTooLong: a piece is longer than every bar between its trims.
        NotEnoughBars: the bars on hand do not hold all pieces, or no way was found.
        BrokenBarAnswer: the answer failed its verification; a bug in the nest.
    """
    refuse_too_long(question)
    if not question.pieces:
        return BarAnswer(patterns=(), lower_bound=0.0, bound_kind=BarBoundKind.NOTHING)
    problem, unit = problem_of(question)
    start = greedy(problem)
    if start is None:
        start = plan_from_bars_on_hand(question, problem, cancel=cancel)
    found = search(problem, start, cancel=cancel)
    answer = BarAnswer(
        patterns=canonical(_pattern(question, each, runs) for each, runs in found.plan.items()),
        lower_bound=float(found.bound * unit),
        bound_kind=found.kind,
    )
    broken = violations(question, answer)
    if broken:
        raise BrokenBarAnswer(violations=broken)
    return answer


def _pattern(question: BarQuestion, pattern: Pattern, runs: int) -> BarPattern:
    """Return the pattern with its cuts in order: long pieces first, as a spoilt one can then be
    cut again from what is left (common practice, no source).
    """
    rules = question.rules
    bar = question.bars[pattern.room]
    cuts = [
        piece
        for piece, count in zip(question.pieces, pattern.counts, strict=True)
        for _ in range(count)
    ]
    cuts.sort(key=lambda piece: (-piece.length, piece.id))
    end = rules.end_trim + sum(piece.length for piece in cuts) + (len(cuts) - 1) * rules.kerf
    return BarPattern(
        bar=bar.id,
        cuts=tuple(piece.id for piece in cuts),
        runs=runs,
        remnant=max(0, bar.length - end - rules.kerf),
    )
