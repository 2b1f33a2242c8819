"""The pages of a set's drawings, on their side."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import partial

from export.papers.blocks import Beside, Cautions, Head, Page, Picture, Row, Share, Table
from export.papers.cautions import DEFERS
from export.papers.page_format import PageFormat, page_format
from export.papers.typesetting import Source, document
from export.part_drawing.reading import drawn_length
from export.set_drawing.content import SectionsOfTie, SetDrawings, SetView, UnitApart
from export.set_drawing.measured import Measured, Told, largest_scale, measured, size_at
from export.set_drawing.numbered import Numbered, numbered
from export.set_drawing.picture import measured_svg, numbered_svg
from parametric.stock.lengths import Units
from parametric.stock.paper import Paper

_HEAD_MM, _CAPTION_MM, _ROUND_MM = 20.0, 7.0, 4.0
_GAP_MM = 6.0
_PLAN, _ALONG = 0.62, 0.62  # of the page's width, for the plan and the section along an angle
_LIST_MM = 112.0  # the width of a list of parts beside its picture
_NAMED_ROOMS = 12
_ROW_MM, _TITLE_MM = 5.0, 9.0
_UNITS = {Units.MM: "millimetres", Units.INCH: "inches"}
_MEASURED = "measured from the corner marked 0 and from the floor"
_PARTS: Row = ("count", "part", "name", "material", "size")
_OPENINGS: Row = (
    "opening in",
    "width",
    "height",
    "from the wall",
    "from the floor",
    "room at each side of the angle",
    "packing under it",
)
_CAUTIONS = (
    "Sizes are those of the design. Measure each room before anything is cut: walls are out of"
    " square and floors out of level. Wall base is cut away where a box stands at a wall. What is"
    " fixed to a wall needs what the blocking plan says.",
    DEFERS,
)


def set_drawing_source(drawings: SetDrawings, units: Units, paper: Paper) -> Source:
    """Return the drawings of a set: views, sections at its steel angles, units taken apart."""
    format_ = page_format(paper)
    told = partial(drawn_length, units=units)
    pages = (
        _plan_page(drawings, told, units, format_),
        _elevation_page(drawings, told, units, format_),
        *(_tie_page(drawings, tie, told, units, format_) for tie in drawings.ties),
        *(_unit_page(drawings, unit, units, format_) for unit in drawings.units),
    )
    return document(format_, drawings.job, pages)


def _head(drawings: SetDrawings, title: str, below: str) -> Head:
    return Head(title=f"Set {drawings.set_name}, {drawings.hand} hand: {title}", below=below)


def _plan_page(drawings: SetDrawings, told: Told, units: Units, format_: PageFormat) -> Page:
    wide, high = _inner(format_)
    high -= 14.0  # the cautions
    plan = _in_a_row([drawings.plan], (wide * _PLAN, high), told)[0]
    rest = wide - plan.size_mm[0] - _GAP_MM
    whole = numbered(drawings.whole, (rest, high))
    return Page(
        blocks=(
            _head(
                drawings,
                "plan",
                f"{_for_rooms(drawings.rooms)}sizes in {_UNITS[units]}, {_MEASURED}",
            ),
            Beside(
                columns=((_picture(plan),), (_numbered_picture(whole, whole.title),)),
                widths=(plan.size_mm[0], Share()),
                gap_mm=_GAP_MM,
            ),
            Cautions(_CAUTIONS),
        ),
        wide=True,
    )


def _for_rooms(rooms: Sequence[str]) -> str:
    """Return which rooms a set is for, or how many where they are too many to name."""
    match len(rooms):
        case 0:
            return ""
        case 1:
            return f"for room {rooms[0]}; "
        case many if many > _NAMED_ROOMS:
            return f"for {many} rooms; "
        case _:
            return f"for rooms {', '.join(rooms)}; "


def _elevation_page(drawings: SetDrawings, told: Told, units: Units, format_: PageFormat) -> Page:
    drawn = _in_a_row(drawings.elevations, _inner(format_), told)
    return Page(
        blocks=(
            _head(drawings, "front and side", f"sizes in {_UNITS[units]}, {_MEASURED}"),
            _row_of(drawn),
        ),
        wide=True,
    )


def _tie_page(
    drawings: SetDrawings, tie: SectionsOfTie, told: Told, units: Units, format_: PageFormat
) -> Page:
    wide, high = _inner(format_)
    high -= _TITLE_MM + _ROW_MM * (len(tie.sizes) + 2) + _ROUND_MM
    along = _in_a_row([tie.along], (wide * _ALONG, high), told)
    across = _stacked(tie.across, (wide * (1.0 - _ALONG) - _GAP_MM, high), told)
    return Page(
        blocks=(
            _head(
                drawings,
                f"sections at the {tie.name}",
                f"sizes in {_UNITS[units]}, from the walls and from the floor",
            ),
            Beside(
                columns=(tuple(map(_picture, along)), tuple(map(_picture, across))),
                widths=(along[0].size_mm[0], Share()),
                gap_mm=_GAP_MM,
            ),
            Table(
                heads=_OPENINGS,
                widths=(Share(2.0), *(Share() for _ in _OPENINGS[1:])),
                rows=tie.sizes,
                title="What must hold for the angle to go in",
                small=True,
            ),
        ),
        wide=True,
    )


def _unit_page(drawings: SetDrawings, unit: UnitApart, units: Units, format_: PageFormat) -> Page:
    wide, high = _inner(format_)
    drawn = numbered(unit.view, (wide - _LIST_MM - _GAP_MM, high))
    listed = Table(
        heads=_PARTS,
        widths=(None, None, Share(), None, None),
        rows=unit.parts,
        title="Parts",
        small=True,
    )
    picture = _numbered_picture(drawn)
    return Page(
        blocks=(
            _head(
                drawings,
                f"{unit.name}, taken apart",
                f"finished sizes in {_UNITS[units]}: length, width, thickness; not to scale",
            ),
            Beside(columns=((picture,), (listed,)), widths=(Share(), _LIST_MM), gap_mm=_GAP_MM),
        ),
        wide=True,
    )


def _in_a_row(
    views: Sequence[SetView], room_mm: tuple[float, float], told: Told
) -> tuple[Measured, ...]:
    """Return views side by side at one scale, the largest at which they have room."""
    if not views:
        return ()
    gaps = _GAP_MM * (len(views) - 1)

    def fits(scale: float) -> bool:
        sizes = [size_at(view, scale, told) for view in views]
        across = math.fsum(size[0] for size in sizes)
        return across + gaps <= room_mm[0] and max(size[1] for size in sizes) <= room_mm[1]

    scale = largest_scale(fits)
    return tuple(measured(view, scale, told) for view in views)


def _stacked(
    views: Sequence[SetView], room_mm: tuple[float, float], told: Told
) -> tuple[Measured, ...]:
    """Return views one below the other at one scale, the largest at which they have room."""
    if not views:
        return ()
    each_mm = room_mm[1] / len(views) - _CAPTION_MM

    def fits(scale: float) -> bool:
        sizes = [size_at(view, scale, told) for view in views]
        return all(wide <= room_mm[0] and high <= each_mm for wide, high in sizes)

    scale = largest_scale(fits)
    return tuple(measured(view, scale, told) for view in views)


def _row_of(drawn: Sequence[Measured]) -> Beside:
    return Beside(
        columns=tuple((_picture(each),) for each in drawn),
        widths=tuple(each.size_mm[0] for each in drawn),
        gap_mm=_GAP_MM,
    )


def _picture(drawn: Measured) -> Picture:
    return Picture(
        svg=measured_svg(drawn),
        width_mm=drawn.size_mm[0],
        caption=f"{drawn.title}, 1 : {drawn.scale:g}",
    )


def _numbered_picture(drawn: Numbered, caption: str = "") -> Picture:
    return Picture(svg=numbered_svg(drawn), width_mm=drawn.size_mm[0], caption=caption)


def _inner(format_: PageFormat) -> tuple[float, float]:
    """Return what a page on its side has for pictures and tables."""
    wide = format_.height_mm - 2 * format_.beside_mm
    high = format_.width_mm - format_.above_mm - format_.below_mm
    return wide, high - _HEAD_MM - _CAPTION_MM - _ROUND_MM
