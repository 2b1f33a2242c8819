"""Jobs of many equal rooms: sheets against rectpack with grain, bound, layouts, time, saw cuts.

Every nest is the default one, but for the quick ones and for proofs where the default one leaves a
gap above the limit; a count of work ends it and not a clock. Seconds are processor time. rectpack
tries 25 settings at 40 rooms, at 120 the best two of them and at 400 the best one: its time grows
with the square of the rooms.

    python -m tests.bench.repeated_rooms --jobs clinic_rooms --rooms 40 --seeds 1
"""

import argparse
import math
import statistics
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nesting.answer.solution import Solution
from nesting.question.instance import Instance
from nesting.question.settings import Effort, Preference
from nesting.solve import solve
from tests.bench.comparison import versions
from tests.bench.limits import Limit, Sense, show_limits_and_exit, table
from tests.bench.rectpack_peer import QUICK_SETTINGS, Setting, best_by_grain
from tests.bench.room_jobs import JOBS, ROOMS, SHEETS, Sheet, grown, pieces_of, question, sawn

MOST_RATIO = {"2440x1220": (0.960, 0.95), "3050x1525": (0.943, 0.94)}
MOST_GAP = (0.02, 0.005)
LAYOUTS_WITHIN = 0.01
LAYOUTS_GOAL = 0.003
MANY_ROOMS, FEW_ROOMS = 4000, 40
MOST_SECONDS = (10.0, 3.0)
MOST_GROWTH = 1.5
MOST_QUICK_SECONDS = 2.0
PEER_SETTINGS = (len(QUICK_SETTINGS), 2, 1)
"""At the fewest rooms of a run, the next, and all above."""
SAW_STAGES = (None, 3, 2)


@dataclass(frozen=True)
class Nested:
    """The median answer of several seeds, by sheets, and the median processor seconds."""

    solution: Solution
    seconds: float


@dataclass(frozen=True)
class Row:
    """One job on one size of sheet."""

    job: str
    rooms: int
    sheet: Sheet
    types: int
    pieces: int
    ours: Nested
    peer: int
    peer_seconds: float

    @property
    def name(self) -> str:
        return f"{self.job} {self.rooms} {self.sheet.name}"

    @property
    def ratio(self) -> float:
        return self.ours.solution.sheets / self.peer

    def fewest_layouts(self, within: float) -> int:
        """Return the fewest layouts of any answer within a share of the fewest sheets."""
        solution = self.ours.solution
        most = solution.sheets * (1.0 + within)
        offered = [choice.layouts for choice in solution.choices if choice.sheets <= most]
        return min([solution.distinct, *offered])


