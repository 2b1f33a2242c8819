"""The plain file beside the job in which it is kept what was cut again, and why."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path
from typing import NamedTuple

from casewright.errors import Fault, InputErrors, OutputFolderError
from casewright.intake.csv_table import Columns, CsvFile, read_rows
from casewright.output.one_file import write_file
from export.tables.csv_text import csv_text

_HEADER = ("part", "quantity", "reason", "from", "date")
_COLUMNS = Columns(needed=_HEADER[:-1], optional=_HEADER[-1:], texts=_HEADER)
_WHOLE = re.compile(r"[0-9]{1,9}")


class Kept(NamedTuple):
    """A row: which part, how many, why, from which stock, and the day if one was told."""

    part: str
    quantity: str
    reason: str
    stock: str
    date: str


def file_of(job: Path) -> Path:
    """Return where it is kept for a job file: beside it, and nowhere else.

    Raises:
        OutputFolderError: a link of that name leads out of the folder.
    """
    folder = job.parent.resolve()
    path = folder / f"{job.stem}-recuts.csv"
    if path.resolve().parent != folder:
        raise OutputFolderError(path, "is a link out of the job's folder; put a file there")
    return path


def kept_in(path: Path) -> tuple[Kept, ...]:
    """Return the rows that are kept so far; none where there is no file yet.

    Raises:
        InputErrors: what stands there is no such table.
    """
    if not path.exists():
        return ()
    faults: list[Fault] = []
    file = CsvFile(path, faults)
    rows = []
    for row in read_rows(file, _COLUMNS):
        quantity = row.cells["quantity"]
        if not _WHOLE.fullmatch(quantity):
            file.fault(row.line, "quantity", repr(quantity), "a whole number")
        rows.append(Kept(*(row.cells[name] for name in _HEADER)))
    if faults:
        raise InputErrors(tuple(faults))
    return tuple(rows)


def keep(path: Path, further: Iterable[Kept]) -> None:
    """Write the rows that are there, and further ones below them, in one step.

    Raises:
        InputErrors: what stands there is no such table.
        OutputFolderError: it cannot be written; it is as it was.
    """
    write_file(path, csv_text(_HEADER, (*kept_in(path), *further)).encode())
