"""Exact in inches: divisions of a sheet, jobs cut from known packings, tiny jobs tried in full.

    python -m tests.bench.inches [--jobs 200] [--tiny 1000] [--seed 1]

Lengths are typed as fractions of 1/64 in and read as the program reads them. A job with a known
packing is cut out of whole sheets by random cuts with the gap between the pieces, so that it needs
no more sheets than it was cut from; its area proves that it needs as many. Tiny jobs are held
against a search of every place (half of them in inches, half in tenths of a millimetre).
"""

import argparse
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import product
from math import inf, isclose
from random import Random

from nesting.answer.verify import violations
from nesting.question.errors import NotEnoughStock
from nesting.question.fit_check import refuse_impossible
from nesting.question.instance import Defect, Instance, Piece, Stock, Turn
from nesting.question.settings import Effort
from nesting.question.sheet_rules import Rim, SheetRules, Trim
from nesting.question.ticks import gap_ticks, piece_ticks, sheet_ticks
from nesting.solve import solve
from parametric.stock.lengths import Units, exact_length
from tests.bench.limits import Limit, Sense, show_limits_and_exit
from tests.nesting.exhaustive_nest import least_cost
from tests.nesting.test_against_exhaustive_search import WAYS_TO_CUT, tiny

SIDES, PARTS, GAPS = (48, 60, 96, 120), (2, 3, 4, 6), ("0", "3/16", "3/8", "3/4")
SHEETS = ((96, 48), (120, 60), (144, 60))
GRID = 64


@dataclass(frozen=True)
class Tried:
    """A tiny job: whether its nest keeps the rules, is the best there is, and so is its bound."""

    seed: int
    fits: bool
    best: bool
    bound: bool

    @property
    def right(self) -> bool:
        return self.fits and self.best and self.bound


def typed(length: Fraction) -> Fraction:
    """Return the millimetres of a length in inches that is typed as a fraction."""
    whole, part = divmod(length, 1)
    text = f"{whole} {part.numerator}/{part.denominator}" if part else str(whole)
    return exact_length(text, Units.INCH)


def question(
    sizes: list[tuple[Fraction, Fraction, Turn]], sheet: tuple[int, int], gap: Fraction
) -> Instance:
    pieces = tuple(
        Piece(
            id=str(number),
            length=piece_ticks(typed(length)),
            width=piece_ticks(typed(width)),
            quantity=1,
            turn=turn,
        )
        for number, (length, width, turn) in enumerate(sizes)
    )
    length, width = (sheet_ticks(typed(Fraction(side))) for side in sheet)
    stock = Stock(id="s", length=length, width=width, price=49.9, on_hand=None)
    rules = SheetRules(trim=Trim.even(0), gap=gap_ticks(typed(gap)))
    return Instance(pieces=pieces, stocks=(stock,), rules=rules)


def divided(side: int, parts: int, gap: Fraction) -> Instance:
    length = (side - (parts - 1) * gap) / parts
    width = (48 - gap) / 2
    return question([(length, width, Turn.FIXED)] * (2 * parts), (side, 48), gap)


