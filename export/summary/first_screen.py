"""What one sees first: the job, whether it is safe to cut, what it takes, a picture, the search."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from math import fsum

from export.markup_text import in_markup
from export.summary.content import SummaryContent
from export.summary.markup import (
    Align,
    Column,
    figure,
    key_figures,
    link_row,
    paragraph,
    table,
)
from export.summary.stock_figures import material_figures
from export.summary.verdict import Verdict, verdict
from export.tables.csv_text import fixed
from parametric.findings.finding import Severity


def first_screen(content: SummaryContent, anchors: Iterable[tuple[str, str]]) -> str:
    """Return the head of the page; `anchors` are its sections with what links to them say."""
    told = "".join(
        (
            _verdict(verdict(content)),
            key_figures(_key_figures(content)),
            _prices(content),
        )
    )
    return (
        f"<header><h1>{in_markup(content.job)}</h1>\n"
        f'<div class="first"><div>{told}</div>\n{_picture(content)}</div>\n'
        f"<nav>{link_row(anchors)}</nav>\n{_SEARCH}</header>\n"
    )


_SEARCH = (
    '<form class="search" role="search" hidden><label for="sought">Find a part or a room</label>\n'
    '<input id="sought" type="search" autocomplete="off" spellcheck="false"'
    ' aria-describedby="found">\n'
    '<output id="found" for="sought" role="status" aria-live="polite"></output></form>\n'
)
"""Shown by the script: without it nothing could answer."""


def _verdict(said: Verdict) -> str:
    more = "".join(paragraph(line) for line in said.lines)
    return (
        f'<div class="verdict {said.kind}"><p><strong>Safe to cut: {in_markup(said.answer)}'
        f"</strong></p>\n{more}</div>\n"
    )


def _picture(content: SummaryContent) -> str:
    for pictures in content.sets:
        for picture in pictures.pictures[:1]:
            caption = f"{pictures.set_name}, {pictures.hand} hand"
            return figure(picture.svg, caption, "look")
    return ""


def _prices(content: SummaryContent) -> str:
    """Return what the sheets of each material cost; nothing where no sheet is cut."""
    figures = material_figures(content.yield_rows)
    if not figures:
        return ""
    cost = f"cost {content.currency}".strip()
    columns = (Column("material"), Column("sheets", Align.NUMBER), Column(cost, Align.NUMBER))
    rows: list[tuple[object, ...]] = [
        (each.material, each.sheets, fixed(each.cost, 2)) for each in figures
    ]
    if len(rows) > 1:
        total = fsum(each.cost for each in figures)
        rows.append(("all sheets", sum(each.sheets for each in figures), fixed(total, 2)))
    return table(columns, rows) + paragraph("Bars, hardware and work are not in these prices.")


def _key_figures(content: SummaryContent) -> Iterator[tuple[str, str]]:
    parts, bars = content.cut_list.parts, content.cut_list.bars
    bounds = {(row.material.key, row.face_up): row.least_in_mix for row in content.yield_rows}
    counts = Counter(finding.severity for finding in content.findings)
    yield "rooms", str(sum(row.rooms for row in content.rooms))
    yield "sheets", str(sum(row.sheets for row in content.yield_rows))
    yield "sheets needed at least", str(sum(bounds.values()))
    yield "sheet parts", f"{sum(part.quantity for part in parts)} ({len(parts)} different)"
    yield "bars", f"{sum(bar.quantity for bar in bars)} ({len(bars)} different)"
    if content.bar_nests:
        yield "bars to buy", str(sum(nest.answer.bars for nest in content.bar_nests))
    yield "failures", str(counts[Severity.FAIL])
    yield "warnings", str(counts[Severity.WARN])
