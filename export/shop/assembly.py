"""The shop's assembly sheets: one page for each piece that is joined there."""

from __future__ import annotations

from export.papers.blocks import Beside, Cautions, Head, Named, Page, Share, Table, Ticked
from export.papers.cautions import DEFERS
from export.papers.page_format import page_format
from export.papers.typesetting import Source, document
from export.shop.content import UNIT, AssemblyBook, PieceSheet
from export.site.page_room import LEAST_MM, list_mm, room_mm, table_mm, title_mm
from export.site.views_on_page import views_on_page
from parametric.steps.carrying import MOST_PEOPLE
from parametric.stock.paper import Paper

_EYES = "Wear eye and ear protection; keep dust out of the air."
_GLUE = "Keep glue off the skin."
_HARDWARE = "Hardware for all of them"
_MOST_MM, _LEAST_MM, _ROW_MM = 195.0, 90.0, 6.2


def assembly_source(book: AssemblyBook, paper: Paper) -> Source:
    """Return the list of all pieces with their hardware, then a page for each piece."""
    # Pieces of one name differ in hand or size.
    listed = tuple(
        (
            each.number,
            each.title,
            ", ".join(value for what, value in each.facts if what != UNIT),
            str(each.make),
        )
        for each in book.pieces
    )
    hardware = Table(heads=("count", "article"), widths=(18.0, Share()), rows=book.hardware)
    first = Page(
        blocks=(
            Head(
                title="Pieces to join in the shop",
                below="each comes in one piece, marked with its number",
            ),
            Cautions((_EYES, _GLUE, DEFERS)),
            Table(
                heads=("piece", "name", "sets, mass, size", "make"),
                widths=(16.0, Share(), None, 16.0),
                rows=listed,
            ),
            *((Named(title=_HARDWARE, blocks=(hardware,), whole=True),) if book.hardware else ()),
        )
    )
    pages = (_page(piece, paper) for piece in book.pieces)
    return document(page_format(paper), book.job, (first, *pages))


def _height_mm(piece: PieceSheet, title: str, paper: Paper) -> float:
    """Return the height for the pictures of a piece: what its tables leave of a page."""
    rows = len(piece.parts) + len(piece.screws) + sum("(" in name for _, _, name in piece.parts)
    asked = _MOST_MM - _ROW_MM * max(rows, len(piece.work) + len(piece.facts))
    left = table_mm(piece.parts) + table_mm(piece.screws)
    right = table_mm(piece.facts) + list_mm(piece.work)
    room = room_mm(paper, _cautions(piece)) - title_mm(title) - max(left, right)
    return max(LEAST_MM, min(max(_LEAST_MM, asked), room))


def _page(piece: PieceSheet, paper: Paper) -> Page:
    title = f"{piece.number}  {piece.title}"
    parts = Table(
        heads=("count", "part", "name"),
        widths=(14.0, None, Share()),
        rows=piece.parts,
        title="Parts",
    )
    screws = Table(
        heads=("at", "count", "article"),
        widths=(None, None, Share()),
        rows=piece.screws,
        title="Screws",
    )
    facts = Table(heads=("the piece", ""), widths=(None, Share()), rows=piece.facts)
    work = Ticked(title="Work", items=piece.work)
    return Page(
        blocks=(
            Head(
                title=title,
                below=f"joined in the shop, make {piece.make}",
            ),
            *views_on_page(piece.title, piece.pictures, _height_mm(piece, title, paper)),
            Beside(columns=((parts, screws), (facts, work)), widths=(Share(), Share())),
            Cautions(_cautions(piece)),
        )
    )


def _cautions(piece: PieceSheet) -> tuple[str, ...]:
    glue = (_GLUE,) if piece.glued else ()
    if piece.people > MOST_PEOPLE:
        heavy = ("Too much to lift and turn by hand: use a lifting aid.",)
    else:
        heavy = (f"{piece.people} people lift and turn it, or a lifting aid.",)
    return _EYES, *glue, *(heavy if piece.people > 1 else ()), DEFERS
