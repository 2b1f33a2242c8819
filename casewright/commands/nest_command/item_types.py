"""Rows of a list as item types, which the search sees; and whose each piece is once it is nested.

Rows that differ in name, group or further columns alone are one item type: they are cut alike.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from nesting.answer.nest_answer import Dealt
from nesting.answer.solution import Layout
from nesting.question.instance import Piece, Turn

LONGEST_NAME = 40
"""Of a type, as it is written on a sheet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceRow:
    """A row of the list of pieces, sides in ticks. `asked` is without its `spare` pieces.

    `further` are the cells of columns that mean nothing to the nest.
    """

    line: int
    name: str
    length: int
    width: int
    turn: Turn
    asked: int
    spare: int = 0
    group: str = ""
    priority: int = 0
    further: tuple[str, ...] = ()

    @property
    def quantity(self) -> int:
        """Return how many are cut."""
        return self.asked + self.spare


class ItemType(NamedTuple):
    """A piece as the search sees it, and the rows that ask for it, groups kept together."""

    piece: Piece
    rows: tuple[PieceRow, ...]


def item_types(rows: Iterable[PieceRow]) -> tuple[ItemType, ...]:
    """Return the types in the order of their first rows."""
    listed = tuple(rows)
    alike: dict[tuple[int, int, Turn, int], list[PieceRow]] = {}
    groups: dict[str, int] = {}
    for row in listed:
        turn = Turn.FIXED if row.length == row.width else row.turn
        alike.setdefault((row.length, row.width, turn, row.priority), []).append(row)
        groups.setdefault(row.group, len(groups))
    taken: set[str] = set()
    types = []
    for members in alike.values():
        first = members[0]
        name = _name(members, taken)
        taken.add(name)
        shared = {row.group for row in members}
        piece = Piece(
            id=name,
            length=first.length,
            width=first.width,
            quantity=sum(row.quantity for row in members),
            turn=first.turn,
            group=first.group if len(shared) == 1 else "",
            priority=first.priority,
        )
        types.append(ItemType(piece, tuple(sorted(members, key=lambda row: groups[row.group]))))
    return tuple(types)


def dealt(types: Iterable[ItemType], layouts: Sequence[Layout]) -> list[list[tuple[Dealt, ...]]]:
    """Return for each layout, and each of its placements, whose pieces are cut there, run by run.

    Sheets are dealt out in the order of the layouts and their runs, so that the pieces of a group
    lie on as few sheets after each other as the nest allows; nothing is moved for it.
    """
    queues = {kind.piece.id: _Queue(kind.rows) for kind in types}
    return [_dealt_layout(layout, queues) for layout in layouts]


def _dealt_layout(layout: Layout, queues: Mapping[str, _Queue]) -> list[tuple[Dealt, ...]]:
    places: dict[str, list[int]] = {}
    for place, placement in enumerate(layout.placements):
        places.setdefault(placement.piece, []).append(place)
    found: list[tuple[Dealt, ...]] = [()] * len(layout.placements)
    for name, those in places.items():
        for place, shares in zip(those, queues[name].taken(len(those), layout.runs), strict=True):
            found[place] = tuple(shares)
    return found


class _Queue:
    """The rows of a type that still wait for pieces, first come, first served."""

    def __init__(self, rows: Iterable[PieceRow]) -> None:
        self._rows = [row for row in rows if row.quantity][::-1]
        self._left = self._rows[-1].quantity if self._rows else 0

    def taken(self, places: int, runs: int) -> list[list[Dealt]]:
        """Return whose pieces lie on the places of `runs` sheets that follow each other."""
        shares: list[list[Dealt]] = [[] for _ in range(places)]
        run = 1
        while run <= runs:
            # As many whole sheets as the first row fills are dealt in one go.
            sheets = min(runs - run + 1, self._left // places)
            if sheets:
                for share in shares:
                    _add(share, self._rows[-1], run, run + sheets - 1)
                self._take(sheets * places)
                run += sheets
                continue
            for share in shares:
                _add(share, self._rows[-1], run, run)
                self._take(1)
            run += 1
        return shares

    def _take(self, number: int) -> None:
        self._left -= number
        if not self._left:
            self._rows.pop()
            self._left = self._rows[-1].quantity if self._rows else 0


def _add(shares: list[Dealt], row: PieceRow, first: int, last: int) -> None:
    """Add the piece of a row on some runs, as a part of the share before if that is the same."""
    if shares and shares[-1].line == row.line:
        shares[-1] = shares[-1]._replace(last_run=last)
    else:
        shares.append(Dealt(first, last, row.name, row.group, row.line, row.further))


def _name(rows: Sequence[PieceRow], taken: set[str]) -> str:
    """Return a name for what is cut for all these rows, that no other type has."""
    names = list(dict.fromkeys(row.name for row in rows))
    name = " / ".join(names[:2])
    if len(names) > 2 or len(name) > LONGEST_NAME:
        more = f" and {len(names) - 1} more"
        name = names[0][: LONGEST_NAME - len(more)] + more if len(names) > 1 else names[0]
    if name in taken and rows[0].group:
        name = f"{name}, {rows[0].group}"
    number, free = 2, name
    while free in taken:
        free = f"{name} ({number})"
        number += 1
    return free
