"""The sets as models, one of each set and hand."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.entries.built import Built
from casewright.entries.entry import Rendered


def solids(built: Built) -> Iterator[Rendered]:
    """Yield the solids (STEP)."""
    for model in built.models:
        yield Rendered(
            name=model.name, content=model.step, set_name=model.set_name, hand=model.hand
        )


def views(built: Built) -> Iterator[Rendered]:
    """Yield the same to look at (GLB)."""
    for model in built.models:
        yield Rendered(name=model.name, content=model.glb, set_name=model.set_name, hand=model.hand)
