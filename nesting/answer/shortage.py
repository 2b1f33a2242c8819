"""What is short when the sheets on hand do not hold all pieces, and what would do."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Protocol

from nesting.question.errors import LimitedStock, NotEnoughStock, ShortageProof, ShortPiece
from nesting.question.instance import Instance, StockKind
from nesting.question.maximal_rectangles import Rectangle
from nesting.question.problem import ItemType, Problem, Room
from nesting.search.rectpack_start import Axis, Rule, Surface


def shortage(
    instance: Instance, problem: Problem, left: Mapping[int, int], proof: ShortageProof
) -> NotEnoughStock:
    """Return the error that tells which pieces are short and what to buy.

    `left` says how many pieces of each item type (by its index) the best answer left over. Remnants
    cannot be bought, so only limited stock of sheets is told.
    """
    short = {item_type: count for item_type, count in sorted(left.items()) if count > 0}
    return NotEnoughStock(
        short=tuple(
            ShortPiece(piece=instance.pieces[item_type].id, quantity=count)
            for item_type, count in short.items()
        ),
        stocks=tuple(
            LimitedStock(
                stock=stock.id,
                on_hand=stock.on_hand,
                more_needed=sheets_that_hold(problem, room, short),
            )
            for stock, room in zip(instance.stocks, problem.rooms, strict=True)
            if stock.on_hand is not None and stock.kind is StockKind.SHEET
        ),
        proof=proof,
    )


def sheets_that_hold(problem: Problem, room: Room, wanted: Mapping[int, int]) -> int | None:
    """Return a number of sheets that surely holds the wanted pieces; None if no number does.

    Sheets are filled one after the other, the largest pieces first, and each pattern is repeated
    as long as there are pieces for it, so that the work does not grow with the quantities.
    """
    item_types = sorted(
        (problem.item_types[index] for index, count in wanted.items() if count),
        key=lambda item_type: (-item_type.area, item_type.index),
    )
    if not all(item_type.fits(room) for item_type in item_types):
        return None
    left = {item_type.index: wanted[item_type.index] for item_type in item_types}
    sheets = 0
    while open_item_types := [item_type for item_type in item_types if left[item_type.index]]:
        filled = _filled(problem, room, open_item_types, left)
        runs = min(left[item_type] // count for item_type, count in filled.items())
        for item_type, count in filled.items():
            left[item_type] -= count * runs
        sheets += runs
    return sheets


def _filled(
    problem: Problem, room: Room, item_types: list[ItemType], left: Mapping[int, int]
) -> dict[int, int]:
    """Return how many of each item type one sheet takes; at least one of the first item type."""
    rim, region = next(_regions(room, item_types))
    sheet = replace(room, length=region.length, width=region.width)
    surface: _Sheet = (
        Surface(Rule.MAX_SHORT_SIDE, Axis.LENGTH, sheet)
        if problem.saw is None
        else _Strips(region.length, region.width)
    )
    filled = {}
    for item_type in item_types:
        count = 0
        while item_type.rim <= rim and count < left[item_type.index] and surface.place(item_type):
            count += 1
        if count:
            filled[item_type.index] = count
    return filled


def _regions(room: Room, item_types: list[ItemType]) -> Iterator[tuple[int, Rectangle]]:
    """Yield rectangles of the room that hold the first item type, with the distance from the rim
    that everything in them keeps: those for all item types first, then the largest.
    """
    first = item_types[0]
    for rim in sorted(
        {item_type.rim for item_type in item_types if item_type.rim >= first.rim}, reverse=True
    ):
        inner = sorted(
            (_clipped(free, room, rim) for free in room.free),
            key=lambda region: (-region.length * region.width, region),
        )
        for region in inner:
            whole = replace(room, length=region.length, width=region.width)
            empty = replace(whole, free=(Rectangle(0, 0, region.length, region.width),))
            if min(region.length, region.width) > 0 and replace(first, rim=0).fits(empty):
                yield rim, region


def _clipped(free: Rectangle, room: Room, rim: int) -> Rectangle:
    x0, y0 = max(free.x, rim), max(free.y, rim)
    x1 = min(free.x + free.length, room.length - rim)
    y1 = min(free.y + free.width, room.width - rim)
    return Rectangle(x0, y0, x1 - x0, y1 - y0)


class _Sheet(Protocol):
    def place(self, item_type: ItemType) -> bool:
        """Place one piece if it fits, and return whether it did."""


class _Strips:
    """An empty sheet that is ripped into strips and crosscut: two stages of cuts, as on a saw."""

    def __init__(self, length: int, width: int) -> None:
        self._length = length
        self._left = width
        self._strips: list[tuple[int, int]] = []  # the length still free, and the width

    def place(self, item_type: ItemType) -> bool:
        """Place one piece in the first strip that takes it, or in a new one."""
        turns = [(item_type.length, item_type.width)]
        if item_type.turnable:
            turns.append((item_type.width, item_type.length))
        for index, (free, width) in enumerate(self._strips):
            for along, across in turns:
                if along <= free and across <= width:
                    self._strips[index] = (free - along, width)
                    return True
        for along, across in turns:
            if along <= self._length and across <= self._left:
                self._left -= across
                self._strips.append((self._length - along, across))
                return True
        return False
