"""The sheet on which a room is measured: a blank for each column of the schedule, in its words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from string import ascii_lowercase

from export.papers.blocks import Beside, Cautions, Head, Page, Paragraph, Picture, Row, Share, Table
from export.papers.cautions import DEFERS
from export.papers.drawn import CAPITAL_MM, on_page, path
from export.papers.page_format import page_format
from export.papers.typesetting import Source, document
from export.svg.elements import Point2, number, text_element
from parametric.geometry.hand import Hand
from parametric.stock.paper import Paper

MEASURING = (
    "Measure after the walls are lined and the floor is laid. Find studs, blocking, pipes and"
    " cables with a detector; do not drill to find them.",
    DEFERS,
)
SIGNED = Table(
    heads=("name", "signed", "date"),
    widths=(Share(), Share(), 36.0),
    rows=(("", "", ""),),
    to_write=True,
)
_SIZE_MM = (180.0, 84.0)
_WIDTH_MM = 134.0  # on the page, so that the sheet ends on it
_HEADS = ("at", "what is measured", "so far", "measured", "column")


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuringSheet:
    """The sheet of one room; rows: column, what is measured, what is known so far."""

    room: str
    set_name: str
    hand: Hand
    rows: tuple[Row, ...]

    @property
    def columns(self) -> tuple[str, ...]:
        """The columns of the schedule that it asks for."""
        return tuple(column for column, *_ in self.rows)


def measuring_source(job: str, sheets: Sequence[MeasuringSheet], unit: str, paper: Paper) -> Source:
    """Return a page for each room; `unit` is what bare numbers count."""
    pictures = {
        key: Picture(svg=measuring_svg(*key), width_mm=_WIDTH_MM)
        for key in dict.fromkeys((sheet.hand, sheet.columns) for sheet in sheets)
    }
    note = (
        f"Bare numbers count {unit}. What is written here goes into the schedule, in the columns"
        " named at the right; site/measuring.csv has a row ready for each room. Leave blank what"
        " was not measured."
    )
    pages = (
        Page(
            blocks=(
                Head(
                    title=f"Measure room {sheet.room}",
                    below=f"set {sheet.set_name}, {sheet.hand} hand",
                ),
                pictures[sheet.hand, sheet.columns],
                Table(
                    heads=_HEADS,
                    widths=(8.0, Share(), 26.0, 26.0, 40.0),
                    rows=tuple(
                        (letter, meaning, so_far, "", column)
                        for letter, (column, meaning, so_far) in zip(
                            ascii_lowercase, sheet.rows, strict=False
                        )
                    ),
                    to_write=True,
                ),
                Beside(columns=((Paragraph(note),), (SIGNED,)), widths=(Share(), Share())),
                Cautions(MEASURING),
            )
        )
        for sheet in sheets
    )
    return document(page_format(paper), job, pages)


def measuring_svg(hand: Hand, columns: Sequence[str]) -> str:
    """Return where each of these columns of the schedule is measured, by the letters of the sheet's
    rows: the head wall as it is seen from the room, and the plan; a sign, not to scale.
    """
    letters = dict(zip(columns, ascii_lowercase, strict=False))
    body = [*_wall(hand, letters), *_plan(hand, letters)]
    return on_page((0.0, 0.0, *_SIZE_MM), f"where a room of the {hand} hand is measured", body)


def _wall(hand: Hand, letters: Mapping[str, str]) -> Iterator[str]:
    """Yield the head wall; x counts from the corner."""

    def at(x: float, y: float) -> Point2:
        return (104.0 - x, y) if hand is Hand.RIGHT else (6.0 + x, y)

    yield _lines([[at(0, 78), at(0, 9), at(98, 12), at(98, 78)]], 0.7)
    yield text_element("head wall, from the room", *at(49, 79.5), CAPITAL_MM, anchor="middle")
    if "first_stud" in letters:
        studs = [[at(x, 14), at(x, 76)] for x in (12, 38, 64, 90)]
        yield _lines(studs, 0.15, "2 1.4")
    if "blocking" in letters:
        yield from _band([at(1, 58), at(97, 64)])
        yield _label(letters["blocking"], at(50, 60))
    yield _lines([[at(0, 16), at(98, 18)]], 0.3)
    measures = {
        "opening_at_floor": (at(0.5, 24), at(97.5, 24)),
        "opening_at_seat": (at(0.5, 40), at(97.5, 40)),
        "opening_at_panel": (at(0.5, 52), at(97.5, 52)),
        "wall_base_height": (at(30, 9.6), at(30, 16.6)),
        "first_stud": (at(0.5, 70), at(12, 70)),
        "stud_spacing": (at(12, 70), at(38, 70)),
    }
    for column, ends in measures.items():
        if column in letters:
            yield from _measure(letters[column], *ends, 0.5)
    if "wall_base_thickness" in letters:
        yield _label(letters["wall_base_thickness"], at(52, 13.2))
    pointed = {
        "floor_low": (at(9, 4), at(2, 9)),
        "floor_high": (at(86, 5), at(93, 11.8)),
    }
    yield from _all_pointed(pointed, letters)


def _plan(hand: Hand, letters: Mapping[str, str]) -> Iterator[str]:
    """Yield the plan, the head wall above."""

    def at(x: float, y: float) -> Point2:
        return (176.0 - x, y) if hand is Hand.RIGHT else (116.0 + x, y)

    yield text_element("plan", *at(30, 79.5), CAPITAL_MM, anchor="middle")
    yield _lines([[at(60, 72), at(0, 72), at(-1.5, 14)]], 1.2)
    yield _lines([[at(0, 72), at(0, 14)]], 0.15, "2 1.4")
    measures = {
        "side_opening": (at(5, 71), at(5, 22), 0.5),
        "floor_width": (at(5, 62), at(58, 62), 0.6),
        "floor_depth": (at(46, 71), at(46, 16), 0.7),
    }
    for column, (start, end, share) in measures.items():
        if column in letters:
            yield from _measure(letters[column], start, end, share)
    pointed = {
        "corner_out_of_square": (at(8, 12), at(-0.7, 16)),
        "side_blocking": (at(16, 52), at(0, 52)),
        "wall_lining": (at(28, 66), at(28, 72.4)),
    }
    yield from _all_pointed(pointed, letters)


def _all_pointed(
    places: Mapping[str, tuple[Point2, Point2]], letters: Mapping[str, str]
) -> Iterator[str]:
    for column, (start, to) in places.items():
        if column in letters:
            yield from _pointed(letters[column], start, to)


def _measure(letter: str, start: Point2, end: Point2, share: float) -> Iterator[str]:
    """Yield a measured length with its letter on it."""
    (ax, ay), (bx, by) = start, end
    ticks = (0.0, 1.6) if ay == by else (1.6, 0.0)
    lines = [[start, end]]
    for x, y in (start, end):
        lines.append([(x - ticks[0], y - ticks[1]), (x + ticks[0], y + ticks[1])])
    yield _lines(lines, 0.25)
    yield _label(letter, (ax + (bx - ax) * share, ay + (by - ay) * share))


def _pointed(letter: str, at: Point2, to: Point2) -> Iterator[str]:
    yield _lines([[at, to]], 0.2)
    yield f'<circle cx="{number(to[0])}" cy="{number(-to[1])}" r="0.7" fill="#000"/>'
    yield _label(letter, at)


def _label(letter: str, at: Point2) -> str:
    x, y = at
    disc = f'<circle cx="{number(x)}" cy="{number(-y)}" r="2.6" fill="#fff" stroke="#000"'
    return f'{disc} stroke-width="0.25"/>' + text_element(
        letter, x, y - CAPITAL_MM / 2, CAPITAL_MM, anchor="middle"
    )


def _band(corners: Sequence[Point2]) -> Iterator[str]:
    (ax, ay), (bx, by) = corners
    x, width = min(ax, bx), abs(bx - ax)
    yield (
        f'<rect x="{number(x)}" y="{number(-by)}" width="{number(width)}"'
        f' height="{number(by - ay)}" fill="#ddd" stroke="#000" stroke-width="0.2"/>'
    )


def _lines(lines: Sequence[Sequence[Point2]], width_mm: float, dashes: str = "") -> str:
    return path(lines, "#000", width_mm, dashes)
