"""The room pages and the store's pick list, each one document for the whole job."""

from __future__ import annotations

import io
from collections.abc import Sequence

import segno

from export.site.content import PickList, RoomPage
from export.site.installation import KIT_COLUMNS, KIT_HEADS
from export.site.source import (
    DEFERS,
    WALLS,
    Source,
    array,
    cautions,
    document,
    head,
    quoted,
    table,
    together,
)
from parametric.stock.paper import Paper

MARK_HEADS = ("step", "what", "in this room", "on the set's sheets")
MARK_COLUMNS = "(12mm, 1fr, 1fr, 1fr)"
UNMEASURED = (
    "Not measured: nobody knows whether the set goes into this room. Measure the openings before"
    " anything is fixed."
)


def rooms_source(job: str, rooms: Sequence[RoomPage], paper: Paper) -> Source:
    """Return one page for each room, with its record as a square code (ISO/IEC 18004)."""
    pictures = [(f"room-{index}.svg", code_svg(each.record)) for index, each in enumerate(rooms)]
    pages = [_page(each, name) for each, (name, _) in zip(rooms, pictures, strict=True)]
    return document(paper, job, pages, pictures)


def code_svg(text: str) -> str:
    """Return the text as a square code (ISO/IEC 18004), error correction level M."""
    made = io.BytesIO()
    code = segno.make(text, error="m", micro=False)
    code.save(made, kind="svg", xmldecl=False, omitsize=True, border=4)
    return made.getvalue().decode()


def pick_list_source(picks: PickList, paper: Paper) -> Source:
    """Return the pick list: for each set and hand, what goes into one box and into all of them."""
    pages = [
        f"#named({quoted(f'{name}: {rooms} boxes' if rooms != 1 else f'{name}: 1 box')}, "
        + table(("in a box", "in all", "article"), "(24mm, 28mm, 1fr)", rows).lstrip("#")
        + ")"
        for name, rooms, rows in picks.sets
        if rows
    ]
    title = f"#text(size: 15pt, weight: {quoted('bold')}, {quoted('Pick list')})"
    plans = "#grid(columns: (auto, auto), column-gutter: 6mm, " + ", ".join(
        f"image({quoted(f'hand-{hand}.svg')}, width: 24mm)" for hand in ("left", "right")
    )
    return document(paper, picks.job, ["\n".join((title, plans + ")", *pages))], ())


def _page(room: RoomPage, code: str) -> str:
    facts = table(("what", "where", "length"), "(38mm, 1fr, 34mm)", room.facts, "In this room")
    unknown = f"#lines({quoted('Not measured: measure before you start')}, {array(room.unknown)})"
    refused = cautions((f"The set does not go into this room: {room.refusal}",))
    marks = table(MARK_HEADS, MARK_COLUMNS, room.marks, "Distances from the corner, in this room")
    below = f"set {room.set_name}, {room.hand} hand, {room.effort}"
    return "\n".join(
        (
            head(f"Room {room.room}", below, room.hand, code),
            refused if room.refusal else "",
            "" if room.measured else cautions((UNMEASURED,)),
            facts,
            marks,
            unknown,
            together(
                table(KIT_HEADS, KIT_COLUMNS, room.kit, f"Kit of room {room.room}"),
                cautions((WALLS, DEFERS)),
            ),
        )
    )
