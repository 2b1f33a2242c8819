"""Six kinds of jobs as shops have them, drawn anew by a seed: time, gap in money, layouts.

Every nest is the default one: a count of work ends it and not a clock. Seconds are processor time.
The sizes are invented and drawn; nothing is tuned on the seeds that are reported: tune on others
(`--first-seed 101`).

    python -m tests.bench.production_jobs --seeds 5
"""

import argparse
import random
import statistics
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from nesting.answer.solution import Solution
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.question.ticks import gap_ticks, piece_ticks, sheet_ticks
from nesting.solve import solve
from tests.bench.comparison import versions
from tests.bench.limits import Limit, Sense, show_limits_and_exit, table

MOST_SECONDS = (10.0, 5.0)
MOST_GAP = (0.01, 0.005)
MOST_LAYOUTS = (1.2, 0.8)  # for each item type
MANY_ROWS = 5_000
MOST_SECONDS_MANY = (15.0, 10.0)
MOST_GAP_MANY = (0.02, 0.01)
INCH_MM = Fraction(254, 10)


def millimetres(source: random.Random, least: int, most: int) -> float:
    """Return a whole or a half millimetre: what a shop writes."""
    return source.randint(2 * least, 2 * most) / 2


def inches(source: random.Random, least: int, most: int) -> float:
    """Return millimetres of a size in eighths of an inch from `least` to `most` inches."""
    return float(Fraction(source.randint(8 * least, 8 * most), 8) * INCH_MM)


def stock(length_mm: float, width_mm: float, price: float) -> Stock:
    return Stock(
        id=f"{length_mm:g}x{width_mm:g}",
        length=sheet_ticks(length_mm),
        width=sheet_ticks(width_mm),
        price=price,
        on_hand=None,
    )


def piece(number: int, length_mm: float, width_mm: float, quantity: int, grain: bool) -> Piece:
    return Piece(
        id=f"piece {number}",
        length=piece_ticks(max(length_mm, width_mm) if grain else length_mm),
        width=piece_ticks(min(length_mm, width_mm) if grain else width_mm),
        quantity=quantity,
        turn=Turn.FIXED if grain else Turn.QUARTER,
    )


def rules(trim_mm: float, gap_mm: float) -> SheetRules:
    return SheetRules(trim=Trim.even(gap_ticks(trim_mm)), gap=gap_ticks(gap_mm))


def dormitory(source: random.Random) -> Instance:
    """Bunks of one dormitory: few types, most of them long, birch plywood without a grain rule."""
    rooms = source.randint(50, 70)
    pieces = [
        piece(
            number, millimetres(source, 300, 2000), millimetres(source, 90, 900), rooms * n, False
        )
        for number, n in enumerate(source.choices((1, 2, 2, 4), k=12))
    ]
    return Instance(pieces=tuple(pieces), stocks=(stock(2440, 1220, 61.5),), rules=rules(10, 8))


def hotel(source: random.Random) -> Instance:
    """A hotel of two kinds of rooms: many types, half of them with the grain, large sheets."""
    kinds = (source.randint(60, 90), source.randint(20, 40))
    pieces = []
    for number in range(24):
        rooms = source.choice((sum(kinds), *kinds))
        size = millimetres(source, 200, 1900), millimetres(source, 80, 760)
        pieces.append(piece(number, *size, rooms * source.choice((1, 1, 2)), number % 2 == 0))
    return Instance(pieces=tuple(pieces), stocks=(stock(3050, 1525, 118.4),), rules=rules(12, 10))


def ship(source: random.Random) -> Instance:
    """Cabins of one ship: very many copies of rather small pieces."""
    cabins = source.randint(900, 1100)
    pieces = [
        piece(
            number, millimetres(source, 150, 1200), millimetres(source, 60, 600), cabins * n, False
        )
        for number, n in enumerate(source.choices((1, 2, 2, 3), k=16))
    ]
    return Instance(pieces=tuple(pieces), stocks=(stock(2500, 1250, 44.9),), rules=rules(8, 7))


def clinic(source: random.Random) -> Instance:
    """Cupboards of a clinic in inches: forty types with the grain, 4 by 8 foot sheets."""
    rooms = source.randint(24, 36)
    pieces = [
        piece(number, inches(source, 8, 60), inches(source, 4, 26), rooms * n, number % 3 > 0)
        for number, n in enumerate(source.choices((1, 1, 2), k=40))
    ]
    return Instance(
        pieces=tuple(pieces), stocks=(stock(2438.4, 1219.2, 72.35),), rules=rules(12.7, 9.525)
    )


