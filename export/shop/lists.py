"""The shop's lists on paper: what is cut from sheets, banded, cut from bars, and screwed in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import fsum

from export.edge_names import HOW_NUMBERED, bands_in_words, bands_of, edge_name
from export.estimate.purchase import OVER_EACH_EDGE_MM, band_edges
from export.papers.blocks import Block, Head, Named, Page, Paragraph, Row, Share, Table
from export.papers.page_format import page_format
from export.papers.typesetting import Source, document
from export.tables.csv_text import cut_size
from export.tables.profile_words import profile_shown
from parametric.kit.kit import Kit
from parametric.lists.cut_list import CutList, Part
from parametric.stock.amounts import in_words, mass
from parametric.stock.lengths import Units, show_cut_length, show_length, show_way
from parametric.stock.paper import Paper

_HARDWARE = "Hardware and glue for what the shop joins"


@dataclass(frozen=True, slots=True, kw_only=True)
class BandingLine:
    """A band on one edge of a part: the edge's finished length, and how many such edges."""

    band: str
    part: str
    edge: str
    length_mm: float
    edges: int

    @property
    def tape_mm(self) -> float:
        """What is cut from the roll for all of them, what is cut off again at the ends with it."""
        return self.edges * (self.length_mm + OVER_EACH_EDGE_MM)


def banding_lines(parts: Iterable[Part]) -> Iterator[BandingLine]:
    """Yield each banded edge of each part, by band and part."""
    found = [
        BandingLine(
            band=band.key,
            part=part.number,
            edge=edge_name(banding.edge),
            length_mm=length_mm,
            edges=part.quantity,
        )
        for part in parts
        for banding, (band, length_mm) in zip(part.banding, band_edges(part), strict=True)
    ]
    yield from sorted(found, key=lambda line: (line.band, line.part, line.edge))


def lists_source(job: str, cut_list: CutList, hardware: Kit, units: Units, paper: Paper) -> Source:
    """Return the lists, each on pages of its own but what is screwed in, which is short and comes
    after the bars; pages lie on their side.
    """
    banding = tuple(banding_lines(cut_list.parts))
    how = (Paragraph(HOW_NUMBERED),) if banding else ()
    pages = [_page("Cut list", *how, _parts(cut_list, units))]
    if banding:
        pages.append(_banding(banding, cut_list.parts, units))
    listed = tuple((line.unit.in_words(line.needed), line.description) for line in hardware.lines)
    table = Table(heads=("count", "article"), widths=(24.0, Share()), rows=listed, right=(0,))
    if cut_list.bars:
        below = (Named(title=_HARDWARE, blocks=(table,), whole=True),) if listed else ()
        pages.append(_page("Cleats and angles", _bars(cut_list, units), *below))
    elif listed:
        pages.append(_page(_HARDWARE, table))
    return document(page_format(paper), job, pages)


def _page(title: str, *blocks: Block) -> Page:
    return Page(blocks=(Head(title=title), *blocks), wide=True)


_PART_HEADS = (
    "part",
    "name",
    "make",
    "finished",
    "cut",
    "bands",
    "grain",
    "material",
    "class",
    "mass",
)


def _parts(cut_list: CutList, units: Units) -> Table:
    return Table(
        heads=_PART_HEADS,
        widths=(14.0, Share(1.2), 14.0, None, None, Share(), None, Share(1.4), None, 18.0),
        rows=tuple(_part(part, units) for part in cut_list.parts),
        right=(2, 9),
        small=True,
    )


def _part(part: Part, units: Units) -> Row:
    return (
        part.number,
        part.description,
        str(part.quantity),
        cut_size(part.finished_length_mm, part.finished_width_mm, units),
        cut_size(part.panel.length_mm, part.panel.width_mm, units),
        bands_in_words(bands_of(part)) or "none",
        part.material.grain.value,
        f"{part.material.description}, {show_cut_length(part.material.thickness_mm, units)}",
        part.material.formaldehyde or "not stated",
        in_words(mass(part.mass_kg), units),
    )


def _banding(lines: Sequence[BandingLine], parts: Sequence[Part], units: Units) -> Page:
    bands = dict.fromkeys(line.band for line in lines)
    over = show_length(OVER_EACH_EDGE_MM, units)
    note = f"Tape is {over} longer than its edge, and trimmed at both ends. {HOW_NUMBERED}"
    names = {
        banding.band.key: banding.band.description for part in parts for banding in part.banding
    }
    tables = []
    for band in bands:
        own = [line for line in lines if line.band == band]
        tape_mm = fsum(line.tape_mm for line in own)
        edges = sum(line.edges for line in own)
        tables.append(
            Table(
                heads=("part", "edge", "its length", "edges", "tape for all"),
                widths=(20.0, 30.0, Share(), 24.0, Share()),
                rows=tuple(
                    (
                        line.part,
                        line.edge,
                        show_cut_length(line.length_mm, units),
                        str(line.edges),
                        show_length(line.tape_mm, units),
                    )
                    for line in own
                ),
                title=f"{names[band]} ({band}): {edges} edges, {show_way(tape_mm, units)} of tape",
                right=(2, 3, 4),
                small=True,
            )
        )
    return Page(blocks=(Head(title="Banding list"), Paragraph(note), *tables), wide=True)


def _bars(cut_list: CutList, units: Units) -> Table:
    return Table(
        heads=("part", "name", "make", "material", "section", "length", "holes", "mass"),
        widths=(16.0, Share(1.2), 16.0, Share(), None, None, 16.0, 20.0),
        rows=tuple(
            (
                bar.number,
                bar.description,
                str(bar.quantity),
                bar.material_name,
                profile_shown(bar.profile, units),
                show_length(bar.length_mm, units),
                str(len(bar.holes)),
                in_words(mass(bar.mass_kg), units),
            )
            for bar in cut_list.bars
        ),
        right=(2, 6, 7),
        small=True,
    )
