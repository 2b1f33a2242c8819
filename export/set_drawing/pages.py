"""The pages of a set's drawings, on their side."""

from __future__ import annotations

from collections.abc import Sequence

from export.dimensions.scales import told_scale
from export.papers.blocks import Beside, Cautions, Head, Page, Picture, Row, Share, Table
from export.papers.cautions import DEFERS
from export.papers.page_format import PageFormat, page_format
from export.papers.typesetting import Source, document
from export.set_drawing.arranged import CAPTION_MM, GAP_MM, Room, Way, arranged
from export.set_drawing.content import SectionsOfTie, SetDrawings, UnitApart
from export.set_drawing.measured import Measured
from export.set_drawing.numbered import Numbered, numbered
from export.set_drawing.picture import measured_svg, numbered_svg
from parametric.stock.lengths import Units
from parametric.stock.paper import Paper

_HEAD_MM, _ROUND_MM = 14.0, 4.0
_CAUTION_MM = 20.0
_WHOLE_MM = 60.0  # the least height of the whole set below its plan
_PLAN, _ALONG = 0.62, 0.62  # of the page's width, for the plan and the section along an angle
_LIST_MM = 112.0  # the width of a list of parts beside its picture
_NAMED_ROOMS = 12
_ROW_MM, _TITLE_MM = 5.0, 9.0
_UNITS = {Units.MM: "millimetres", Units.INCH: "inches"}
_MEASURED = "measured from the corner marked 0 and from the floor"
_PLATES = "; wall plates by their lower edge and middle, the steps say where their screws are"
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
    pages = (
        _plan_page(drawings, units, format_),
        _elevation_page(drawings, units, format_),
        *(_tie_page(drawings, tie, units, format_) for tie in drawings.ties),
        *(_unit_page(drawings, unit, units, format_) for unit in drawings.units),
    )
    return document(format_, drawings.job, pages)


def _head(drawings: SetDrawings, title: str, below: str) -> Head:
    return Head(title=f"Set {drawings.set_name}, {drawings.hand} hand: {title}", below=below)


def _plan_page(drawings: SetDrawings, units: Units, format_: PageFormat) -> Page:
    """Return the plan with the whole set beside it, or on an upright page below it, where the plan
    is larger so.
    """
    (wide, high), upright = _inner(format_), _upright(format_)
    high -= _CAUTION_MM
    below = upright[1] - 1.5 * _CAUTION_MM  # they take more lines there
    ways = (
        (Way.BESIDE, (wide * _PLAN, high)),
        (Way.BELOW, (upright[0], below - _WHOLE_MM - CAPTION_MM)),
    )
    way, (plan,) = arranged([drawings.plan], units, ways)
    if way == 0:
        whole = numbered(drawings.whole, (wide - plan.size_mm[0] - GAP_MM, high - CAPTION_MM))
    else:
        left = below - plan.size_mm[1] - 2 * CAPTION_MM
        whole = numbered(drawings.whole, (upright[0], left))
    pictures = (_picture(plan, units), _numbered_picture(whole, whole.title))
    return Page(
        blocks=(
            _head(
                drawings,
                "plan",
                f"{_for_rooms(drawings.rooms)}sizes in {_UNITS[units]}, {_MEASURED}",
            ),
            *(pictures if way else (_beside(pictures, plan),)),
            Cautions(_CAUTIONS),
        ),
        wide=way == 0,
    )


def _beside(pictures: Sequence[Picture], first: Measured) -> Beside:
    return Beside(
        columns=tuple((each,) for each in pictures),
        widths=(first.size_mm[0], *(Share() for _ in pictures[1:])),
        gap_mm=GAP_MM,
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


def _elevation_page(drawings: SetDrawings, units: Units, format_: PageFormat) -> Page:
    on_its_side, upright = _inner(format_), _upright(format_)
    ways = tuple((way, room) for room in (on_its_side, upright) for way in Way)
    chosen, drawn = arranged(drawings.elevations, units, ways)
    way, room = ways[chosen]
    pictures = [_picture(each, units) for each in drawn]
    below = f"sizes in {_UNITS[units]}, {_MEASURED}"
    if any(each.hidden for each in drawings.elevations):  # plates behind panels alone are drawn so
        below += _PLATES
    return Page(
        blocks=(
            _head(drawings, "front and side", below),
            *((_beside(pictures, drawn[0]),) if way is Way.BESIDE else pictures),
        ),
        wide=room == on_its_side,
    )


def _tie_page(drawings: SetDrawings, tie: SectionsOfTie, units: Units, format_: PageFormat) -> Page:
    wide, high = _inner(format_)
    high -= _TITLE_MM + _ROW_MM * (len(tie.sizes) + 2) + _ROUND_MM
    _, along = arranged([tie.along], units, [(Way.BESIDE, (wide * _ALONG, high))])
    _, across = arranged(tie.across, units, [(Way.BELOW, (wide * (1.0 - _ALONG) - GAP_MM, high))])
    return Page(
        blocks=(
            _head(
                drawings,
                f"sections at the {tie.name}",
                f"sizes in {_UNITS[units]}, from the walls and from the floor",
            ),
            Beside(
                columns=tuple(
                    tuple(_picture(each, units) for each in part) for part in (along, across)
                ),
                widths=(along[0].size_mm[0], Share()),
                gap_mm=GAP_MM,
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
    drawn = numbered(unit.view, (wide - _LIST_MM - GAP_MM, high - CAPTION_MM))
    listed = Table(
        heads=_PARTS,
        widths=(None, None, Share(), Share(), None),
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
            Beside(columns=((picture,), (listed,)), widths=(Share(), _LIST_MM), gap_mm=GAP_MM),
        ),
        wide=True,
    )


def _picture(drawn: Measured, units: Units) -> Picture:
    return Picture(
        svg=measured_svg(drawn),
        width_mm=drawn.size_mm[0],
        caption=f"{drawn.title}, {told_scale(drawn.scale, units)}",
    )


def _numbered_picture(drawn: Numbered, caption: str = "") -> Picture:
    return Picture(svg=numbered_svg(drawn), width_mm=drawn.size_mm[0], caption=caption)


def _inner(format_: PageFormat) -> Room:
    """Return what a page on its side has for pictures with their captions, and for tables."""
    wide = format_.height_mm - 2 * format_.beside_mm
    high = format_.width_mm - format_.above_mm - format_.below_mm
    return wide, high - _HEAD_MM - _ROUND_MM


def _upright(format_: PageFormat) -> Room:
    """Return what a page that stands has for them."""
    return format_.text_width_mm, format_.text_height_mm - _HEAD_MM - 2 * _ROUND_MM
