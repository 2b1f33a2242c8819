"""The shop's assembly sheets: one page for each piece that is joined there."""

from __future__ import annotations

from export.shop.content import AssemblyBook, PieceSheet
from export.site.source import DEFERS, Source, array, cautions, document, quoted, table
from export.site.views_on_page import views_on_page
from parametric.stock.paper import Paper

_CAUTIONS = (
    "Wear eye and ear protection; keep glue off the skin and dust out of the air.",
    DEFERS,
)
_MOST_MM, _LEAST_MM, _ROW_MM = 195.0, 90.0, 6.2


def assembly_source(book: AssemblyBook, paper: Paper) -> Source:
    """Return the list of all pieces with their hardware, then a page for each piece."""
    # Pieces of one name differ in hand or size.
    listed = [
        (each.number, each.title, ", ".join(value for _, value in each.facts), str(each.make))
        for each in book.pieces
    ]
    first = [
        _title("Pieces to join in the shop", "each comes in one piece, marked with its number"),
        table(("piece", "name", "sets, mass, size", "make"), "(16mm, 1fr, auto, 16mm)", listed),
        table(("count", "article"), "(18mm, 1fr)", book.hardware, "Hardware for all of them"),
        cautions(_CAUTIONS),
    ]
    pages = ["\n".join(first)]
    pictures: list[tuple[str, str]] = []
    for each in book.pieces:
        shown, files = views_on_page(
            f"piece-{each.number}", each.title, each.pictures, _height_mm(each)
        )
        pictures += files
        pages.append(_page(each, shown))
    return document(paper, book.job, pages, pictures)


def _height_mm(piece: PieceSheet) -> float:
    """Return the height for the pictures of a piece: what its tables leave of a page."""
    rows = len(piece.parts) + len(piece.screws) + sum("(" in name for _, _, name in piece.parts)
    return max(_LEAST_MM, _MOST_MM - _ROW_MM * max(rows, len(piece.work) + len(piece.facts)))


def _title(title: str, below: str) -> str:
    big, small = quoted(title), quoted(below)
    return f"#text(size: 15pt, weight: {quoted('bold')}, {big}) #linebreak() #text({small})"


def _page(piece: PieceSheet, pictures: str) -> str:
    parts = table(("count", "part", "name"), "(14mm, auto, 1fr)", piece.parts, "Parts")
    screws = table(("at", "count", "article"), "(auto, auto, 1fr)", piece.screws, "Screws")
    facts = table(("the piece", ""), "(auto, 1fr)", piece.facts)
    work = f"#lines({quoted('Work')}, {array(piece.work)})"
    return "\n".join(
        (
            _title(f"{piece.number}  {piece.title}", f"joined in the shop, make {piece.make}"),
            pictures,
            f"#grid(columns: (1fr, 1fr), column-gutter: 6mm, [{parts}\n{screws}], "
            f"[{facts}\n{work}])",
            cautions(_CAUTIONS),
        )
    )
