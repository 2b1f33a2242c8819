"""One value of a job file set to another, whether the file says it, another set does, or nobody."""

from __future__ import annotations

from pathlib import Path

from casewright.errors import Fault, InputErrors
from casewright.intake.document import Absent, Document, KeyPath
from casewright.intake.likes import LIKE
from casewright.intake.read_document import document_of
from casewright.intake.write_back import REMOVED, Added, Change, written_back
from casewright.intake.write_value import Value


def changed_text(path: Path, text: str, keys: KeyPath, value: Value) -> str:
    """Return the text with one value changed, or removed with None; `path` is told in faults.

    What the text does not say yet is added, with the maps that hold it. Where a set takes a value
    over from the one that it is like, None takes it away in this set alone.

    Raises:
        InputErrors: the text cannot be read, or the value cannot be written there.
    """
    faults: list[Fault] = []
    document = document_of(path, text, faults)
    if document is None or faults:
        raise InputErrors(tuple(faults))
    at, change = _change(document, keys, value)
    return written_back(path, text, {at: change})


def _change(document: Document, keys: KeyPath, value: Value) -> tuple[KeyPath, Change]:
    """Return the change as the text takes it, and where."""
    if document.at(keys) is not Absent:
        return keys, REMOVED if value is None else value
    if value is None and LIKE not in document.map_at(keys[:2]):
        return keys, REMOVED  # of nothing, which is refused
    at = keys
    while document.at(at[:-1]) is Absent:
        value, at = {str(at[-1]): value}, at[:-1]
    return at, Added(value)
