"""The most valuable sheets that a panel saw can cut, for given values of the pieces."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import cycle, islice, product
from random import Random

import numpy as np
from numpy.typing import NDArray

from nesting.edge_to_edge.decoded import SheetFiller
from nesting.edge_to_edge.few_pieces import few_enough, few_pieces_spots
from nesting.edge_to_edge.regions import mirrored, regions
from nesting.edge_to_edge.strips import strip_sheets
from nesting.edge_to_edge.table import table_sheets
from nesting.kernels.sawn_sheet import RULES
from nesting.question.problem import ItemType, Room
from nesting.search.pattern import Counts, Pattern, Spot, pattern_of

STACK_STAGES = 3
TRIES_PER_NUDGE = 16
"""Decoded sheets for each time that the strips are solved with values a little off."""
NUDGE = 0.1
ROUNDS = 2
"""Times that strips are solved again while a limit on pieces binds."""
RECOMBINED = 12
"""Best sheets whose cuts are put together anew when the number of stages is free."""
OFFERED_AREA = 3
"""Pieces offered to a sheet, in areas of it."""


def sawn_patterns(
    room: Room,
    item_types: Sequence[ItemType],
    values: Sequence[float],
    most: Sequence[int],
    stages: int | None,
    tries: int,
    seed: int,
) -> list[Pattern]:
    """Return different patterns of one sheet, the most valuable first; `stages` None: any number.

    `item_types[k].index` must be k; `values[k]` is what a piece of item type k is worth (0 or less:
    it is not wanted) and `most[k]` the most pieces of it. Every pattern keeps the limit of stages.
    Nothing that fits gives an empty list.

    On a clear sheet where nothing must stay off the rim, the first pattern is the most valuable
    there is when the pieces are few (`few_enough`), and when `most` does not bind for two stages,
    or without a limit of stages for few enough sizes. Elsewhere it is good, without a promise: of
    defects and rims, the exact methods only see the largest clear rectangle. `tries` more sheets
    are filled at random; the same seed gives the same patterns.
    """
    wanted = [
        item_type
        for item_type in item_types
        if values[item_type.index] > 0 and most[item_type.index] > 0
    ]
    random = Random(seed)
    sheets = [
        *_exact(room, wanted, values, most, stages),
        *_strips(room, wanted, values, most, stages, tries // TRIES_PER_NUDGE, random),
        *_decoded(room, wanted, item_types, values, most, stages, tries, random),
    ]
    found = _best_first(room, sheets, values)
    if stages is None:
        seen = [pattern.spots for pattern in found[:RECOMBINED]]
        for region in regions(room, wanted):
            sheets += table_sheets(region, values, most, seen)
        found = _best_first(room, sheets, values)
    return found


def _best_first(
    room: Room, sheets: Iterable[Sequence[Spot]], values: Sequence[float]
) -> list[Pattern]:
    found: dict[Counts, Pattern] = {}
    for pattern in (pattern_of(room.index, spots) for spots in sheets if spots):
        found.setdefault(pattern.counts, pattern)
    return sorted(found.values(), key=lambda f: (-f.value(values), f.counts))


def _exact(
    room: Room,
    wanted: Sequence[ItemType],
    values: Sequence[float],
    most: Sequence[int],
    stages: int | None,
) -> Iterator[list[Spot]]:
    for region in regions(room, wanted):
        if few_enough(region, most):
            yield few_pieces_spots(region, values, most, stages)


def _strips(
    room: Room,
    wanted: Sequence[ItemType],
    values: Sequence[float],
    most: Sequence[int],
    stages: int | None,
    nudges: int,
    random: Random,
) -> Iterator[list[Spot]]:
    deepest = stages is None or stages >= STACK_STAGES
    for region in regions(room, wanted):
        for n in range(nudges + 1):
            nudged = _nudged(values, random) if n else values
            rounds = 1 if n else ROUNDS
            for stacked in (False, True) if deepest else (False,):
                if n == 0 or n % 2:
                    yield from strip_sheets(region, nudged, most, stacked, rounds)
                if n == 0 or not n % 2:
                    across = strip_sheets(region.transposed(), nudged, most, stacked, rounds)
                    yield from map(mirrored, across)


def _nudged(values: Sequence[float], random: Random) -> list[float]:
    return [value * random.uniform(1 - NUDGE, 1 + NUDGE) for value in values]


def _decoded(
    room: Room,
    wanted: Sequence[ItemType],
    item_types: Sequence[ItemType],
    values: Sequence[float],
    most: Sequence[int],
    stages: int | None,
    tries: int,
    random: Random,
) -> Iterator[list[Spot]]:
    offered = {
        item_type.index: min(most[item_type.index], room.area // item_type.area)
        for item_type in wanted
    }
    pieces = max(1, sum(offered.values()))
    # Beside defects it matters to which end pieces are pushed.
    flips = (False, True) if len(room.free) > 1 else (False,)
    fillers = cycle(
        [SheetFiller.of(room, item_types, stages, pieces, way) for way in product(flips, flips)]
    )
    for filler in islice(fillers, tries):
        order = _random_order(wanted, values, offered, room.area, random)
        yield filler.filled(order, random.randrange(RULES))


def _random_order(
    wanted: Sequence[ItemType],
    values: Sequence[float],
    offered: dict[int, int],
    area: int,
    random: Random,
) -> NDArray[np.int64]:
    """Return pieces by falling value for their size, with noise, as many as could be of use."""
    power = random.choice((0.0, 0.5, 1.0))
    noise = random.random() ** 2
    keys = [
        (
            values[item_type.index] / item_type.area**power * random.uniform(1 - noise, 1 + noise),
            item_type,
        )
        for item_type in wanted
    ]
    item_types: list[int] = []
    times: list[int] = []
    budget = OFFERED_AREA * area
    for _, item_type in sorted(keys, key=lambda pair: (-pair[0], pair[1].index)):
        if budget <= 0:
            break
        count = offered[item_type.index]
        if random.random() < noise and count > 1:
            count = random.randrange(1, count + 1)
        item_types.append(item_type.index)
        times.append(count)
        budget -= count * item_type.area
    return np.repeat(np.array(item_types, np.int64), np.array(times, np.int64))
