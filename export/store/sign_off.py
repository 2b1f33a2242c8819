"""The page on which a room is looked through and signed: what must be right, and what is not."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from export.papers.blocks import Beside, Cautions, Head, Page, Row, Share, Table
from export.papers.cautions import DEFERS
from export.papers.page_format import page_format
from export.papers.typesetting import Source, document
from parametric.geometry.hand import Hand
from parametric.geometry.outline import Bounds
from parametric.stock.paper import Paper

# Common practice, no source.
ALWAYS = (
    "No part is damaged, scratched or short",
    "Edges and corners are smooth to the hand; no screw tip shows",
    "Nothing moves when it is leaned on or sat on",
    "The room is clean; spare shims, offcuts and wrapping are taken away",
    "Spares and touch-up are handed over",
)
_CAUTIONS = ("Nobody uses the furniture before its fixings were looked at.", DEFERS)
_SNAGS = (2, 5)  # rows for what is not right, as many as the page has room for
_SNAG_MM = 5.8
_REST_MM = 83.0  # head, signature, cautions, heads of tables
_PIECE_MM, _NAME = 17.0, 9  # the width of what a check is about, and characters of a line of it
_LINE, _LINE_MM, _ROW_MM = 53, 3.4, 0.8  # characters of a line; its height, that between rows


@dataclass(frozen=True, slots=True)
class PieceChecks:
    """What is checked of a piece, or of several."""

    piece: str
    checks: tuple[str, ...]


_SIGNED = Table(
    heads=("name and signature", "date"),
    widths=(Share(), 24.0),
    rows=(("", ""),),
    to_write=True,
)
_ALWAYS = PieceChecks("the whole room", ALWAYS)


@dataclass(frozen=True, slots=True, kw_only=True)
class SignOff:
    """The page of one room, with what its steps look at, piece by piece, and what its units
    cover of the floor."""

    room: str
    set_name: str
    hand: Hand
    checks: tuple[PieceChecks, ...]
    stands: tuple[Bounds, ...] = ()


def sign_off_source(job: str, rooms: Iterable[SignOff], paper: Paper) -> Source:
    """Return a page for each room."""
    format_ = page_format(paper)
    return document(format_, job, (_page(room, format_.text_height_mm) for room in rooms))


def _page(room: SignOff, height_mm: float) -> Page:
    rows = tuple((each.piece, check) for each in (*room.checks, _ALWAYS) for check in each.checks)
    columns = _columns(rows)
    left_mm = height_mm - _REST_MM - max(map(_height, columns))
    snags = min(max(int(left_mm / _SNAG_MM), _SNAGS[0]), _SNAGS[1])
    return Page(
        blocks=(
            Head(
                title=f"Room {room.room}: looked through and signed",
                below=f"set {room.set_name}, {room.hand} hand",
                hand=room.hand,
                stands=room.stands,
            ),
            Beside(
                columns=tuple((_table(each),) for each in columns),
                widths=(Share(), Share()),
                gap_mm=2.0,
            ),
            Table(
                heads=("no.", "what is not right, and where", "who puts it right", "done on"),
                widths=(12.0, Share(2.0), Share(), 28.0),
                rows=tuple((str(number), "", "", "") for number in range(1, snags + 1)),
                title="Snags",
                to_write=True,
            ),
            Beside(columns=((_SIGNED,), (Cautions(_CAUTIONS),)), widths=(Share(), Share(1.4))),
        )
    )


def _columns(rows: Sequence[Row]) -> tuple[Sequence[Row], ...]:
    """Return the rows in two columns about as high."""
    split = min(range(1, len(rows) + 1), key=lambda at: max(_height(rows[:at]), _height(rows[at:])))
    return tuple(part for part in (rows[:split], rows[split:]) if part)


def _height(rows: Sequence[Row]) -> float:
    return math.fsum(
        max(math.ceil(len(piece) / _NAME), math.ceil(len(check) / _LINE)) * _LINE_MM + _ROW_MM
        for piece, check in _named_once(rows)
    )


def _table(rows: Sequence[Row]) -> Table:
    """Return a row for each check with a box to tick."""
    return Table(
        heads=("piece", "to check"),
        widths=(_PIECE_MM, Share()),
        rows=tuple((piece, f"☐ {check}") for piece, check in _named_once(rows)),
        small=True,
    )


def _named_once(rows: Sequence[Row]) -> Iterator[Row]:
    """Yield the rows, the name of a piece only in the first of its own."""
    last = ""
    for piece, check in rows:
        yield ("" if piece == last else piece, check)
        last = piece
