"""Faults that no test notices and nobody would: each with its reason, in a table kept by hand."""

import csv
from pathlib import Path

TABLE = Path(__file__).parents[1] / "data" / "harmless_mutants.csv"
COLUMNS = ("file", "within", "before", "after", "reason")


def known_harmless(table: Path = TABLE) -> dict[tuple[str, str, str, str], str]:
    """Return the reasons by `Mutant.key`.

    Raises:
        ValueError: a row says no reason, or two rows are about one change.
    """
    reasons: dict[tuple[str, str, str, str], str] = {}
    with table.open(newline="", encoding="utf-8") as stream:
        for row in csv.DictReader(stream):
            key = (row["file"], row["within"], row["before"], row["after"])
            if not row["reason"] or key in reasons:
                raise ValueError(f"{table}: no reason, or twice: {key}")
            reasons[key] = row["reason"]
    return reasons
