"""What stands on any paper, apart from how it is set: pages of blocks, in the order of reading."""

from __future__ import annotations

from dataclasses import dataclass

from parametric.geometry.hand import Hand
from parametric.geometry.outline import Bounds

Row = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Share:
    """A width as a share of what the fixed widths beside it leave."""

    of: float = 1.0


Width = float | Share | None
"""Of a column: millimetres, a share of the rest, or (None) as wide as its texts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """What a page begins with; `hand` has a small plan, with what `stands` in it, `code` is
    a square code as SVG.
    """

    title: str
    below: str = ""
    hand: Hand | None = None
    stands: tuple[Bounds, ...] = ()
    code: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table with its heads; one without rows is left out. Columns of `right` end flush; one
    `to_write` has rows high enough to write in by hand, a `small` one the type of drawings.
    """

    heads: Row
    widths: tuple[Width, ...]
    rows: tuple[Row, ...]
    title: str = ""
    right: tuple[int, ...] = ()
    to_write: bool = False
    small: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Ticked:
    """A list with a box to tick at each item, in columns; one without items is left out."""

    title: str
    items: tuple[str, ...]
    columns: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbered:
    """A list that is counted, in two columns."""

    title: str
    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Plain words."""

    text: str


@dataclass(frozen=True, slots=True)
class Cautions:
    """Framed cautions; none without texts."""

    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A picture as SVG in millimetres of the page, scaled to a width."""

    svg: str
    width_mm: float
    caption: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """Blocks under a title that stays with them; with `whole` no page ends between them, and with
    `with_next` none between them and the next block.
    """

    title: str
    blocks: tuple[Block, ...]
    whole: bool = False
    with_next: bool = False


@dataclass(frozen=True, slots=True)
class Whole:
    """Blocks that no end of a page tears apart."""

    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """Columns of blocks side by side, `gap_mm` apart; more columns than widths go below."""

    columns: tuple[tuple[Block, ...], ...]
    widths: tuple[Width, ...]
    gap_mm: float = 6.0


Block = Head | Table | Ticked | Numbered | Paragraph | Cautions | Picture | Named | Whole | Beside


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """What begins on a page of its own, and goes on if it needs more; `wide` lies on its side."""

    blocks: tuple[Block, ...]
    wide: bool = False
