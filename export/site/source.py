"""Source for the typesetter, with its pictures; nothing here knows the typesetter itself."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from export.site.content import Row
from export.site.pictures import on_paper
from export.site.style import STYLE, page_setup
from export.svg.hand_plan import hand_plan_svg
from export.visible_text import visible
from parametric.geometry.hand import Hand
from parametric.stock.paper import Paper

DEFERS = (
    "Local codes, and the people licensed to apply them, decide what is safe in this building;"
    " where they differ from this paper, those rules govern."
)
WALLS = (
    "Find studs, blocking, pipes and cables before drilling or cutting. Leave wiring and pipes to"
    " licensed people."
)

_PAPERS = {Paper.A4: "a4", Paper.LETTER: "us-letter"}
_REVISION_DIGITS = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """A document as source, with its pictures by file name."""

    main: str
    files: tuple[tuple[str, str], ...]
    revision: str


def document(
    paper: Paper, job: str, pages: Sequence[str], pictures: Iterable[tuple[str, str]]
) -> Source:
    """Return the document of these pages. Its revision is a digest of all that stands on them."""
    files = [*pictures, *((plan_name(hand), on_paper(hand_plan_svg(hand))) for hand in Hand)]
    body = "\n#pagebreak(weak: true)\n".join(pages)
    stamp = revision_of([body, *(part for pair in files for part in pair)])
    main = page_setup(_PAPERS[paper], quoted(job), stamp) + STYLE + body + "\n"
    return Source(main=main, files=tuple(files), revision=stamp)


def revision_of(texts: Iterable[str]) -> str:
    """Return a short digest of the texts: the same content bears the same revision."""
    digest = hashlib.sha256()
    for text in texts:
        digest.update(text.encode() + b"\0")
    return digest.hexdigest()[:_REVISION_DIGITS]


def plan_name(hand: Hand) -> str:
    """Return the file name of the small picture of a hand."""
    return f"hand-{hand}.svg"


def quoted(text: str) -> str:
    """Return the text as a string literal, whatever it holds: what steers a display is shown."""
    plain = " ".join(visible(text).split())
    escaped = plain.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def array(items: Iterable[str]) -> str:
    """Return texts as an array of string literals."""
    return "(" + "".join(f"{quoted(item)}, " for item in items) + ")"


def head(title: str, below: str, hand: Hand, code: str = "") -> str:
    """Return the head of a page with the small picture of the hand, and that of a square code."""
    beside = f", code: {quoted(code)}" if code else ""
    return f"#head({quoted(title)}, {quoted(below)}, {quoted(plan_name(hand))}{beside})"


def table(heads: Row, columns: str, rows: Sequence[Row], title: str = "") -> str:
    """Return a table, or nothing without rows; `columns` are widths in the source's language."""
    if not rows:
        return ""
    cells = "(" + "".join(f"{array(row)}, " for row in rows) + ")"
    made = f"rows({array(heads)}, {columns}, {cells})"
    return f"#named({quoted(title)}, {made})" if title else f"#{made}"


def cautions(texts: Iterable[str]) -> str:
    """Return the framed cautions."""
    return f"#cautions({array(texts)})"


def together(*parts: str) -> str:
    """Return what is not torn apart by the end of a page."""
    return "#block(breakable: false)[\n" + "\n".join(parts) + "\n]"
