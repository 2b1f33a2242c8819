"""Whether the articles that a job's kits name are articles of the job."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.errors import Fault
from casewright.intake.document import Document, shown
from casewright.intake.nearest import one_of
from parametric.kit.supplies import ADHESIVE, GLUE, PACKERS, SHIMS, TOUCH_UP, article_keys
from parametric.stock.construction import Construction

_AT = ("kit", "not_supplied")
_BOUGHT = ("kit", "bought")
_WALLS = ("walls",)


def kit_faults(document: Document, construction: Construction) -> Iterator[Fault]:
    """Yield a fault for each article that no kit of the construction holds, nor any wall takes."""
    listed = document.at(_AT)
    known = dict.fromkeys((*article_keys(construction), *_of_walls(document)))
    for at, name in enumerate(listed if isinstance(listed, list) else ()):
        if isinstance(name, str) and name not in known:
            allowed = one_of(known, name, what="articles")
            yield document.fault((*_AT, at), found=shown(name), allowed=allowed)
    fixings = (document.map_at((*_WALLS, wall, "fixings")) for wall in document.map_at(_WALLS))
    anchors = (name for fixing in fixings for name in fixing)
    unlisted = dict.fromkeys((ADHESIVE, GLUE, SHIMS, PACKERS, TOUCH_UP, *anchors))
    for name in document.map_at(_BOUGHT):
        if name not in unlisted:
            allowed = one_of(unlisted, str(name), what="articles that no library lists")
            yield document.fault((*_BOUGHT, name), found=shown(name), allowed=allowed)


def _of_walls(document: Document) -> Iterator[str]:
    """Yield the names of the fixings that walls take, by which kits know their anchors, and of the
    screws that are driven into them.
    """
    for wall in document.map_at(_WALLS):
        yield from map(str, document.map_at((*_WALLS, wall, "fixings")))
        yield from map(str, document.map_at((*_WALLS, wall, "screws")).values())
