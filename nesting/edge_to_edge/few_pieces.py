"""The most valuable sheet of a handful of pieces, exactly: by putting blocks together.

A block is a set of pieces that comes apart in a number of stages, with the rectangle around it. A
block of s stages is a row of blocks of s - 1 stages, which are rows across it; a block of none is
one piece. For each set the blocks that no other fits inside are kept (bottom-up search after Wang,
1983, without its loss of good blocks).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import product
from math import fsum, prod
from typing import TypeAlias

from nesting.edge_to_edge.regions import Region, mirrored
from nesting.search.pattern import Spot

SETS_MOST = 64
PIECES_MOST = 8


def few_enough(region: Region, most: Sequence[int]) -> bool:
    """Return whether there are few enough pieces for this search."""
    counts = [count for _, count in _counts(region, most)]
    return sum(counts) <= PIECES_MOST and prod(count + 1 for count in counts) <= SETS_MOST


def few_pieces_spots(
    region: Region, values: Sequence[float], most: Sequence[int], stages: int | None
) -> list[Spot]:
    """Return the most valuable sheet of the region within the stages (None: any number)."""
    counts = _counts(region, most)
    item_types = [item_type for item_type, _ in counts]
    blocks = _Blocks(region, item_types, _sets([count for _, count in counts]), stages)
    best: tuple[float, list[Spot]] = 0.0, []
    for held in blocks.sets:
        value = fsum(
            values[item_type] * count for item_type, count in zip(item_types, held, strict=True)
        )
        if value > best[0]:
            spots = blocks.spots(held)
            best = (value, spots) if spots else best
    return best[1]


PieceCounts: TypeAlias = tuple[int, ...]
"""How many pieces of each item type."""


@dataclass(frozen=True, slots=True)
class _Block:
    along: int
    across: int
    spots: tuple[Spot, ...]


@dataclass(frozen=True, slots=True)
class _Blocks:
    region: Region
    item_types: list[int]
    sets: list[PieceCounts]
    stages: int | None
    known: dict[tuple[PieceCounts, int | None, bool], list[_Block]] = field(default_factory=dict)

    def spots(self, held: PieceCounts) -> list[Spot] | None:
        """Return where the pieces of a set lie on the sheet; None: it does not fit."""
        place = self.region.place
        for along_x in (True, False):
            for block in self._blocks(held, self.stages, along_x):
                spots = block.spots if along_x else mirrored(block.spots)
                return [
                    Spot(item_type, place.x + x, place.y + y, turned)
                    for item_type, x, y, turned in spots
                ]
        return None

    def _blocks(self, held: PieceCounts, stages: int | None, along_x: bool) -> list[_Block]:
        """Return the blocks of a set that are rows along x (or along y, in the mirrored frame).

        Without a limit of stages they are rows either way.
        """
        key = held, stages, along_x
        if key not in self.known:
            found = list(self._new_blocks(held, stages, along_x))
            self.known[key] = _smallest(found)
        return self.known[key]

    def _new_blocks(self, held: PieceCounts, stages: int | None, along_x: bool) -> Iterator[_Block]:
        if sum(held) == 1:
            yield from self._single(held, along_x)
        elif stages is None:
            if along_x:
                yield from self._rows(held, None, None, along_x)
                yield from map(_turned, self._rows(held, None, None, not along_x))
            else:
                yield from map(_turned, self._blocks(held, None, not along_x))
        elif stages > 0:
            yield from map(_turned, self._blocks(held, stages - 1, not along_x))
            yield from self._rows(held, stages - 1, stages, along_x)

    def _rows(
        self, held: PieceCounts, stages: int | None, rest_stages: int | None, along_x: bool
    ) -> Iterator[_Block]:
        """Yield all rows of one block across, and a row of the rest of the set."""
        place = self.region.place if along_x else self.region.transposed().place
        for part in _parts(held):
            rest = tuple(h - p for h, p in zip(held, part, strict=True))
            for first in map(_turned, self._blocks(part, stages, not along_x)):
                for second in self._blocks(rest, rest_stages, along_x):
                    joined = _joined(first, second)
                    if joined.along <= place.length and joined.across <= place.width:
                        yield joined

    def _single(self, held: PieceCounts, along_x: bool) -> Iterator[_Block]:
        item_type = self.item_types[held.index(1)]
        region = self.region if along_x else self.region.transposed()
        for item in region.items():
            if item.item_type == item_type:
                yield _Block(item.along, item.across, (Spot(item_type, 0, 0, item.turned),))


def _counts(region: Region, most: Sequence[int]) -> list[tuple[int, int]]:
    """Return the item types that fit, and how many pieces of each could share the sheet."""
    area = region.place.length * region.place.width
    fitting = {item.item_type: item.along * item.across for item in region.items()}
    return [
        (item_type, min(most[item_type], area // size))
        for item_type, size in sorted(fitting.items())
        if most[item_type] > 0
    ]


def _sets(most: Sequence[int]) -> list[PieceCounts]:
    return [held for held in product(*(range(count + 1) for count in most)) if any(held)]


def _parts(held: PieceCounts) -> Iterator[PieceCounts]:
    """Yield the real parts of a set with one of its first item type: the order of a row is free."""
    lowest = next(k for k, count in enumerate(held) if count)
    for part in product(*(range(count + 1) for count in held)):
        if part[lowest] and part != held:
            yield part


def _turned(block: _Block) -> _Block:
    return _Block(block.across, block.along, tuple(mirrored(block.spots)))


def _joined(first: _Block, second: _Block) -> _Block:
    moved = tuple(
        Spot(item_type, x + first.along, y, turned) for item_type, x, y, turned in second.spots
    )
    return _Block(first.along + second.along, max(first.across, second.across), first.spots + moved)


def _smallest(blocks: list[_Block]) -> list[_Block]:
    """Return the blocks inside which no other one fits, by rising length."""
    kept: list[_Block] = []
    for block in sorted(blocks, key=lambda b: (b.along, b.across, b.spots)):
        if not kept or block.across < kept[-1].across:
            kept.append(block)
    return kept
