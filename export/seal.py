"""A seal on the manifest, so that this program knows its own again and sees whether it was edited.

It keeps nobody from forging one; it tells an output of this program from anything else, so that
nothing else is ever replaced.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any

from export.json_text import json_text

WRITTEN_BY = "written_by"
PROGRAM = "casewright"
SEAL = "seal"


def sealed_json(content: Mapping[str, Any]) -> str:
    """Return the content as JSON with who wrote it and a seal: the SHA-256 of all the rest.

    Keys are sorted, lines indented by 2, a newline at the end.

    Raises:
        ValueError: a number is not finite.
    """
    signed = dict(content) | {WRITTEN_BY: PROGRAM}
    return _json(signed | {SEAL: _seal(signed)})


def unsealed(text: bytes) -> dict[str, Any] | None:
    """Return the content of a text that `sealed_json` made; None for any other text."""
    try:
        content = json.loads(text)
        signed = dict(content)
        seal = signed.pop(SEAL)
        whole = signed[WRITTEN_BY] == PROGRAM and seal == _seal(signed)
        return signed if whole and _json(content).encode() == text else None
    except (ValueError, TypeError, KeyError, RecursionError):
        return None


def _seal(content: Mapping[str, Any]) -> str:
    return hashlib.sha256(_json(content).encode()).hexdigest()


def _json(content: Mapping[str, Any]) -> str:
    return json_text(content, indent=2, sort_keys=True) + "\n"
