"""Checking documents against the schema: whole files into located faults, pieces into entries."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TypeVar

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from casewright.errors import Fault
from casewright.intake.document import MOST_FAULTS, Absent, Document, KeyPath, shown
from casewright.intake.entry import LOCATED_ERROR, PATTERNS, Entry, length_context
from casewright.intake.job_schema import TAGS
from casewright.intake.likes import LIKE
from casewright.intake.nearest import one_of
from casewright.intake.schema_path import JsonSchema, keys_at, meaning_at
from casewright.intake.set_schema import HOLDS_UNITS, families_in
from parametric.stock.lengths import Units
from parametric.units.known_units import KNOWN_UNITS

EntryT = TypeVar("EntryT", bound=Entry)


def schema_faults(document: Document, schema: type[Entry], units: Units | None) -> list[Fault]:
    """Return everything in which the document departs from the schema.

    `units` is what its bare numbers count; with None lengths are checked for their form only.
    """
    try:
        schema.model_validate(document.data, context=length_context(units))
    except ValidationError as problem:
        published = _published(schema)
        faults = [(_key_path(detail, document), detail) for detail in problem.errors()]
        told = [each for each in faults if each[0] not in document.refused]
        listed = [
            _fault(document, published, key_path, detail) for key_path, detail in told[:MOST_FAULTS]
        ]
        if len(told) > MOST_FAULTS:
            found = f"{len(told) - MOST_FAULTS} more faults"
            listed.append(replace(listed[-1], key_path="", found=found, allowed="none"))
        return listed
    return []


def entry_at(
    document: Document, key_path: KeyPath, schema: type[EntryT], units: Units | None
) -> EntryT | None:
    """Return the entry at `key_path`, None if it departs from the schema or lacks units.

    Faults are left to `schema_faults`, which sees the whole file.
    """
    if units is None:
        return None
    try:
        return schema.model_validate(document.at(key_path), context=length_context(units))
    except ValidationError:
        return None


@cache
def _published(schema: type[Entry]) -> JsonSchema:
    return schema.model_json_schema()


def _key_path(detail: ErrorDetails, document: Document) -> KeyPath:
    """Return the path without the parts that the validator puts into it, and that are no keys."""
    path = detail["loc"]
    if path[1:2] and path[1] in TAGS.get(str(path[0]), ()):
        path = (path[0], *path[2:])
    in_units = path[:1] == ("sets",) and path[2:3] and path[2] in HOLDS_UNITS
    if in_units and path[4:5] and path[4] in KNOWN_UNITS:
        path = (*path[:4], *path[5:])  # the family that a unit was read as
    if detail["type"] in _FAMILY_FAULTS:
        return (*path, _FAMILY)
    return path[:-1] if _blames_a_name(detail, document) else path


def _blames_a_name(detail: ErrorDetails, document: Document) -> bool:
    """Return whether the name of an entry is to blame, and not what stands under it."""
    path = detail["loc"]
    return len(path) > 1 and path[-1] == _NAME_ITSELF and path not in document.places


def _fault(
    document: Document, published: JsonSchema, key_path: KeyPath, detail: ErrorDetails
) -> Fault:
    value = document.at(key_path)
    match detail["type"]:
        case "missing":
            found, allowed = (
                "nothing",
                f"{meaning_at(published, key_path, document.data)} (must be given)",
            )
        case "extra_forbidden":
            known = keys_at(published, key_path[:-1], document.data)
            known = (*known, LIKE) if key_path[:1] == ("sets",) and len(key_path) == 3 else known
            found = "an unknown key"
            allowed = one_of(known, str(key_path[-1]), what="keys")
        case str(kind) if kind == LOCATED_ERROR:
            found, allowed = detail["ctx"]["found"], detail["ctx"]["allowed"]
        case _ if _blames_a_name(detail, document):
            name = key_path[-1]
            found, allowed = f"the name {shown(name)}", PATTERNS[detail["ctx"]["pattern"]]
        case kind if kind in _FAMILY_FAULTS:
            found = shown(value)
            told = " (must be given)" if value is Absent else ""
            allowed = f"one of {', '.join(families_in(str(key_path[2])))}{told}"
        case "string_pattern_mismatch":
            found, allowed = shown(value), PATTERNS[detail["ctx"]["pattern"]]
        case kind:
            found, allowed = shown(value), _ALLOWED.get(kind) or _in_words(detail["msg"])
    return document.fault(key_path, found=found, allowed=allowed)


_FAMILY = "family"
_FAMILY_FAULTS = ("union_tag_not_found", "union_tag_invalid")
_NAME_ITSELF = "[key]"  # ends the validator's paths to a name

_ALLOWED = {
    "dict_type": "a map of keys and values",
    "model_type": "a map of keys and values",
    "model_attributes_type": "a map of keys and values",
    "tuple_type": "a list",
    "list_type": "a list",
    "string_type": "a text, in quotes if it looks like a number",
    "float_type": "a number",
    "int_type": "a whole number",
    "finite_number": "a finite number",
    "too_short": "at least one entry",
    "string_too_short": "a text that is not empty",
    "string_unicode": "a text of characters that can be written",
}


def _in_words(message: str) -> str:
    return message.removeprefix("Input should be ").removeprefix("String should ")
