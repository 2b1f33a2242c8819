"""A kit list that somebody sent: a CSV file with the columns `article` and `quantity`."""

from __future__ import annotations

from pathlib import Path

from casewright.errors import Fault, InputErrors
from casewright.intake.csv_table import Columns, CsvFile, number_in, read_rows
from casewright.intake.document import shown

ARTICLE, QUANTITY = "article", "quantity"
MOST_OF_AN_ARTICLE = 1_000_000_000
_READ = Columns(needed=(ARTICLE, QUANTITY), optional=("description",), texts=(ARTICLE,))


def read_kit_list(path: Path) -> dict[str, float]:
    """Return the quantity of each article; an article in several rows counts with all of them.

    Raises:
        InputErrors: the file cannot be used; all its faults.
    """
    faults: list[Fault] = []
    file = CsvFile(path, faults)
    listed: dict[str, float] = {}
    for line, cells, *_ in read_rows(file, _READ):
        if file.given_up:
            break
        article, quantity = cells[ARTICLE], _quantity(cells[QUANTITY])
        if not article:
            file.fault(line, ARTICLE, "nothing", "an article")
        elif quantity is None:
            file.fault(
                line, QUANTITY, shown(cells[QUANTITY]), f"a number from 0 to {MOST_OF_AN_ARTICLE}"
            )
        else:
            listed[article] = listed.get(article, 0.0) + quantity
    if faults:
        raise InputErrors(tuple(faults))
    return listed


def _quantity(text: str) -> float | None:
    quantity = number_in(text)
    return quantity if quantity is not None and 0 <= quantity <= MOST_OF_AN_ARTICLE else None