def nested(instance: Instance, seeds: Sequence[int], effort: Effort = Effort.NORMAL) -> Nested:
    answers = []
    for seed in seeds:
        start = time.process_time()
        solution = solve(instance, seed=seed, effort=effort)
        answers.append(Nested(solution, time.process_time() - start))
    answers.sort(key=lambda answer: answer.solution.sheets)
    middle = answers[(len(answers) - 1) // 2]
    return Nested(middle.solution, statistics.median(answer.seconds for answer in answers))


def rows_of(
    job: str, sheet: Sheet, all_rooms: Sequence[int], seeds: Sequence[int]
) -> Iterator[Row]:
    """Yield a row for each number of rooms; rectpack's settings are chosen at the fewest."""
    settings: Sequence[Setting] = QUICK_SETTINGS
    for place, rooms in enumerate(all_rooms):
        instance = question(job, rooms, sheet)
        size, rectangles = grown(instance)
        peer = best_by_grain(*size, rectangles, settings[: PEER_SETTINGS[min(place, 2)]])
        settings = peer.ranking if len(peer.ranking) > 1 else settings
        yield Row(
            job=job,
            rooms=rooms,
            sheet=sheet,
            types=len(instance.pieces),
            pieces=pieces_of(instance),
            ours=nested(instance, seeds),
            peer=peer.sheets,
            peer_seconds=peer.seconds,
        )


ROW_HEAD = (
    *("job, rooms, sheet", "types", "pieces", "sheets", "bound", "kind", "gap", "layouts"),
    *("layouts +0.3 %", "layouts +1 %", "s", "rectpack", "its s", "ratio"),
)


def cells(row: Row) -> tuple[object, ...]:
    found = row.ours.solution
    return (
        *(row.name, row.types, row.pieces, found.sheets, found.lower_bound),
        *(found.price_bound_kind.value, f"{100 * found.gap:.2f} %", found.distinct),
        *(row.fewest_layouts(LAYOUTS_GOAL), row.fewest_layouts(LAYOUTS_WITHIN)),
        *(f"{row.ours.seconds:.2f}", row.peer, f"{row.peer_seconds:.1f}", row.ratio),
    )


def sheet_limits(rows: Sequence[Row]) -> Iterator[Limit]:
    for size, (most, goal) in MOST_RATIO.items():
        ratios = [row.ratio for row in rows if row.sheet.name == size]
        if ratios:
            mean = math.exp(statistics.fmean(math.log(ratio) for ratio in ratios))
            yield Limit(f"sheets to rectpack's, mean, {size}", mean, Sense.AT_MOST, most, goal)
    for row in rows:
        if row.ours.solution.gap <= MOST_GAP[0]:
            yield Limit(f"gap: {row.name}", row.ours.solution.gap, Sense.AT_MOST, *MOST_GAP)
    for row in rows:
        layouts = row.fewest_layouts(LAYOUTS_WITHIN)
        yield Limit(f"layouts at +1 %: {row.name}", layouts, Sense.AT_MOST, row.types)


def preferred(row: Row) -> tuple[object, ...]:
    """Return what a nest that prefers few layouts really delivers, beside what was offered."""
    preference = Preference(extra_price=LAYOUTS_WITHIN)
    solution = solve(question(row.job, row.rooms, row.sheet), seed=1, preference=preference)
    offered = row.fewest_layouts(LAYOUTS_WITHIN)
    return row.name, row.ours.solution.sheets, offered, solution.sheets, solution.distinct


def proven(row: Row) -> tuple[tuple[object, ...], Limit]:
    """Return a row for the gap that thorough effort proves, and its limit."""
    instance, usual = question(row.job, row.rooms, row.sheet), row.ours
    long = nested(instance, [1], Effort.THOROUGH)
    cells = (
        *(row.name, usual.solution.sheets, usual.solution.lower_bound),
        *(f"{100 * usual.solution.gap:.2f} %", long.solution.sheets, long.solution.lower_bound),
        *(f"{100 * long.solution.gap:.2f} %", f"{long.seconds:.0f}"),
    )
    return cells, Limit(f"thorough gap: {row.name}", long.solution.gap, Sense.AT_MOST, *MOST_GAP)


def growth(job: str, sheet: Sheet, seeds: Sequence[int]) -> tuple[tuple[object, ...], list[Limit]]:
    """Return a row for the same job with few rooms and a hundred times as many, and its limits."""
    few = nested(question(job, FEW_ROOMS, sheet), seeds)
    many = nested(question(job, MANY_ROOMS, sheet, moved_as=FEW_ROOMS), seeds)
    name, factor = f"{job} {sheet.name}", many.seconds / few.seconds
    row = (
        *(name, few.solution.sheets, many.solution.sheets, many.solution.lower_bound),
        *(many.solution.distinct, f"{few.seconds:.2f}", f"{many.seconds:.2f}", factor),
    )
    return row, [
        Limit(f"time of {MANY_ROOMS} rooms: {name}", many.seconds, Sense.AT_MOST, *MOST_SECONDS),
        Limit(f"times that of {FEW_ROOMS}: {name}", factor, Sense.AT_MOST, MOST_GROWTH),
    ]


def quick(
    job: str, sheet: Sheet, rooms: int, seeds: Sequence[int]
) -> tuple[tuple[object, ...], Limit]:
    """Return a row for quick effort beside the default one, and its limit."""
    instance = question(job, rooms, sheet)
    soon, usual = nested(instance, seeds, Effort.QUICK), nested(instance, seeds)
    name = f"{job} {rooms} {sheet.name}"
    sheets, least = soon.solution.sheets, usual.solution.sheets
    row = (name, sheets, least, sheets / least, f"{soon.seconds:.2f}", f"{usual.seconds:.2f}")
    return row, Limit(f"quick: {name}", soon.seconds, Sense.AT_MOST, MOST_QUICK_SECONDS)


def by_saw(job: str, sheet: Sheet, rooms: int) -> tuple[object, ...]:
    """Return the sheets of a free nest and of edge-to-edge cuts, any number of stages, 3 and 2."""
    instance = question(job, rooms, sheet)
    free = nested(instance, [1])
    sawn_answers = [nested(sawn(instance, stages), [1]) for stages in SAW_STAGES]
    cells: list[object] = [f"{job} {rooms} {sheet.name}", free.solution.sheets]
    for answer in sawn_answers:
        sheets = answer.solution.sheets
        cells += [sheets, sheets / free.solution.sheets, f"{answer.seconds:.1f}"]
    return tuple(cells)


Pair = tuple[str, Sheet]


def show_sheets(pairs: Sequence[Pair], rooms: Sequence[int], seeds: Sequence[int]) -> list[Limit]:
    rows: list[Row] = []
    for job, sheet in pairs:
        rows += rows_of(job, sheet, rooms, seeds)
        print(f"  done: {rows[-1].name}", flush=True)
    print(table(ROW_HEAD, [cells(row) for row in rows]), flush=True)
    print("\nFewest layouts within 1 % of the sheets: offered, and delivered when preferred")
    head = ("job, rooms, sheet", "sheets", "offered", "delivered: sheets", "layouts")
    fewest = [row for row in rows if row.rooms == rooms[0]]
    print(table(head, [preferred(row) for row in fewest]), flush=True)
    return [*sheet_limits(rows), *show_proven(rows)]


def show_proven(rows: Sequence[Row]) -> list[Limit]:
    """Show what thorough effort proves where the default one leaves a gap above the limit."""
    found = [proven(row) for row in rows if row.ours.solution.gap > MOST_GAP[0]]
    if found:
        print("\nWhere the default effort leaves a gap above the limit: thorough effort, seed 1")
        head = ("job, rooms, sheet", "sheets", "bound", "gap", "thorough", "bound", "gap", "s")
        print(table(head, [cells for cells, _ in found]), flush=True)
    return [limit for _, limit in found]


def show_growth(pairs: Sequence[Pair], seeds: Sequence[int]) -> list[Limit]:
    print(f"\nThe same job, {FEW_ROOMS} and {MANY_ROOMS} rooms")
    grew = [growth(job, sheet, seeds) for job, sheet in pairs]
    head = ("job, sheet", "sheets", "many: sheets", "bound", "layouts", "s", "many: s", "times")
    print(table(head, [row for row, _ in grew]), flush=True)
    return [limit for _, found in grew for limit in found]


def show_quick(pairs: Sequence[Pair], rooms: Sequence[int], seeds: Sequence[int]) -> list[Limit]:
    print("\nQuick effort")
    found = [quick(job, sheet, number, seeds) for job, sheet in pairs for number in rooms]
    head = ("job, rooms, sheet", "sheets", "default: sheets", "ratio", "s", "default: s")
    print(table(head, [row for row, _ in found]), flush=True)
    return [limit for _, limit in found]


def show_saw(pairs: Sequence[Pair], rooms: int) -> None:
    print("\nEdge-to-edge cuts against the free nest: any number of stages, 3, 2")
    head = (
        *("job, rooms, sheet", "free", "any", "ratio", "s"),
        *("3 stages", "ratio", "s", "2 stages", "ratio", "s"),
    )
    print(table(head, [by_saw(job, sheet, rooms) for job, sheet in pairs]), flush=True)


def run() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--jobs", nargs="+", choices=JOBS, default=JOBS)
    parser.add_argument("--rooms", nargs="+", type=int, default=ROOMS)
    parser.add_argument("--sheets", nargs="+", choices=[s.name for s in SHEETS], default=None)
    parser.add_argument("--seeds", type=int, default=3)
    parts = ["sheets", "growth", "quick", "saw"]
    parser.add_argument("--parts", nargs="+", choices=parts, default=parts)
    asked = parser.parse_args()
    seeds, rooms = range(1, asked.seeds + 1), sorted(asked.rooms)
    sheets = [sheet for sheet in SHEETS if asked.sheets is None or sheet.name in asked.sheets]
    pairs = [(job, sheet) for sheet in sheets for job in asked.jobs]
    print("Repeated rooms, default effort, processor seconds")
    print(f"  {versions(('rectpack', 'numba', 'highspy'))}; seeds {list(seeds)}", flush=True)
    nested(question("clinic_rooms", 10, SHEETS[0]), [1])  # loads what is compiled
    limits: list[Limit] = []
    if "sheets" in asked.parts:
        limits += show_sheets(pairs, rooms, seeds)
    if "growth" in asked.parts:
        limits += show_growth(pairs, seeds)
    if "quick" in asked.parts:
        limits += show_quick(pairs, rooms, seeds)
    if "saw" in asked.parts:
        show_saw(pairs, rooms[0])
    show_limits_and_exit(limits)


if __name__ == "__main__":
    run()
