"""CSV text and the numbers in it: a dot for the decimal mark, a fixed number of decimals."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Sequence

from export.tables.csv_cell import Figure, cell_text, read_cell
from nesting.question.ticks import to_mm
from parametric.stock.lengths import Units, show_cut_length, show_length


def csv_text(header: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Return a table as CSV, one line for the header and for each row, lines ended by a newline.

    Texts stay texts in a spreadsheet; `csv_cell` says how, and how a program undoes it.

    Raises:
        ValueError: a row has not as many cells as the header.
    """
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(header)
    for row in rows:
        if len(row) != len(header):
            raise ValueError(f"a row of {len(row)} cells under a header of {len(header)}")
        writer.writerow(map(cell_text, row))
    return stream.getvalue()


def csv_rows(text: str) -> Iterator[dict[str, str]]:
    """Yield the rows of a table that `csv_text` made, by column, texts as they were given."""
    for row in csv.DictReader(io.StringIO(text, newline="")):
        yield {column: read_cell(cell) for column, cell in row.items()}


def fixed(value: float, decimals: int = 3) -> Figure:
    """Return a number with that many decimals, never minus zero."""
    return Figure(f"{round(value, decimals) + 0.0:.{decimals}f}")


def exact_mm(ticks: int) -> Figure:
    """Return a length of the nest in millimetres with all its decimals, three at least."""
    return all_decimals(to_mm(ticks))


def all_decimals(mm: float) -> Figure:
    """Return millimetres to the millionth, with three decimals at least: 1/64 in is 0.396875."""
    whole, _, decimals = f"{mm + 0.0:.6f}".partition(".")
    return Figure(f"{whole}.{decimals.rstrip('0'):0<3}")


def shown_size(length_mm: float, width_mm: float, units: Units) -> str:
    """Return length by width of what is bought or kept, in the job's units, as a tape has it."""
    return f"{show_length(length_mm, units)} x {show_length(width_mm, units)}"


def cut_size(length_mm: float, width_mm: float, units: Units) -> str:
    """Return length by width of a part, as its drawing tells them, in the job's units."""
    return f"{show_cut_length(length_mm, units)} x {show_cut_length(width_mm, units)}"
