"""Revisions of papers: told by what stands in them, not by a date."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable

_DIGITS = 8


def revision_of(contents: Iterable[bytes]) -> str:
    """Return a short digest of the contents: the same ones bear the same revision."""
    digest = hashlib.sha256()
    for content in contents:
        digest.update(content + b"\0")
    return digest.hexdigest()[:_DIGITS]
