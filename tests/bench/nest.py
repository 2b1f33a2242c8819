"""The nest against rectpack's own packers on the demo's pieces: sheets, price and processor time.

The peer is a plain portfolio: each of rectpack's ways to place a piece, each of its orders, the
sheet that fits best, for each size of sheet alone and for both mixed; the cheapest answer that
leaves no piece out is kept. Every piece and sheet is larger by the gap there, which keeps it.
Both seek the lowest price, so the limit is on that: more sheets may be cheaper, if smaller ones.
"""

import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

import rectpack

from casewright.intake.read_job import read_job
from casewright.stages.nest.nest_stage import nest_groups, nest_instance
from casewright.stages.sets.check_stage import check
from nesting.question.instance import Instance, Stock, Turn
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.question.ticks import gap_ticks
from nesting.solve import solve
from tests.bench.comparison import Comparison, show_and_exit
from tests.bench.processes import DEMO_JOB

SEED = 1
CENTS = 2  # prices are rounded to these, so that equal ones are equal
MOST_PRICE = 1.0
MOST_TIME = 1.0  # of all nests together
RULES = (
    *(rectpack.MaxRectsBl, rectpack.MaxRectsBssf, rectpack.MaxRectsBlsf, rectpack.MaxRectsBaf),
    *(rectpack.SkylineBl, rectpack.SkylineBlWm, rectpack.SkylineMwf, rectpack.SkylineMwfl),
    *(rectpack.SkylineMwfWm, rectpack.SkylineMwflWm),
    *(rectpack.GuillotineBafSas, rectpack.GuillotineBssfSas, rectpack.GuillotineBlsfSas),
    *(rectpack.GuillotineBafMinas, rectpack.GuillotineBssfMinas, rectpack.GuillotineBlsfMinas),
)
ORDERS = (
    *(rectpack.SORT_AREA, rectpack.SORT_PERI, rectpack.SORT_DIFF, rectpack.SORT_SSIDE),
    *(rectpack.SORT_LSIDE, rectpack.SORT_RATIO),
)


@dataclass(frozen=True)
class Answer:
    """What one packer came to."""

    sheets: int
    price: float
    seconds: float


def by_solve(instance: Instance) -> Answer:
    start = time.process_time()
    solution = solve(instance, seed=SEED)
    seconds = time.process_time() - start
    price = round(solution.price, CENTS)
    return Answer(sheets=solution.sheets, price=price, seconds=seconds)


def by_portfolio(instance: Instance) -> Answer:
    """The cheapest answer of the portfolio, fewest sheets among equals, and the time of it all.

    Raises:
        RuntimeError: no member of it placed every piece.
    """
    start = time.process_time()
    answers = [
        packed
        for stocks in stock_choices(instance)
        for rule, order in product(RULES, ORDERS)
        for packed in packing(instance, stocks, rule, order)
    ]
    seconds = time.process_time() - start
    if not answers:
        raise RuntimeError("rectpack left a piece out, whatever the rule and order")
    price, sheets = min(answers)
    return Answer(sheets=sheets, price=price, seconds=seconds)


def stock_choices(instance: Instance) -> Iterator[tuple[Stock, ...]]:
    """Yield each size of sheet alone, and all of them from small to large."""
    by_size = sorted(instance.stocks, key=lambda stock: (stock.length * stock.width, stock.id))
    yield from ((stock,) for stock in by_size)
    if len(by_size) > 1:
        yield tuple(by_size)


def packing(
    instance: Instance, stocks: tuple[Stock, ...], rule: object, order: object
) -> Iterator[tuple[float, int]]:
    """Yield price and number of sheets, if the packer places every piece."""
    trim, gap = instance.rules.trim, instance.rules.gap
    pieces = sum(piece.quantity for piece in instance.pieces)
    packer = rectpack.newPacker(
        mode=rectpack.PackingMode.Offline,
        bin_algo=rectpack.PackingBin.BBF,
        pack_algo=rule,
        sort_algo=order,
        rotation=all(piece.turn is Turn.QUARTER for piece in instance.pieces),
    )
    for stock in stocks:
        size = (stock.length - trim.along + gap, stock.width - trim.across + gap)
        count = pieces if stock.on_hand is None else stock.on_hand
        packer.add_bin(*size, count=count, bid=stock.price)
    for piece in instance.pieces:
        for _ in range(piece.quantity):
            packer.add_rect(piece.length + gap, piece.width + gap)
    packer.pack()
    if sum(len(sheet) for sheet in packer) == pieces:
        yield round(sum(sheet.bid for sheet in packer), CENTS), len(packer)


def compared(
    name: str, ours: Answer, peer: Answer, most_time: float | None = None
) -> Iterator[Comparison]:
    yield Comparison(f"{name}: price", ours.price, peer.price, "USD", MOST_PRICE)
    yield Comparison(f"{name}: sheets", ours.sheets, peer.sheets, "-")
    yield Comparison(f"{name}: processor", ours.seconds, peer.seconds, "s", most_time)


def total(answers: list[Answer]) -> Answer:
    return Answer(
        sheets=sum(answer.sheets for answer in answers),
        price=round(sum(answer.price for answer in answers), CENTS),
        seconds=sum(answer.seconds for answer in answers),
    )


def run() -> None:
    job = read_job(DEMO_JOB)
    trim = Trim.even(gap_ticks(job.machine.sheet_trim_mm))
    rules = SheetRules(trim=trim, gap=gap_ticks(job.machine.gap_mm))
    rows: list[Comparison] = []
    ours: list[Answer] = []
    peer: list[Answer] = []
    for group in nest_groups(check(job).cut_list.parts):
        instance = nest_instance(group, rules, Counter())
        ours.append(by_solve(instance))
        peer.append(by_portfolio(instance))
        rows += compared(group.material.key, ours[-1], peer[-1])
    rows += compared("all", total(ours), total(peer), MOST_TIME)
    show_and_exit(
        "The nest against rectpack's plain portfolio, pieces of 48 rooms",
        "nest",
        "portfolio",
        rows,
        ("rectpack", "shapely"),
        SEED,
    )


if __name__ == "__main__":
    run()
