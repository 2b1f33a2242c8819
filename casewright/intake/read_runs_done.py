"""A list of sheets that are cut already: a CSV file with the columns `layout` and `runs`."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from casewright.errors import Fault, InputErrors
from casewright.intake.csv_table import Columns, CsvFile, number_in, read_rows
from casewright.intake.document import shown
from casewright.intake.nearest import one_of

LAYOUT, RUNS = "layout", "runs"
_READ = Columns(needed=(LAYOUT, RUNS), texts=(LAYOUT,))


def read_runs_done(path: Path, runs: Mapping[str, int]) -> dict[str, int]:
    """Return how many runs are done of each layout; `runs` are those of all there are, by file.

    Raises:
        InputErrors: the file cannot be used; all its faults.
    """
    faults: list[Fault] = []
    file = CsvFile(path, faults)
    done: dict[str, int] = {}
    for line, cells, *_ in read_rows(file, _READ):
        if file.given_up:
            break
        layout, count = cells[LAYOUT], number_in(cells[RUNS])
        if layout not in runs:
            file.fault(line, LAYOUT, shown(layout), one_of(runs, layout, what="layouts"))
        elif layout in done:
            file.fault(line, LAYOUT, f"{shown(layout)} again", "each layout once")
        elif count is None or count != int(count) or not 0 <= count <= runs[layout]:
            allowed = f"a whole number from 0 to {runs[layout]}, the runs of this layout"
            file.fault(line, RUNS, shown(cells[RUNS]), allowed)
        else:
            done[layout] = int(count)
    if faults:
        raise InputErrors(tuple(faults))
    return done
