"""From the bars of a job to their drilling drawings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from casewright.stages.site.alike_words import alike_words
from export.papers.blocks import Row
from export.shop.drilling_content import BarDrawing, DrillingBook
from export.svg.bar_drilling import bar_drilling_svg
from export.tables.linear_hole_table import across_from, how_it_lies
from parametric.lists.cut_list import BarHole, BarPart, PartHand
from parametric.lists.mirrored_bars import mirrored_bars
from parametric.stock.lengths import Units, show_diameter, show_length


def drilling_book(job: str, bars: Sequence[BarPart], units: Units, width_mm: float) -> DrillingBook:
    """Return the drawings of all bars that have holes, `width_mm` wide; all bars are listed."""
    mirrors, alike = mirrored_bars(bars), alike_words(bars, units)
    drilled = [bar for bar in bars if bar.holes]
    return DrillingBook(
        job=job,
        listed=tuple(
            (
                bar.number,
                bar.description if bar.holes else f"{bar.description}, no holes",
                _section(bar, units),
                show_length(bar.length_mm, units),
                str(bar.quantity),
                mirrors.get(bar.number, ""),
            )
            for bar in bars
        ),
        drawings=tuple(
            _drawing(bar, mirrors.get(bar.number), alike.get(bar.number), units, width_mm)
            for bar in drilled
        ),
        steel=any(_is_angle(bar) for bar in bars),
    )


def _drawing(
    bar: BarPart, mirror: str | None, alike: str | None, units: Units, width_mm: float
) -> BarDrawing:
    faces = dict.fromkeys(hole.face for hole in bar.holes)
    lies = dict.fromkeys(how_it_lies(face) for face in faces)
    facts = [f"{_section(bar, units)}, {show_length(bar.length_mm, units)} long; {', '.join(lies)}"]
    if bar.hand is not PartHand.EITHER:
        facts.append(f"For sets of the {bar.hand} hand only")
    if mirror is not None:
        facts.append(f"The mirror image of {mirror}: make neither for the other")
    if alike is not None:
        facts.append(f"Easily taken for others; {alike}")
    return BarDrawing(
        title=f"{bar.number}  {bar.description}: make {bar.quantity}",
        facts=tuple(f"{each}." for each in facts),
        svg=bar_drilling_svg(bar, units, width_mm),
        rows=tuple(_rows(bar, units)),
    )


def _rows(bar: BarPart, units: Units) -> Iterator[Row]:
    """Yield the holes of one face, drill and line together, in the order of the hole list."""
    groups: dict[tuple[str, float, float], list[BarHole]] = {}
    for hole in bar.holes:
        key = (hole.face, round(hole.across_mm, 3), round(hole.diameter_mm, 3))
        groups.setdefault(key, []).append(hole)
    for holes in groups.values():
        first = holes[0]
        yield (
            first.face,
            show_diameter(first.diameter_mm, units),
            str(len(holes)),
            f"{show_length(first.across_mm, units)} from {across_from(first.face)}",
            ", ".join(show_length(hole.from_end_mm, units) for hole in holes),
        )


def _section(bar: BarPart, units: Units) -> str:
    first, second = (show_length(side, units) for side in bar.section_mm)
    if _is_angle(bar):
        return f"angle {first} x {first} x {second}"
    return f"{first} x {second}"


def _is_angle(bar: BarPart) -> bool:
    """Return whether a bar is a steel angle: its leg is given before its thickness."""
    return bar.section_mm[0] > bar.section_mm[1]
