"""Looking up in a JSON Schema what it says at a key path."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from casewright.intake.document import KeyPath

JsonSchema = dict[str, Any]


def keys_at(root: JsonSchema, key_path: KeyPath) -> tuple[str, ...]:
    """Return the keys that a map at `key_path` may have, none where the schema lists none."""
    return tuple(
        key
        for option in _options(root, _schema_at(root, key_path))
        for key in option.get("properties", {})
    )


def meaning_at(root: JsonSchema, key_path: KeyPath) -> str:
    """Return the description of the value at `key_path`, without its full stop."""
    schema = _schema_at(root, key_path)
    texts = [schema.get("description")]
    texts += [option.get("description") for option in _options(root, schema)]
    return next((text for text in texts if text), "a value").removesuffix(".")


def _schema_at(root: JsonSchema, key_path: KeyPath) -> JsonSchema:
    schema = root
    for part in key_path:
        schema = _step(root, schema, part)
    return schema


def _step(root: JsonSchema, schema: JsonSchema, part: str | int) -> JsonSchema:
    for option in _options(root, schema):
        inner = option.get("items") if isinstance(part, int) else _entry(option, part)
        if isinstance(inner, dict):
            return inner
    return {}


def _entry(option: JsonSchema, key: str) -> JsonSchema | None:
    if key in option.get("properties", {}):
        return dict(option["properties"][key])
    patterns: JsonSchema = option.get("patternProperties", {})
    return next(iter(patterns.values()), None)


def _options(root: JsonSchema, schema: JsonSchema) -> Iterator[JsonSchema]:
    """Yield the schemas that a value may follow, with references resolved."""
    if "$ref" in schema:
        yield from _options(root, root["$defs"][schema["$ref"].removeprefix("#/$defs/")])
        return
    yield schema
    for choice in ("anyOf", "oneOf", "allOf"):
        for option in schema.get(choice, ()):
            yield from _options(root, option)
