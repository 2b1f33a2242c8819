"""The cuts of a layout in a few lines, to stand beside the map of its sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from nesting.edge_to_edge.books import LayoutBooks
from nesting.edge_to_edge.cuts import Cut, CutKind, CutSequence, Line
from nesting.question.ticks import to_mm
from parametric.stock.lengths import Units, show_cut_length, show_length

_WAY = {Line.ALONG: "along the sheet", Line.ACROSS: "across the sheet"}


def saw_lines(
    sequence: CutSequence, units: Units, books: LayoutBooks | None = None
) -> tuple[str, ...]:
    """Return the lines: totals, books where they are given, then the fence settings of each pass.

    Distances are from the fence to the blade, in the order they are set, with the pieces that are
    finished then. Example: `Stage 2 (crosscut), across the sheet: 400 mm 2 times (A, A); 300 mm`.
    """
    return (*_totals(sequence, units), *_books(books), *_passes(sequence, units))


def _totals(sequence: CutSequence, units: Units) -> Iterator[str]:
    yield (
        f"Saw: {_times(sequence.stages, 'stage')}, {_times(len(sequence.cuts), 'cut')}, "
        f"{_times(len(sequence.settings), 'fence setting')}, "
        f"blade {show_length(to_mm(sequence.kerf), units)}"
    )


def _books(books: LayoutBooks | None) -> Iterator[str]:
    if books is not None and books.sheets_at_once > 1:
        last = f", the last of {books.last_load}" if books.last_load < books.sheets_at_once else ""
        yield f"{books.sheets_at_once} sheets at once: {_times(books.loads, 'load')}{last}"


def _passes(sequence: CutSequence, units: Units) -> Iterator[str]:
    passes = groupby(
        sequence.settings, key=lambda cuts: (cuts[0].stage, cuts[0].kind, cuts[0].line)
    )
    for (stage, kind, line), settings in passes:
        shown = "; ".join(_setting(sequence, cuts, units) for cuts in settings)
        yield f"{_name(stage, kind)}, {_WAY[line]}: {shown}"


def _name(stage: int, kind: CutKind) -> str:
    if kind is CutKind.TRIM:
        return "Trim"
    return "To size" if kind is CutKind.SIZE else f"Stage {stage} ({kind})"


def _setting(sequence: CutSequence, cuts: Sequence[Cut], units: Units) -> str:
    count = f" {len(cuts)} times" if len(cuts) > 1 else ""
    pieces = [placement.piece for cut in cuts for placement in sequence.freed_by(cut)]
    freed = f" ({', '.join(pieces)})" if pieces else ""
    return f"{show_cut_length(cuts[0].distance_mm, units)}{count}{freed}"


def _times(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"
