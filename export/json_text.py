"""JSON that reads as text and shows no character that steers a display."""

from __future__ import annotations

import json

from export.visible_text import STEERS


def json_text(content: object, *, indent: int | None = None, sort_keys: bool = False) -> str:
    """Return the content as JSON; what steers a display is escaped, all else stands as it is.

    Without an indent it takes one line and no spaces.

    Raises:
        ValueError: a number is not finite.
    """
    separators = (",", ":") if indent is None else (",", ": ")
    text = json.dumps(
        content,
        indent=indent,
        sort_keys=sort_keys,
        separators=separators,
        ensure_ascii=False,
        allow_nan=False,
    )
    # Line ends stand between values only: inside texts they are escaped already.
    return STEERS.sub(lambda found: found[0] if found[0] == "\n" else _escape(found[0]), text)


def _escape(character: str) -> str:
    """Return the escape of one character; JSON has none of eight digits, but pairs of halves."""
    return json.dumps(character)[1:-1]
