"""The paper that says what differs between two issues, and what must be issued again."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from export.changes.changes import Changes
from export.changes.overlay import overlay_svg
from export.changes.part_changes import Kind, PartChange
from export.changes.same_part import alike_lying
from export.changes.words import ChangeLine, place_words, what_words
from export.papers.blocks import (
    Block,
    Cautions,
    Head,
    Named,
    Page,
    Paragraph,
    Picture,
    Row,
    Share,
    Table,
)
from export.papers.page_format import PageFormat, page_format
from export.papers.typesetting import Source, document
from parametric.stock.paper import Paper

MIXED = (
    "Take back every paper and cut file of the old revision. Parts of two revisions do not meet:"
    " compare the revision in the foot of a paper, and on a label, before you work from it.",
)
_HIGHEST_MM = 60.0


def changes_source(
    changes: Changes, lines: Sequence[ChangeLine], again: Sequence[Row], paper: Paper
) -> Source:
    """Return what differs, most urgent first. Rows of `again`: what is issued again, for whom."""
    new = changes.new
    format_ = page_format(paper)
    below = f"{new.job}: revision {changes.old.revision} is now {new.revision}"
    blocks: list[Block] = [Head(title="What changed", below=below)]
    if changes.nothing:
        blocks.append(Paragraph("Nothing: every file is the same."))
        return document(format_, new.job, (Page(blocks=tuple(blocks)),))
    blocks += [
        Cautions(MIXED),
        Table(
            heads=("issue again", "for"),
            widths=(Share(), 50.0),
            rows=tuple(again),
            title="Papers and files to issue again",
        ),
        _listed("Sheets", ("material", "was", "now"), lines, "sheets", _was_and_now),
        _listed("Already cut", ("part", "cut", "now", ""), lines, "already cut", _cut),
        _listed("Layouts", ("change", "layout", "was", "now"), lines, "layout", _layout),
        _listed("Rooms", ("room", "was", "now"), lines, "room", _was_and_now),
        _listed("Kits, for one room", ("article", "was", "now"), lines, "kit", _was_and_now),
        _listed("Warnings and failures", ("finding", "was", "now"), lines, "finding", _was_and_now),
        _listed("Cleats and angles", ("change", "bar", "what", "where"), lines, "bar", _part),
    ]
    blocks += _parts(changes, format_)
    return document(format_, new.job, (Page(blocks=tuple(blocks)),))


def _parts(changes: Changes, format_: PageFormat) -> Iterator[Block]:
    """Yield the parts that changed with their pictures, then the others as a table."""
    pictured = [each for each in changes.parts if each.kind is Kind.CHANGED]
    for change in pictured:
        number = change.now if change.was == change.now else f"{change.now} (was {change.was})"
        words = what_words(change), place_words(change.places)
        picture = _picture(changes, change, format_.text_width_mm)
        title = f"Part {number}, {change.name}: changed"
        yield Named(title=title, blocks=(*map(Paragraph, words), picture), whole=True)
    others = tuple(
        (
            each.kind.value,
            f"{each.now or each.was} {each.name}",
            what_words(each),
            place_words(each.places),
        )
        for each in changes.parts
        if each.kind is not Kind.CHANGED
    )
    yield Table(
        heads=("change", "part", "what", "where"),
        widths=(22.0, Share(), Share(), Share()),
        rows=others,
        title="Other parts",
    )


def _picture(changes: Changes, change: PartChange, width_mm: float) -> Picture:
    now = changes.new.parts[change.now]
    was = alike_lying(changes.old.parts[change.was], now)
    svg = overlay_svg(was.panel, now.panel, change.name, width_mm, _HIGHEST_MM)
    return Picture(svg=svg, width_mm=width_mm, caption="as it was: grey, dashed; as it is: black")


def _listed(
    title: str,
    heads: Row,
    lines: Iterable[ChangeLine],
    about: str,
    row: Callable[[ChangeLine], Row],
) -> Table:
    rows = tuple(row(line) for line in lines if line.about == about)
    widths = (22.0,) if heads[0] == "change" else (Share(1.3),)
    return Table(
        heads=heads,
        widths=(*widths, *(Share() for _ in heads[1:])),
        rows=rows,
        title=title,
    )


def _was_and_now(line: ChangeLine) -> Row:
    return line.which, line.was or "none", line.now or "none"


def _cut(line: ChangeLine) -> Row:
    return line.which, line.was, line.now or "no part of the job", line.what


def _layout(line: ChangeLine) -> Row:
    return line.kind.value, line.which, line.was or "none", line.now or "none"


def _part(line: ChangeLine) -> Row:
    return line.kind.value, line.which, line.what, line.where
