"""From the question to the answer with all that is said about it."""

from __future__ import annotations

import time
from collections.abc import Iterator, Sequence
from concurrent.futures import Executor, ThreadPoolExecutor
from contextlib import contextmanager, nullcontext
from dataclasses import replace

from casewright.commands.nest_command.item_types import dealt
from casewright.commands.nest_command.options import NestOptions
from casewright.commands.nest_command.question import Question
from casewright.commands.nest_command.told import told_by_lines
from casewright.progress import Cancelled
from nesting.after.cut_order import by_priority, cut_order
from nesting.after.offcuts import offcuts
from nesting.after.vacuum_risk import risks
from nesting.answer.nest_answer import Dealt, NestAnswer, SheetPlan
from nesting.answer.solution import Layout, Solution
from nesting.edge_to_edge.cut_sequence import cut_sequence
from nesting.question.errors import NestingError, StoppedTooEarly
from nesting.question.instance import Instance
from nesting.search.watch import Watcher
from nesting.solve import load, solve


def answered(question: Question, options: NestOptions, watcher: Watcher) -> NestAnswer:
    """Return the nest, its layouts in the order to cut them.

    Raises:
        InputErrors: the files contradict each other.
        OptionErrors: the options contradict each other or the files.
        DoesNotFit: a piece fits no stock, or the stock does not suffice.
    """
    return described(question, solved(question, options, watcher), options)


def seconds_to_load(watcher: Watcher) -> float:
    """Return the seconds that loading or compiling the loops of the search takes.

    Raises:
        Cancelled: the watcher stopped it.
    """
    start = time.monotonic()
    try:
        load(watcher)
    except StoppedTooEarly:
        raise Cancelled from None
    return time.monotonic() - start


def solved(question: Question, options: NestOptions, watcher: Watcher) -> Solution:
    """Return the nest itself.

    Raises:
        InputErrors: the files contradict each other.
        OptionErrors: the options contradict each other or the files.
        DoesNotFit: a piece fits no stock, or the stock does not suffice.
        Cancelled: the watcher stopped it before there was any answer to keep.
    """
    try:
        return _solved(question.instance, options, watcher)
    except NestingError as error:
        raise told_by_lines(question, error) from error


def described(question: Question, solution: Solution, options: NestOptions) -> NestAnswer:
    """Return the nest with all that is said about it, its layouts in the order to cut them."""
    layouts = by_priority(question.instance, solution.layouts)
    return NestAnswer(
        instance=question.instance,
        solution=replace(solution, layouts=layouts),
        sheets=tuple(_plans(question, layouts, options)),
        prices=question.prices,
        effort=options.effort.name.lower() if options.seconds is None else None,
        seconds=options.seconds,
        rounded_mm=question.rounded_mm,
        further=question.further,
    )


def _solved(instance: Instance, options: NestOptions, watcher: Watcher) -> Solution:
    with _threads(options) as executor:
        return solve(
            instance,
            seed=options.seed,
            effort=options.effort,
            preference=options.preference,
            seconds=options.seconds,
            watcher=watcher,
            executor=executor,
        )


@contextmanager
def _threads(options: NestOptions) -> Iterator[Executor | None]:
    """Give threads for the searches besides the first one, which runs on this thread.

    Compiled loops let go of the interpreter, so that threads use several cores.
    """
    others = min(options.workers, options.effort.value.searches) - 1
    with ThreadPoolExecutor(others) if others else nullcontext() as executor:
        yield executor


def _plans(
    question: Question, layouts: tuple[Layout, ...], options: NestOptions
) -> Iterator[SheetPlan]:
    pieces, stocks = question.instance.piece_of, question.instance.stock_of
    in_all = dealt(question.types, layouts)
    for number, (layout, whose) in enumerate(zip(layouts, in_all, strict=True), start=1):
        # What one sheet needs: else the work would grow with the pieces of the whole question.
        small = Instance(
            pieces=tuple(pieces[name] for name in layout.counts()),
            stocks=(stocks[layout.stock],),
            rules=question.instance.rules,
        )
        yield _plan(number, small, layout, whose, options)


def _plan(
    number: int,
    instance: Instance,
    layout: Layout,
    whose: Sequence[tuple[Dealt, ...]],
    options: NestOptions,
) -> SheetPlan:
    routed = instance.rules.saw is None
    sequence = None if routed else cut_sequence(instance, layout, options.reusable)
    order = cut_order(instance, layout)
    if sequence is not None:
        order = tuple(placed for cut in sequence.cuts for placed in sequence.freed_by(cut))
        # A piece as large as the sheet needs no cut.
        order += tuple(placed for placed in layout.placements if placed not in set(order))
    at_risk = risks(instance, layout) if routed else ()
    dealt_at = dict(zip(layout.placements, whose, strict=True))
    return SheetPlan(
        number=number,
        instance=instance,
        layout=layout,
        order=order,
        dealt=tuple(dealt_at[placed] for placed in order),
        offcuts=offcuts(instance, layout, options.reusable),
        at_risk=tuple(layout.placements[risk.placement] for risk in at_risk),
        sequence=sequence,
    )
