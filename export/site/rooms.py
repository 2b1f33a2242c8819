"""The room pages and the store's pick list, each one document for the whole job."""

from __future__ import annotations

from collections.abc import Sequence

from export.papers.blocks import (
    Beside,
    Block,
    Cautions,
    Head,
    Named,
    Page,
    Row,
    Share,
    Table,
    Ticked,
    Whole,
    Width,
)
from export.papers.cautions import DEFERS, WALLS
from export.papers.page_format import page_format
from export.papers.square_code import code_svg
from export.papers.typesetting import Source, document
from export.site.content import PickList, RoomPage
from parametric.stock.paper import Paper

MARK_HEADS = ("step", "what", "in this room", "on the sheets")
MARK_WIDTHS: tuple[Width, ...] = (11.0, Share(3.1), Share(), Share())
_KIT_HEADS: Row = ("packed", "spare", "article")
_KIT_WIDTHS: tuple[Width, ...] = (16.0, 13.0, Share())
_ONE_BOX = "one box for each room; long and heavy steel lies loose, and is on the packing list"
STOP = (
    "No wood behind a screw of this room: hang and fix nothing there until there is. Stop, and ask"
    " whoever answers for the wall."
)
UNMEASURED = (
    "Not measured: nobody knows whether the set goes into this room. Measure the openings before"
    " anything is fixed."
)


def rooms_source(job: str, rooms: Sequence[RoomPage], paper: Paper) -> Source:
    """Return one page for each room, with its record as a square code (ISO/IEC 18004)."""
    return document(page_format(paper), job, map(_page, rooms))


def pick_list_source(picks: PickList, paper: Paper) -> Source:
    """Return the pick list: for each set and hand, what goes into one box and into all of them."""
    blocks: list[Block] = [Head(title="Pick list", below=_ONE_BOX)]
    for name, rooms, rows in picks.sets:
        if rows:
            boxes = "1 box" if rooms == 1 else f"{rooms} boxes"
            heads, widths = ("in a box", "in all", "article"), (24.0, 28.0, Share())
            listed = Table(heads=heads, widths=widths, rows=rows)
            blocks.append(Named(title=f"{name}: {boxes}", blocks=(listed,), whole=True))
    return document(page_format(paper), picks.job, (Page(blocks=tuple(blocks)),))


def _page(room: RoomPage) -> Page:
    below = f"set {room.set_name}, {room.hand} hand, {room.effort}"
    refused = (f"The set does not go into this room: {room.refusal}",) if room.refusal else ()
    kit, code = f"Kit of room {room.room}", code_svg(room.record)
    return Page(
        blocks=(
            Head(
                title=f"Room {room.room}",
                below=below,
                hand=room.hand,
                stands=room.stands,
                code=code,
            ),
            Cautions(refused),
            Cautions(() if room.measured else (UNMEASURED,)),
            Cautions((STOP,) if room.without_wood else ()),
            Table(
                heads=("what", "where", "length"),
                widths=(39.0, Share(), 31.0),
                rows=room.facts,
                title="In this room",
            ),
            Table(
                heads=MARK_HEADS,
                widths=MARK_WIDTHS,
                rows=room.marks,
                title="Distances from the corner, in this room",
            ),
            Ticked(title="Not measured: measure before you start", items=room.unknown, columns=2),
            Whole((*_kit(kit, room.kit), Cautions((WALLS, DEFERS)))),
        )
    )


def _kit(title: str, rows: Sequence[Row]) -> tuple[Block, ...]:
    """Return a kit in two columns, so that it ends on the page of its room."""
    if not rows:
        return ()
    half = (len(rows) + 1) // 2
    columns = tuple(
        (Table(heads=_KIT_HEADS, widths=_KIT_WIDTHS, rows=tuple(part)),)
        for part in (rows[:half], rows[half:])
        if part
    )
    return (Named(title=title, blocks=(Beside(columns=columns, widths=(Share(), Share())),)),)
