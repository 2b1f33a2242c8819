"""The tables of a part's drawing."""

from __future__ import annotations

import math
from collections.abc import Sequence

from export.dimensions.reading import drawn_depth, drawn_length
from export.edge_names import EDGE_NUMBERS, edge_name
from export.papers.blocks import Row
from export.part_drawing.content import Grid
from export.part_drawing.lettered import LetteredCut, LetteredHole, lettered_edge_bores
from export.tables.edge_bore_table import edge_text
from parametric.geometry.hand import Hand
from parametric.lists.cut_list import Part, PartHand
from parametric.shapes.panel import EdgeBore, Face
from parametric.stock.amounts import KILOGRAMS, Amount
from parametric.stock.lengths import Units
from parametric.stock.materials import Grain

FACES = {Face.UP: "upper", Face.DOWN: "lower"}
_HANDS = {
    PartHand.EITHER: "for either hand",
    PartHand.RIGHT: "for the right hand only",
    PartHand.LEFT: "for the left hand only",
}
HOLE_HEADS = ("hole", "x", "y", "diameter", "depth", "face")
CUT_HEADS = ("cut", "what", "face", "depth", "corner radius", "length", "width")
CHANNEL_HEADS = (*CUT_HEADS, "channel")
"""Where a groove turns corners."""

EDGE_HOLE_HEADS = (
    *("edge hole", "into", "x", "y", "above lower face"),
    *("diameter", "depth", "way in"),
)
THROUGH = "through"


def facts(part: Part, pieces: Sequence[str], units: Units) -> Grid:
    """Return what the part is, a row for each fact; `pieces` is what the shop joins it into."""
    panel = part.panel

    def size(*sides_mm: float) -> str:
        return " x ".join(drawn_length(side, units) for side in sides_mm)

    grained = part.material.grain is Grain.LENGTHWISE
    bands = [
        (
            f"band, {edge_name(each.edge)}",
            f"{each.band.key}, {drawn_length(each.band.thickness_mm, units)}",
        )
        for each in sorted(part.banding, key=lambda each: EDGE_NUMBERS[each.edge])
    ]
    rows = (
        ("unit", ", ".join(part.units)),
        ("hand", _HANDS[part.hand]),
        ("make", str(part.quantity)),
        *((("joined into", ", ".join(pieces)),) if pieces else ()),
        ("material", part.material.description),
        ("formaldehyde", part.material.formaldehyde or "not stated"),
        ("thickness", drawn_length(panel.thickness_mm, units)),
        ("size as cut", size(panel.length_mm, panel.width_mm)),
        ("size finished", size(part.finished_length_mm, part.finished_width_mm)),
        ("grain", "along the length" if grained else "none"),
        *(bands or [("bands", "none")]),
        ("seen face", _seen(part)),
        ("mass of one", Amount(part.mass_kg, KILOGRAMS).shown(units)),
    )
    hand = None if part.hand is PartHand.EITHER else Hand(part.hand.value)
    return Grid(title="", heads=("part", part.number), rows=rows, hand=hand)


def _seen(part: Part) -> str:
    if not part.show_faces:
        return "none"
    return "both" if len(part.show_faces) == len(Face) else FACES[part.show_faces[0]]


def holes(listed: Sequence[LetteredHole], units: Units) -> Grid:
    """Return the holes, a row for each, measured from the corner that is marked 0."""
    rows = []
    for hole in listed:
        bore = hole.bore
        deep = bore.depth_mm
        sizes = [drawn_length(mm, units) for mm in (bore.x, bore.y, bore.diameter_mm)]
        depth = THROUGH if deep is None else drawn_depth(deep, units)
        face = "both" if deep is None else FACES[bore.face]
        rows.append((hole.letter, *sizes, depth, face))
    return Grid(title="Holes", heads=HOLE_HEADS, rows=tuple(rows))


def cuts(listed: Sequence[LetteredCut], units: Units) -> Grid:
    """Return grooves, openings and notches, a row for each."""
    heads = CHANNEL_HEADS if any(cut.channels_mm for cut in listed) else CUT_HEADS
    rows = tuple(_cut_row(cut, units)[: len(heads)] for cut in listed)
    return Grid(title="Grooves, openings, notches", heads=heads, rows=rows)


def _cut_row(cut: LetteredCut, units: Units) -> Row:
    through = cut.depth_mm is None
    return (
        cut.mark,
        cut.what,
        "both" if through else FACES[cut.face],
        THROUGH if cut.depth_mm is None else drawn_depth(cut.depth_mm, units),
        _corner(cut, units),
        drawn_length(cut.length_mm, units),
        drawn_length(cut.width_mm, units),
        ", ".join(drawn_length(mm, units) for mm in cut.channels_mm),
    )


def _corner(cut: LetteredCut, units: Units) -> str:
    if cut.overcut_mm is not None:
        return f"overcut {drawn_length(cut.overcut_mm, units)}"
    return "" if cut.corner_mm is None else drawn_length(cut.corner_mm, units)


def edge_holes(bores: Sequence[EdgeBore], units: Units) -> Grid:
    """Return the holes into edges; the way in is the angle of the bit's way to the length."""
    rows = tuple(
        (
            mark,
            edge_text(bore),
            *(drawn_length(mm, units) for mm in (bore.x, bore.y, bore.z_mm)),
            drawn_length(bore.diameter_mm, units),
            drawn_depth(bore.depth_mm, units),
            _angle(bore),
        )
        for mark, bore in lettered_edge_bores(bores)
    )
    return Grid(title="Holes into edges", heads=EDGE_HOLE_HEADS, rows=rows)


def _angle(bore: EdgeBore) -> str:
    degrees = math.degrees(math.atan2(bore.direction_y, bore.direction_x)) % 360.0
    return f"{degrees:.1f}".removesuffix(".0") + "\N{DEGREE SIGN}"
