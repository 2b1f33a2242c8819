"""The purchase list on paper: what to order, and what it costs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from export.estimate.money import shown_price, total
from export.estimate.purchase import Kind, PurchaseLine
from export.papers.blocks import Block, Head, Page, Paragraph, Share, Table, Ticked
from export.papers.page_format import page_format
from export.papers.typesetting import Source, document
from parametric.kit.kit import KitUnit
from parametric.stock.paper import Paper

_HEADS = ("article", "need", "spare", "on hand", "buy", "in", "price", "cost")
_WIDTHS = (Share(), 19.0, 17.0, 16.0, 12.0, 29.0, 17.0, 20.0)
_SAID = (
    "Everything is for all rooms together, in whole sheets, bars, rolls, packs and bottles."
    " What has no pack in the libraries is counted singly. On hand: sheets in stock that are used"
    " up; the estimate counts them at their price. shop/purchase.csv has the same list, with the"
    " file that each need comes from."
)


def purchase_source(job: str, currency: str, lines: Sequence[PurchaseLine], paper: Paper) -> Source:
    """Return the list by kind, what it comes to, and what has no price."""
    bought = [line for line in lines if not line.missed]
    blocks: list[Block] = [
        Head(title="Purchase list", below=f"for all rooms; prices in {currency}"),
        Paragraph(_SAID),
    ]
    for kind in Kind:
        of_kind = [line for line in bought if line.kind is kind]
        rows = tuple(map(_row, of_kind))
        blocks.append(
            Table(
                heads=_HEADS,
                widths=_WIDTHS,
                rows=rows,
                title=kind.capitalize(),
                right=(1, 2, 3, 4, 6, 7),
                small=True,
            )
        )
    priced = total(line.cost for line in bought if line.cost is not None)
    blocks.append(Paragraph(f"In all {priced:,.2f} {currency}, of what has a price."))
    blocks += _told(bought, lines)
    return document(page_format(paper), job, (Page(blocks=tuple(blocks)),))


def _told(bought: Iterable[PurchaseLine], lines: Iterable[PurchaseLine]) -> Iterable[Block]:
    unpriced = tuple(line.description for line in bought if line.price is None)
    yield Ticked(title="No price: ask for one", items=unpriced)
    missed = tuple(f"{line.description}: {line.missed}" for line in lines if line.missed)
    yield Ticked(title="Not bought here", items=missed)
    notes = tuple(f"{line.description}: {line.note}" for line in bought if line.note)
    yield from (Paragraph(note) for note in notes)


def _row(line: PurchaseLine) -> tuple[str, ...]:
    measured = line.kind is Kind.BANDS or line.unit == KitUnit.MILLILITRES
    unit = f" {line.unit}" if measured else ""
    return (
        line.description,
        f"{line.needed:f}{unit}",
        f"{line.spare:f}{unit}" if line.spare else "",
        str(line.on_hand) if line.on_hand else "",
        str(line.packs),
        line.pack_unit,
        "no price" if line.price is None else shown_price(line.price),
        "" if line.cost is None else f"{line.cost:,.2f}",
    )