def students(source: random.Random) -> Instance:
    """Rooms of students in inches: two sizes of sheet, the larger one a little dearer by area."""
    rooms = source.randint(90, 130)
    pieces = [
        piece(number, inches(source, 10, 78), inches(source, 5, 36), rooms * n, number % 2 == 0)
        for number, n in enumerate(source.choices((1, 1, 2, 3), k=18))
    ]
    stocks = stock(2438.4, 1219.2, 58.7), stock(3048, 1524, 94.25)
    return Instance(pieces=tuple(pieces), stocks=stocks, rules=rules(12.7, 6.35))


def joinery(source: random.Random) -> Instance:
    """A month of mixed orders: a hundred types, some copies of each."""
    pieces = []
    for number in range(100):
        size = millimetres(source, 180, 1500), millimetres(source, 70, 620)
        pieces.append(piece(number, *size, source.randint(5, 60), number % 2 == 0))
    return Instance(pieces=tuple(pieces), stocks=(stock(2800, 2070, 97.8),), rules=rules(10, 9))


JOBS: dict[str, Callable[[random.Random], Instance]] = {
    "dormitory": dormitory,
    "hotel": hotel,
    "ship": ship,
    "clinic": clinic,
    "students": students,
    "joinery": joinery,
}


def question(job: str, seed: int) -> Instance:
    """Return the nest of a kind of job as a seed draws it."""
    return JOBS[job](random.Random(f"{job} {seed}"))


def many_rows(seed: int) -> Instance:
    """Return 5,000 pieces, no two alike."""
    source = random.Random(f"many rows {seed}")
    sizes: dict[tuple[float, float], None] = {}
    while len(sizes) < MANY_ROWS:
        sizes[millimetres(source, 150, 1300), millimetres(source, 80, 620)] = None
    pieces = [piece(n, *size, 1, False) for n, size in enumerate(sizes)]
    return Instance(pieces=tuple(pieces), stocks=(stock(2440, 1220, 1.0),), rules=rules(10, 8))


@dataclass(frozen=True)
class Row:
    """One job of one seed and its answer."""

    name: str
    types: int
    pieces: int
    solution: Solution
    seconds: float

    @property
    def layouts_a_type(self) -> float:
        return self.solution.distinct / self.types


def nested(name: str, instance: Instance) -> Row:
    start = time.process_time()
    solution = solve(instance)
    return Row(
        name=name,
        types=len(instance.pieces),
        pieces=sum(each.quantity for each in instance.pieces),
        solution=solution,
        seconds=time.process_time() - start,
    )


HEAD = (
    *("job, seed", "types", "pieces", "sheets", "price", "bound", "kind", "gap"),
    *("layouts", "for a type", "s"),
)


def cells(row: Row) -> tuple[object, ...]:
    found = row.solution
    return (
        *(row.name, row.types, row.pieces, found.sheets),
        *(f"{found.price:.2f}", f"{found.price_bound:.2f}", found.price_bound_kind.value),
        *(f"{100 * found.gap:.2f} %", found.distinct, row.layouts_a_type, f"{row.seconds:.1f}"),
    )


def limits(job: str, rows: Sequence[Row]) -> Iterator[Limit]:
    """Yield what must be reached: the median over the seeds."""
    seconds = statistics.median(row.seconds for row in rows)
    gap = statistics.median(row.solution.gap for row in rows)
    if job == MANY:
        yield Limit(f"{job}: s", seconds, Sense.AT_MOST, *MOST_SECONDS_MANY)
        yield Limit(f"{job}: gap", gap, Sense.AT_MOST, *MOST_GAP_MANY)
        return
    layouts = statistics.median(row.layouts_a_type for row in rows)
    yield Limit(f"{job}: s", seconds, Sense.AT_MOST, *MOST_SECONDS)
    yield Limit(f"{job}: gap", gap, Sense.AT_MOST, *MOST_GAP)
    yield Limit(f"{job}: layouts for a type", layouts, Sense.AT_MOST, *MOST_LAYOUTS)


MANY = "many rows"


def run() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    names = [*JOBS, MANY]
    parser.add_argument("--jobs", nargs="+", choices=names, default=names)
    parser.add_argument("--seeds", type=int, default=5)
    parser.add_argument("--first-seed", type=int, default=1)
    asked = parser.parse_args()
    seeds = range(asked.first_seed, asked.first_seed + asked.seeds)
    print("Production jobs, default effort, processor seconds")
    print(f"  {versions(('numba', 'highspy'))}; seeds {list(seeds)}", flush=True)
    nested("", dormitory(random.Random(0)))  # loads what is compiled
    kept: list[Limit] = []
    for job in asked.jobs:
        draw = many_rows if job == MANY else lambda seed, job=job: question(job, seed)
        rows = []
        for seed in seeds:
            rows.append(nested(f"{job} {seed}", draw(seed)))
            print(f"  done: {rows[-1].name}", flush=True)
        print(table(HEAD, [cells(row) for row in rows]), flush=True)
        kept += limits(job, rows)
    show_limits_and_exit(kept)


if __name__ == "__main__":
    run()
