"""Blocks as source for the typesetter, with their pictures; the typesetter is not known here."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import chain

from export.papers.blocks import (
    Beside,
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
    Ticked,
    Whole,
    Width,
)
from export.papers.drawn import on_paper
from export.papers.page_format import PageFormat
from export.papers.revision import revision_of
from export.papers.style import STYLE, page_setup
from export.svg.hand_plan import hand_plan_svg
from export.visible_text import visible

LONG_WORD = re.compile(r"[^\s/\\-]{25,}")
"""A word that lines may end in: they end after blanks, strokes and hyphens as it is, and escapes
stay whole.
"""

_PIECE = re.compile(r".{8}(?=.)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """A document as source, with its pictures by file name."""

    main: str
    files: tuple[tuple[str, str], ...]
    revision: str


def document(format_: PageFormat, job: str, pages: Iterable[Page]) -> Source:
    """Return the document of these pages. Its revision is a digest of all that stands on them."""
    setting = _Setting()
    body = "\n#pagebreak(weak: true)\n".join([setting.page(page) for page in pages])
    files = tuple((name, svg) for svg, name in setting.names.items())
    stamp = revision_of(text.encode() for text in (body, *chain.from_iterable(files)))
    main = page_setup(format_, quoted(job), stamp) + STYLE + body + "\n"
    return Source(main=main, files=files, revision=stamp)


def quoted(text: str) -> str:
    """Return the text as a string literal, whatever it holds: what steers a display is shown."""
    plain = " ".join(visible(text).split())
    escaped = plain.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{LONG_WORD.sub(_with_breaks, escaped)}"'


def _with_breaks(word: re.Match[str]) -> str:
    """Return a word that no line may hold with places where a line may end, which do not show."""
    return _PIECE.sub(r"\g<0>\\u{200b}", word[0])


@dataclass(slots=True)
class _Setting:
    """Turns blocks into expressions, and gives each different picture a name."""

    names: dict[str, str] = field(default_factory=dict)

    def page(self, page: Page) -> str:
        """Return a page in the source's markup."""
        body = self.markup(page.blocks)
        return f"#page(flipped: true)[\n{body}\n]" if page.wide else body

    def markup(self, blocks: Sequence[Block]) -> str:
        """Return blocks one below the other, in the source's markup."""
        return "\n".join(f"#{made}" for made in map(self.expression, blocks) if made)

    def expression(self, block: Block) -> str:
        """Return a block as an expression; nothing of what is empty."""
        match block:
            case Head():
                made = self._head(block)
            case Table():
                made = _table(block)
            case Ticked(title=title, items=items, columns=columns):
                made = f"lines({quoted(title)}, {columns}, {_array(items)})" if items else ""
            case Numbered(title=title, items=items):
                made = f"overview({quoted(title)}, {_array(items)})"
            case Paragraph(text=text):
                made = f"block({quoted(text)})"
            case Cautions(texts=texts):
                made = f"cautions({_array(map(_stopped, texts))})" if texts else ""
            case Picture(svg=svg, width_mm=width, caption=caption):
                made = f"view({self._file(svg)}, {quoted(caption)}, {width:.2f}mm)"
            case Named(title=title, blocks=blocks):
                how = f"whole: {_truth(block.whole)}, with-next: {_truth(block.with_next)}"
                made = f"named({quoted(title)}, [\n{self.markup(blocks)}\n], {how})"
            case Whole(blocks=blocks):
                made = f"block(breakable: false, above: 0.9em)[\n{self.markup(blocks)}\n]"
            case Beside(columns=columns, widths=widths, gap_mm=gap):
                cells = ", ".join(f"[{self.markup(each)}]" for each in columns)
                made = f"grid(columns: {_widths(widths)}, column-gutter: {gap:g}mm, {cells})"
        return made

    def _head(self, head: Head) -> str:
        plan = ""
        if head.hand is not None:
            plan = on_paper(hand_plan_svg(head.hand, *((head.stands,) if head.stands else ())))
        beside = f", plan: {self._file(plan)}" if plan else ""
        beside += f", code: {self._file(head.code)}" if head.code else ""
        return f"head({quoted(head.title)}, {quoted(head.below)}{beside})"

    def _file(self, svg: str) -> str:
        name = self.names.setdefault(svg, f"picture-{len(self.names) + 1}.svg")
        return quoted(name)


def _array(items: Iterable[str]) -> str:
    return "(" + "".join(f"{quoted(item)}, " for item in items) + ")"


def _table(table: Table) -> str:
    if not table.rows:
        return ""
    cells = "(" + "".join(f"{_array(row)}, " for row in table.rows) + ")"
    right = "(" + "".join(f"{column}, " for column in table.right) + ")"
    how = f"to-write: {_truth(table.to_write)}, small: {_truth(table.small)}"
    made = f"rows({_array(table.heads)}, {_widths(table.widths)}, {right}, {cells}, {how})"
    return f"named({quoted(table.title)}, {made})" if table.title else made


def _stopped(text: str) -> str:
    """Return a caution as a sentence with its full stop."""
    return text if text.endswith((".", "!", "?", ":")) else f"{text}."


def _truth(value: bool) -> str:
    return "true" if value else "false"


def _widths(widths: Iterable[Width]) -> str:
    return "(" + "".join(f"{_width(each)}, " for each in widths) + ")"


def _width(width: Width) -> str:
    match width:
        case None:
            return "auto"
        case Share(of=of):
            return f"{of:g}fr"
        case _:
            return f"{width:g}mm"
