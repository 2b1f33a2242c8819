"""All labels as a table, for the programs of label printers."""

from __future__ import annotations

from collections.abc import Iterable

from export.labels.content import Label
from export.tables.csv_text import csv_text

COLUMNS = (
    "kind",
    "number",
    "name",
    "quantity",
    "unit",
    "room",
    "piece",
    "size",
    "material",
    "layout",
    "run",
    "runs",
    "order",
    "grain",
    "bands",
    "second_operation",
    "notes",
    "code",
)

_FIELDS = {"code": "record"}
"""Of a label, where a column has another name."""


def labels_csv(labels: Iterable[Label]) -> str:
    """Return a row for each label, in the order of the papers; `code` is what its square code
    says.
    """
    fields = [_FIELDS.get(column, column) for column in COLUMNS]
    return csv_text(COLUMNS, ([getattr(label, field) for field in fields] for label in labels))
