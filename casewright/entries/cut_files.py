"""The files for the router; none where failed findings keep them back."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.entries.built import Built
from casewright.entries.entry import Rendered


def sheets(built: Built) -> Iterator[Rendered]:
    """Yield a file for each different layout."""
    if built.shop is not None:
        for sheet in built.shop.sheets:
            yield Rendered(name=sheet.name, content=sheet.content)


def parts(built: Built) -> Iterator[Rendered]:
    """Yield a file for each operation of each part."""
    if built.shop is not None:
        for part in built.shop.parts:
            yield Rendered(
                name=part.name, content=part.content, part=part.part, operation=part.operation
            )
