"""The cuts of each layout on a panel saw, one line for each cut in the order they are made."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from export.tables.csv_text import csv_text, cut_size, exact_mm
from nesting.edge_to_edge.cuts import Board, Cut, CutSequence, Fate
from nesting.question.ticks import to_mm
from parametric.stock.lengths import Units, show_cut_length

COLUMNS = (
    "layout",
    "stock",
    "cut",
    "fence_setting",
    "stage",
    "kind",
    "line",
    "board",
    "board_length_mm",
    "board_width_mm",
    "distance_mm",
    "blade_mm",
    "taken_off",
    "rest",
    "frees",
    "board_size",
    "distance",
)

_SHEET = "sheet"


def saw_cuts_csv(sequences: Iterable[CutSequence], units: Units) -> str:
    """Return the cuts of all layouts as CSV; layouts count from 1 in the order given.

    `distance_mm` is from the board's left or lower edge, at the fence, to the blade; `blade_mm` is
    what the blade turns to dust. `stage` is 0 for the trim. Boards are named by their number, the
    whole sheet by that word. The last two columns are in the job's units.
    """
    return csv_text(
        COLUMNS,
        (
            row
            for layout, sequence in enumerate(sequences, start=1)
            for row in _rows(layout, sequence, units)
        ),
    )


def _rows(layout: int, sequence: CutSequence, units: Units) -> Iterator[tuple[object, ...]]:
    for setting, cuts in enumerate(sequence.settings, start=1):
        for cut in cuts:
            board = sequence.boards[cut.board]
            length_mm, width_mm = to_mm(board.length), to_mm(board.width)
            yield (
                layout,
                sequence.stock,
                cut.number,
                setting,
                cut.stage,
                cut.kind,
                cut.line,
                board.number if board.number else _SHEET,
                exact_mm(board.length),
                exact_mm(board.width),
                exact_mm(cut.distance),
                exact_mm(cut.dust),
                _side(sequence, cut.taken),
                _side(sequence, cut.rest),
                _pieces(sequence, cut),
                cut_size(length_mm, width_mm, units),
                show_cut_length(cut.distance_mm, units),
            )


def _side(sequence: CutSequence, number: int | None) -> str:
    return _what(sequence.boards[number]) if number is not None else "nothing"


def _what(board: Board) -> str:
    if board.fate is Fate.PIECE:
        return f"piece {board.holds[0].piece}"
    if board.fate is Fate.CUT:
        return f"board {board.number}"
    return f"offcut {board.number}" if board.fate is Fate.OFFCUT else "waste"


def _pieces(sequence: CutSequence, cut: Cut) -> str:
    return "; ".join(placement.piece for placement in sequence.freed_by(cut))
