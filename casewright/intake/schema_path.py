"""Looking up in a JSON Schema what it says at a key path of a document."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from casewright.intake.document import KeyPath

JsonSchema = dict[str, Any]


def keys_at(root: JsonSchema, key_path: KeyPath, data: object) -> tuple[str, ...]:
    """Return the keys that the map at `key_path` of `data` may have, none where the schema lists
    none.
    """
    schema, value = _found(root, key_path, data)
    return tuple(
        key for option in _options(root, schema, value) for key in option.get("properties", {})
    )


def meaning_at(root: JsonSchema, key_path: KeyPath, data: object) -> str:
    """Return the description of the value at `key_path` of `data`, without its full stop."""
    schema, value = _found(root, key_path, data)
    texts = [schema.get("description")]
    texts += [option.get("description") for option in _options(root, schema, value)]
    return next((text for text in texts if text), "a value").removesuffix(".")


def _found(root: JsonSchema, key_path: KeyPath, data: object) -> tuple[JsonSchema, object]:
    """Return the schema of the value at `key_path`, and that value, None if there is none."""
    schema, value = root, data
    for part in key_path:
        schema, value = _step(root, schema, part, value), _inside(value, part)
    return schema, value


def _step(root: JsonSchema, schema: JsonSchema, part: str | int, value: object) -> JsonSchema:
    for option in _options(root, schema, value):
        inner = option.get("items") if isinstance(part, int) else _entry(option, part)
        if isinstance(inner, dict):
            return inner
    return {}


def _inside(value: object, part: str | int) -> object:
    if isinstance(value, dict):
        return value.get(part)
    if isinstance(value, list) and isinstance(part, int) and part < len(value):
        return value[part]
    return None


def _entry(option: JsonSchema, key: str) -> JsonSchema | None:
    if key in option.get("properties", {}):
        return dict(option["properties"][key])
    patterns: JsonSchema = option.get("patternProperties", {})
    return next(iter(patterns.values()), None)


def _options(root: JsonSchema, schema: JsonSchema, value: object) -> Iterator[JsonSchema]:
    """Yield the schemas that a value may follow, with references resolved; the one that it asks for
    where a key of it tells.
    """
    if "$ref" in schema:
        yield from _options(root, root["$defs"][schema["$ref"].removeprefix("#/$defs/")], value)
        return
    yield schema
    told = _told(schema, value)
    for choice in ("anyOf", "oneOf", "allOf"):
        for option in schema.get(choice, ()):
            if told is None or option.get("$ref") == told:
                yield from _options(root, option, value)


def _told(schema: JsonSchema, value: object) -> str | None:
    """Return the reference of the option that a value asks for by one of its keys."""
    discriminator = schema.get("discriminator")
    if discriminator is None or not isinstance(value, dict):
        return None
    key = value.get(discriminator["propertyName"])
    return discriminator["mapping"].get(key) if isinstance(key, str) else None
