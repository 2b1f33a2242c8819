"""Drilling drawings: every kind of cleat and angle with its holes, a few on a page."""

from __future__ import annotations

from export.papers.blocks import (
    Block,
    Cautions,
    Head,
    Named,
    Numbered,
    Page,
    Paragraph,
    Picture,
    Share,
    Table,
)
from export.papers.cautions import DEFERS
from export.papers.page_format import page_format
from export.papers.typesetting import Source, document
from export.shop.drilling_content import BarDrawing, DrillingBook
from export.svg.elements import picture_size
from parametric.stock.paper import Paper

_HOW = (
    "Lay the bar as its drawing says, its left end at a stop",
    "All distances run from the left end, never from hole to hole",
    "Drill one, hold it against its drawing, then the rest",
    "All holes go right through; back the bar with waste, so that it does not tear out",
    "Countersink each hole on the side where its screw goes in, so that heads lie flush",
    "Mark each bar with its number: some differ by a hole",
)
_WOOD = (
    "Clamp every bar before it is drilled. Wear eye and ear protection and keep the dust out of the"
    " air. No gloves, loose sleeves or hair near a turning drill."
)
_STEEL = (
    "Steel: clamp it so that it cannot turn, punch the centres, drill slowly and with cutting"
    " fluid, ease the drill as it breaks through. Swarf is hot and sharp: brush it away with the"
    " machine stopped. Deburr both sides."
)


def drilling_source(book: DrillingBook, paper: Paper) -> Source:
    """Return the list of all bars with how to work, then their drawings."""
    cautions = (_WOOD, _STEEL, DEFERS) if book.steel else (_WOOD, DEFERS)
    blocks: list[Block] = [
        Head(
            title="Drilling drawings: cleats and angles", below="what shop/linear-holes.csv lists"
        ),
        Table(
            heads=("bar", "name", "section", "length", "make", "mirror image"),
            widths=(14.0, Share(), None, None, None, None),
            rows=book.listed,
            right=(4,),
        ),
        Numbered(title="How to drill", items=_HOW),
        Cautions(cautions),
    ]
    return document(
        page_format(paper),
        book.job,
        (Page(blocks=tuple(blocks)), Page(blocks=tuple(map(_drawing, book.drawings)))),
    )


def drawing_width_mm(paper: Paper) -> float:
    """Return how wide a drawing is on a page."""
    return page_format(paper).text_width_mm


def _drawing(drawing: BarDrawing) -> Block:
    words = Paragraph(" ".join(drawing.facts))
    table = Table(
        heads=("face", "drill", "holes", "across", "from the left end"),
        widths=(23.0, 16.0, 13.0, Share(1.04), Share()),
        rows=drawing.rows,
        right=(2,),
    )
    # The picture is in millimetres of the page.
    picture = Picture(svg=drawing.svg, width_mm=picture_size(drawing.svg)[0])
    return Named(title=drawing.title, blocks=(words, picture, table), whole=True)
