"""Small pieces of HTML. Every text given to them is escaped, except where the name says markup."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from export.markup_text import in_markup
from export.summary.style import STYLE


class Align(StrEnum):
    """How the cells of a column stand."""

    LEFT = "left"
    NUMBER = "number"


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: its heading, and how its cells stand."""

    heading: str
    align: Align = Align.LEFT


def page(title: str, body_markup: str, script: str = "") -> str:
    """Return a whole page that refers to nothing outside itself; `script` runs at its end."""
    run = f"<script>\n{script}</script>\n" if script else ""
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{in_markup(title)}</title>\n<style>{STYLE}</style></head>\n"
        f"<body>\n{body_markup}{run}</body></html>\n"
    )


def key_figures(figures: Iterable[tuple[str, str]]) -> str:
    """Return figures with their names, in a row."""
    shown = "".join(
        f"<div><dt>{in_markup(name)}</dt><dd>{in_markup(value)}</dd></div>"
        for name, value in figures
    )
    return f'<dl class="figures">{shown}</dl>'


def link_row(anchors: Iterable[tuple[str, str]]) -> str:
    """Return links to places of the page, each an anchor and what it says."""
    return "".join(
        f'<a href="#{in_markup(anchor)}">{in_markup(words)}</a>' for anchor, words in anchors
    )


def section(anchor: str, heading: str, markup: Iterable[str]) -> str:
    """Return a section of the page with its heading."""
    head = f'<section id="{in_markup(anchor)}"><h2>{in_markup(heading)}</h2>\n'
    return "".join((head, *markup, "</section>\n"))


def subheading(text: str) -> str:
    """Return a heading within a section."""
    return f"<h3>{in_markup(text)}</h3>\n"


def paragraph(text: str) -> str:
    """Return a paragraph."""
    return f"<p>{in_markup(text)}</p>\n"


def table(
    columns: Sequence[Column],
    rows: Iterable[Sequence[object]],
    marks: Iterable[Mapping[str, str]] | None = None,
) -> str:
    """Return a table; a row is a cell for each column. `marks` are what the page's script knows
    each row by, as `data-` attributes.

    Raises:
        ValueError: a row has more or fewer cells than there are columns, or there are more or fewer
            marks than rows.
    """
    listed = tuple(rows)
    marked = ({} for _ in listed) if marks is None else marks
    head = "".join(
        f'<th class="{c.align}" scope="col">{in_markup(c.heading)}</th>' for c in columns
    )
    body = "".join(_row(columns, row, mark) for row, mark in zip(listed, marked, strict=True))
    return (
        f'<div class="wide"><table><thead><tr>{head}</tr></thead>\n<tbody>\n{body}</tbody></table>'
        "</div>\n"
    )


def figure(svg_markup: str, caption: str, css_class: str = "") -> str:
    """Return a picture with its caption."""
    kind = f' class="{in_markup(css_class)}"' if css_class else ""
    words = f"<figcaption>{in_markup(caption)}</figcaption>" if caption else ""
    return f"<figure{kind}>{_inline(svg_markup)}{words}</figure>\n"


def folded(summary: str, markup: Iterable[str]) -> str:
    """Return what is shown only once its summary is opened."""
    return "".join((f"<details><summary>{in_markup(summary)}</summary>\n", *markup, "</details>\n"))


def _row(columns: Sequence[Column], row: Sequence[object], mark: Mapping[str, str]) -> str:
    cells = "".join(
        f'<td class="{column.align}">{in_markup(str(cell))}</td>'
        for column, cell in zip(columns, row, strict=True)
    )
    data = "".join(f' data-{name}="{in_markup(value)}"' for name, value in mark.items())
    return f"<tr{data}>{cells}</tr>\n"


def _inline(svg_markup: str) -> str:
    """Return SVG as it stands within HTML, where it needs no namespace."""
    return re.sub(r'\sxmlns="[^"]*"', "", svg_markup, count=1).strip()