def cut_up(rng: Random, sheets: int) -> Instance:
    """Return the pieces of sheets that random cuts took apart, from edge to edge or not."""
    sheet = rng.choice(SHEETS)
    gap = Fraction(rng.choice((0, 8, 12, 16, 24)), GRID)
    sizes: list[tuple[Fraction, Fraction, Turn]] = []
    for _ in range(sheets):
        boards = [(Fraction(sheet[0]), Fraction(sheet[1]))]
        for _ in range(rng.randint(2, 6)):
            boards.sort(key=lambda board: board[0] * board[1])
            length, width = boards.pop()
            along = length >= width
            side = length if along else width
            at = Fraction(rng.randint(int(side * GRID) // 4, int(side * GRID) * 3 // 4), GRID)
            rest = side - at - gap
            if rest < 2:
                boards.append((length, width))
                continue
            halves = [(at, width), (rest, width)] if along else [(length, at), (length, rest)]
            boards += halves
        sizes += [(*board, rng.choice(tuple(Turn))) for board in boards]
    rng.shuffle(sizes)
    return question(sizes, sheet, gap)


def scaled(instance: Instance, unit: Fraction) -> Instance:
    """Return a question in whole numbers with each of them so many millimetres."""

    def up(number: int) -> int:
        return piece_ticks(number * unit)

    rules = instance.rules
    rim = rules.rim and Rim(
        longest_side=up(rules.rim.longest_side), distance=up(rules.rim.distance)
    )
    trim = Trim(
        left=up(rules.trim.left),
        right=up(rules.trim.right),
        bottom=up(rules.trim.bottom),
        top=up(rules.trim.top),
    )
    return Instance(
        pieces=tuple(
            replace(piece, length=up(piece.length), width=up(piece.width))
            for piece in instance.pieces
        ),
        stocks=tuple(
            replace(
                stock,
                length=up(stock.length),
                width=up(stock.width),
                defects=tuple(
                    Defect(x=up(d.x), y=up(d.y), length=up(d.length), width=up(d.width))
                    for d in stock.defects
                ),
            )
            for stock in instance.stocks
        ),
        rules=replace(rules, trim=trim, gap=up(rules.gap), rim=rim),
    )


def tiny_tried(seed: int) -> Tried | None:
    """Return what came of a tiny job; None if it asks for nothing."""
    ways = list(WAYS_TO_CUT)
    plain = tiny(seed, WAYS_TO_CUT[ways[seed // 2 % len(ways)]])
    if not plain.pieces:
        return None
    unit = Fraction(25 * 254, 640) if seed % 2 else Fraction(37, 10)  # 25/64 in, or 3.7 mm
    instance = scaled(plain, unit)
    refuse_impossible(instance)
    best = least_cost(plain, {stock.id: stock.price for stock in plain.stocks})
    try:
        solution = solve(instance, seed=seed)
    except NotEnoughStock:
        return Tried(seed, fits=True, best=best == inf, bound=True)
    return Tried(
        seed,
        fits=violations(instance, solution) == (),
        best=isclose(solution.price, best),
        bound=solution.price_bound <= best,
    )


def main() -> None:
    parser = argparse.ArgumentParser(description="The nest in inches.")
    parser.add_argument("--jobs", type=int, default=200)
    parser.add_argument("--tiny", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    arguments = parser.parse_args()
    exact = 0
    for side, parts, gap in product(SIDES, PARTS, map(Fraction, GAPS)):
        instance = divided(side, parts, gap)
        solution = solve(instance, effort=Effort.QUICK)
        good = violations(instance, solution) == ()
        exact += good and solution.sheets == 1 == solution.lower_bound
    print(f"{exact} of 64 exact divisions on one sheet, proven")
    rng = Random(arguments.seed)
    known = 0
    for number in range(arguments.jobs):
        sheets = rng.randint(1, 3)
        instance = cut_up(rng, sheets)
        solution = solve(instance, seed=arguments.seed)
        good = violations(instance, solution) == ()
        known += good and solution.sheets == sheets
        if not good or solution.sheets != sheets:
            print(
                f"  job {number}: {solution.sheets} sheets for {sheets}, "
                f"{len(instance.pieces)} pieces, at least {solution.lower_bound}"
            )
    print(f"{known} of {arguments.jobs} jobs on the sheets that they were cut from")
    asked = (tiny_tried(arguments.seed * 100_000 + number) for number in range(arguments.tiny))
    tried = [each for each in asked if each is not None]
    for each in tried:
        if not each.right:
            print(f"  not right: {each}")
    print(
        f"{sum(each.right for each in tried)} of {len(tried)} tiny jobs right,"
        f" {sum(not each.bound for each in tried)} bounds above the best"
    )
    show_limits_and_exit(
        [
            Limit("exact divisions", exact, Sense.AT_LEAST, 64),
            Limit("jobs cut from known packings", known, Sense.AT_LEAST, arguments.jobs),
            Limit("tiny jobs", sum(each.right for each in tried), Sense.AT_LEAST, len(tried)),
        ]
    )


if __name__ == "__main__":
    main()
