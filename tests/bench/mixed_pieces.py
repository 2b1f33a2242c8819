"""1,000 pieces, all different: ours in a tenth of the time that rectpack's 35 settings took.

Seconds are processor time. Better means fewer sheets; as many is a miss. The same and fewer pieces
with remnants of all sizes on hand are nested with quick effort, which must stay quick.

    python -m tests.bench.mixed_pieces --pieces 1000 --seeds 3
"""

import argparse
import random
import statistics
import time
from dataclasses import replace

from nesting.question.instance import Instance, Piece, Stock, StockKind, Turn
from nesting.question.settings import Effort
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.question.ticks import gap_ticks, piece_ticks, sheet_ticks
from nesting.solve import solve
from tests.bench.comparison import versions
from tests.bench.limits import Limit, Sense, show_limits_and_exit, table
from tests.bench.rectpack_peer import SETTINGS, best_alike
from tests.bench.room_jobs import grown

SHARE = 0.1
ASKED_SHARE = 0.09  # the rest is left for bounds and verification, which no clock stops
SHEET_MM = (2440.0, 1220.0)
TRIM_MM, GAP_MM = 10.0, 8.0
LENGTHS_MM, WIDTHS_MM = (150, 1300), (80, 620)
REMNANT_LENGTHS_MM, REMNANT_WIDTHS_MM = (600, 2000), (300, 1200)
REMNANTS = (5, 30)
MOST_QUICK_SECONDS = 2.0


def question(pieces: int, turn: Turn, seed: int) -> Instance:
    """Return pieces of different sizes, in tenths of a millimetre, on free sheets of one size."""
    source = random.Random(seed)
    sizes: dict[tuple[int, int], None] = {}
    while len(sizes) < pieces:
        length, width = (
            source.randint(10 * least, 10 * most) for least, most in (LENGTHS_MM, WIDTHS_MM)
        )
        sizes[length, width] = None
    length, width = (sheet_ticks(side) for side in SHEET_MM)
    return Instance(
        pieces=tuple(
            Piece(
                id=str(number),
                length=piece_ticks(along / 10),
                width=piece_ticks(across / 10),
                quantity=1,
                turn=turn,
            )
            for number, (along, across) in enumerate(sizes)
        ),
        stocks=(Stock(id="sheet", length=length, width=width, price=1.0, on_hand=None),),
        rules=SheetRules(trim=Trim.even(gap_ticks(TRIM_MM)), gap=gap_ticks(GAP_MM)),
    )


def with_remnants(instance: Instance, count: int) -> Instance:
    """Return the question with so many remnants of different sizes, one of each."""
    source = random.Random(count)
    remnants = tuple(
        Stock(
            id=f"remnant {number}",
            length=sheet_ticks(source.randint(*REMNANT_LENGTHS_MM)),
            width=sheet_ticks(source.randint(*REMNANT_WIDTHS_MM)),
            price=0.0,
            on_hand=1,
            kind=StockKind.REMNANT,
        )
        for number in range(count)
    )
    return replace(instance, stocks=(*instance.stocks, *remnants))


def show_quick(pieces: int) -> list[Limit]:
    rows: list[tuple[object, ...]] = []
    limits = []
    for some in (pieces, pieces // 10):
        for count in REMNANTS:
            instance = with_remnants(question(some, Turn.QUARTER, seed=some), count)
            start = time.process_time()
            solution = solve(instance, effort=Effort.QUICK)
            spent = time.process_time() - start
            bought, bound = solution.price, solution.price_bound
            used = f"{solution.sheets - bought:g} of {count}"
            rows.append((some, used, f"{bought:g}", f"{bound:g}", f"{spent:.2f}"))
            name = f"quick: {some} pieces, {count} remnants, s"
            limits.append(Limit(name, spent, Sense.AT_MOST, MOST_QUICK_SECONDS))
    print(table(("pieces, quick", "remnants used", "sheets bought", "bound", "s"), rows))
    return limits


def run() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--pieces", type=int, default=1000)
    parser.add_argument("--seeds", type=int, default=3)
    asked = parser.parse_args()
    seeds = range(1, asked.seeds + 1)
    print(f"{asked.pieces} pieces, all different, against rectpack's best of {len(SETTINGS)}")
    print(f"  {versions(('rectpack', 'numba'))}; seeds {list(seeds)}", flush=True)
    rows: list[tuple[object, ...]] = []
    limits: list[Limit] = []
    for name, turn in (("turned freely", Turn.QUARTER), ("none turned", Turn.FIXED)):
        instance = question(asked.pieces, turn, seed=asked.pieces)
        solve(instance, seconds=0.5, clock=time.process_time)  # loads what is compiled
        size, rectangles = grown(instance)
        peer = best_alike(*size, rectangles)
        sheets, took, bound = [], [], 0
        for seed in seeds:
            start = time.process_time()
            allowed = ASKED_SHARE * peer.seconds
            solution = solve(instance, seed=seed, seconds=allowed, clock=time.process_time)
            took.append(time.process_time() - start)
            sheets.append(solution.sheets)
            bound = max(bound, solution.lower_bound)
        middle, spent = statistics.median_low(sheets), statistics.median(took)
        limits += [
            Limit(f"sheets, {name}", middle, Sense.BELOW, peer.sheets),
            Limit(f"share of its time, {name}", spent / peer.seconds, Sense.AT_MOST, SHARE),
        ]
        rows.append(
            (
                *(name, middle, bound, f"{spent:.2f}"),
                *(peer.sheets, f"{peer.seconds:.1f}", middle / peer.sheets),
            )
        )
    print(table(("", "sheets", "bound", "s", "rectpack", "its s", "ratio"), rows))
    limits += show_quick(asked.pieces)
    show_limits_and_exit(limits)


if __name__ == "__main__":
    run()
