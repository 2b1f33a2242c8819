"""Changes of a job's or a library's values, written into the text of the file where they stand.

Nothing else of the text changes: comments, order, quotes and the way a person writes lengths stay.
A comment behind a value that is removed, or inside it, goes with it. Whatever was written is read
again, and must be the change and nothing else.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from pathlib import Path
from typing import Any, cast

from casewright.errors import Fault, InputErrors
from casewright.intake.catalogue import units_of
from casewright.intake.document import Absent, Document, KeyPath, shown
from casewright.intake.nearest import one_of
from casewright.intake.read_document import document_of
from casewright.intake.source_nodes import Style, source_of
from casewright.intake.text_edits import added, removed, replaced
from casewright.intake.write_value import Length, Value, Writing
from parametric.geometry.space import SAME_MM
from parametric.stock.lengths import LengthError, Sign, Units, exact_length


class Removed(Enum):
    """That a key or an item goes."""

    REMOVED = "removed"


@dataclass(frozen=True, slots=True)
class Added:
    """A value for a key that is not there yet, or for the item behind the last of a list."""

    value: Value


REMOVED = Removed.REMOVED
Change = Value | Added | Removed


def written_back(
    path: Path, text: str, changes: Mapping[KeyPath, Change], units: Units = Units.MM
) -> str:
    """Return the text with the changes, made one after the other; `path` is told in faults.

    A plain value takes the place of the one that is there, in that one's form. Bare lengths count
    in the file's `units`, or those given where it names none. What reads as the same already is
    left as it is written.

    Raises:
        InputErrors: the text cannot be read; a key is not there, or is there already; a value
            cannot be written in its place without changing something else.
    """
    for key_path, change in changes.items():
        text = _changed(_read(path, text), text, key_path, change, units)
    return text


def _changed(document: Document, text: str, key_path: KeyPath, change: Change, units: Units) -> str:
    """Return the text with one change.

    Raises:
        InputErrors: it cannot be made.
    """
    units = units_of(document) or units
    _refuse_what_is_not_there(document, key_path, change)
    if not isinstance(change, Added | Removed) and _same(document.at(key_path), change, units):
        return text
    try:
        made = _edited(document, text, key_path, change, units)
    except LengthError as error:
        raise _refused(document, key_path, error.found, error.allowed) from None
    except ValueError as error:
        raise _refused(document, key_path, str(error), "a number") from None
    wanted = _with(document.data, key_path, change)
    faults: list[Fault] = []
    again = None if made is None else document_of(document.path, made, faults)
    if made is None or again is None or faults or not _same(again.data, wanted, units):
        found = f"{shown(document.at(key_path))}, in a place where nothing can be written"
        raise _refused(document, key_path, found, "changes of single values, or by hand")
    return made


def _read(path: Path, text: str) -> Document:
    faults: list[Fault] = []
    document = document_of(path, text, faults)
    if document is None or faults:
        raise InputErrors(tuple(faults))
    return document


def _refused(document: Document, key_path: KeyPath, found: str, allowed: str) -> InputErrors:
    return InputErrors((document.fault(key_path, found=found, allowed=allowed),))


def _refuse_what_is_not_there(document: Document, key_path: KeyPath, change: Change) -> None:
    """Refuse a path that leads nowhere, and a new entry where one is already.

    Raises:
        InputErrors: it is so.
    """
    there = document.at(key_path) is not Absent
    if isinstance(change, Added):
        if there:
            found = shown(document.at(key_path))
            raise _refused(document, key_path, found, "a key that is not there yet")
        holder = document.at(key_path[:-1])
        if _takes(holder, key_path[-1]):
            return
    elif there and key_path:
        return
    known, missing = key_path, ""
    while known and document.at(known) is Absent:
        known, missing = known[:-1], str(known[-1])
    keys = one_of(document.map_at(known), missing, what="keys there")
    raise _refused(document, key_path, "nothing", keys)


def _takes(holder: object, key: str | int) -> bool:
    """Return whether a value can get an entry of that key: it holds such entries, or nothing."""
    if isinstance(holder, list):
        return key == len(holder)
    return isinstance(key, str) and (holder is None or isinstance(holder, dict))


def _edited(
    document: Document, text: str, key_path: KeyPath, change: Change, units: Units
) -> str | None:
    """Return the text with the change, None where it has no place to stand.

    Raises:
        LengthError: a length is out of all bounds.
        ValueError: a number is not finite.
    """
    top = source_of(text)
    if isinstance(change, Removed):
        return removed(text, top, key_path)
    if isinstance(change, Added):
        return added(text, top, key_path, change.value, units)
    node = top.at(key_path)
    if node is None or node.in_block:
        return None
    found = document.at(key_path)
    like = found if isinstance(found, str) else text[node.start : node.end]
    style = node.style if node.style in (Style.SINGLE, Style.DOUBLE) else Style.PLAIN
    writing = Writing(units=units, style=style)
    return replaced(text, node, writing.value(change, like if _is_length(like, units) else ""))


def _is_length(text: str, units: Units) -> bool:
    try:
        exact_length(text, units, Sign.ANY)
    except LengthError:
        return False
    return True


def _with(data: object, key_path: KeyPath, change: Change) -> object:
    """Return what a file holds with the change; lengths in it are `Length`."""
    key, *below = key_path
    copy: Any = list(data) if isinstance(data, list) else dict(cast("Any", data or {}))
    if below:
        copy[key] = _with(copy[key], tuple(below), change)
    elif isinstance(change, Removed):
        del copy[key]
    elif isinstance(copy, list) and isinstance(change, Added):
        copy.append(change.value)
    else:
        copy[key] = change.value if isinstance(change, Added) else change
    return copy


def _same(found: object, wanted: object, units: Units) -> bool:
    """Return whether a value as it was read is the one that is wanted."""
    match wanted:
        case Length():
            return _is_as_long(found, wanted, units)
        case Mapping():
            return (
                isinstance(found, dict)
                and found.keys() == wanted.keys()
                and all(_same(found[key], each, units) for key, each in wanted.items())
            )
        case list() | tuple():
            return (
                isinstance(found, list)
                and len(found) == len(wanted)
                and all(_same(a, b, units) for a, b in zip(found, wanted, strict=True))
            )
        case bool() | None:
            return found is wanted
        case _:
            return not isinstance(found, bool) and found == wanted


def _is_as_long(found: object, wanted: Length, units: Units) -> bool:
    if isinstance(found, bool) or not isinstance(found, str | int | float):
        return False
    try:
        length_mm = exact_length(found, units, Sign.ANY)
    except LengthError:
        return False
    return math.isfinite(wanted.mm) and abs(length_mm - Fraction(wanted.mm)) <= SAME_MM
