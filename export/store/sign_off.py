"""The page on which a room is looked through and signed: what must be right, and what is not."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from export.papers.blocks import Beside, Cautions, Head, Page, Share, Table, Ticked
from export.papers.cautions import DEFERS
from export.papers.page_format import page_format
from export.papers.typesetting import Source, document
from export.store.measuring import SIGNED
from parametric.geometry.hand import Hand
from parametric.stock.paper import Paper

# Common practice, no source.
ALWAYS = (
    "No part is damaged, scratched or short",
    "Edges and corners are smooth to the hand; no screw tip shows",
    "Nothing moves when it is leaned on or sat on",
    "The room is clean; offcuts, shims and packing are gone",
    "Spares and touch-up are handed over",
)
_CAUTIONS = ("Nobody uses the furniture before its fixings were looked at.", DEFERS)
_SNAGS = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class SignOff:
    """The page of one room, with what its steps look at."""

    room: str
    set_name: str
    hand: Hand
    checks: tuple[str, ...]


def sign_off_source(job: str, rooms: Iterable[SignOff], paper: Paper) -> Source:
    """Return a page for each room."""
    return document(page_format(paper), job, map(_page, rooms))


def _page(room: SignOff) -> Page:
    return Page(
        blocks=(
            Head(
                title=f"Room {room.room}: looked through and signed",
                below=f"set {room.set_name}, {room.hand} hand",
                hand=room.hand,
            ),
            Ticked(title="To check", items=(*room.checks, *ALWAYS), columns=2),
            Table(
                heads=("no.", "what is not right, and where", "who puts it right", "done on"),
                widths=(12.0, Share(2.0), Share(), 28.0),
                rows=tuple((str(number), "", "", "") for number in range(1, _SNAGS + 1)),
                title="Snags",
                to_write=True,
            ),
            Beside(columns=((SIGNED,), (Cautions(_CAUTIONS),)), widths=(Share(), Share(1.4))),
        )
    )
