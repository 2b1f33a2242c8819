"""Values that are fine alone and do not go together."""

from __future__ import annotations

from typing import NamedTuple

from casewright.errors import Fault
from casewright.intake.document import Document, KeyPath


class Misfit(NamedTuple):
    """A value that does not go with others: its keys below the entry that was checked."""

    keys: tuple[str, ...]
    found: str
    allowed: str

    def located(self, document: Document, entry: KeyPath) -> Fault:
        """Return the fault in the document where the entry stands."""
        return document.fault((*entry, *self.keys), found=self.found, allowed=self.allowed)
