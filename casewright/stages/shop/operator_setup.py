"""What the operator sets up by: stock, bits, parts at risk, what is measured on the first sheet."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence

from casewright.job import CutInOrderOf, Machine
from casewright.stages.nest.nest_stage import Nest
from casewright.stages.shop.router_stage import RoutedNest, RoutedSheet, RouterStage
from casewright.stages.shop.sheet_stage import hold_limits
from export.layer_table import LayerRole, LayerTable
from export.papers.blocks import Row
from export.routing.machine_rates import Bit, BitRole, Held, HoldDown
from export.routing.router_work import BitRun
from export.shop.shown_time import shown_hours, shown_minutes
from export.tables.csv_text import shown_size
from nesting.after.vacuum_risk import risks
from parametric.geometry.outline import Bounds, Outline
from parametric.lists.face_up import FaceUp
from parametric.stock.lengths import (
    MM_PER_INCH,
    Units,
    show_closely,
    show_cut_length,
    show_diameter,
    show_feed,
    show_fine_length,
    show_length,
    show_way,
)
from parametric.stock.materials import Grain

_MEASURED = 3  # parts of the first sheet
_CORNER_MM = 0.01

LYING = {
    FaceUp.FRONT: "good face up",
    FaceUp.BACK: "good face down",
    FaceUp.EITHER: "either face up",
}

_ORDER = (
    "Holes, one drill after the other",
    "Grooves and recesses",
    "Openings",
    "Outlines, in the order of the numbers in circles on the map",
)


def order_words(any_at_risk: bool) -> tuple[str, ...]:
    """Return in which order all is cut on a sheet."""
    if not any_at_risk:
        return _ORDER
    return (*_ORDER[:-1], f"{_ORDER[-1]}: those that the table may not hold come last")


def stock_rows(nest: Nest, units: Units) -> tuple[Row, ...]:
    """Return how many sheets of which stock are pulled, and how they lie."""
    counts: Counter[str] = Counter()
    for layout in nest.solution.layouts:
        counts[layout.stock] += layout.runs
    return tuple(
        (
            stock.key,
            shown_size(stock.length_mm, stock.width_mm, units),
            LYING[nest.group.face_up],
            str(counts[stock.key]),
        )
        for stock in nest.group.material.stock
        if counts[stock.key]
    )


def order_facts(in_order_of: CutInOrderOf) -> tuple[Row, ...]:
    """Return in which order sheets are cut, where that is not the order of the pages: labels and
    the sorting plan follow it too.
    """
    if in_order_of is CutInOrderOf.LAYOUTS:
        return ()
    order = "room by room, not in the order of these pages: as shop/sorting.pdf lists them"
    return (("order of sheets", f"{order}; labels come in that order"),)


def setup_facts(
    machine: Machine, nest: Nest, folder: str, revision: str, assumed: bool, units: Units
) -> tuple[Row, ...]:
    """Return what is told before the first sheet."""
    material = nest.group.material
    left, right, bottom, top = (show_length(edge, units) for edge in machine.edges_mm)
    even = len({left, right, bottom, top}) == 1
    edges = f"{left} along every edge"
    if not even:
        edges = f"{left} at the left end, {right} at the right, {bottom} below, {top} above"
    grain = "along X" if material.grain is Grain.LENGTHWISE else "none to keep to"
    facts = (
        ("machine", machine.name),
        (
            "material",
            f"{material.description}, {show_cut_length(material.thickness_mm, units)} thick",
        ),
        ("files", f"shop/sheets/{folder}/, in millimetres; cut files of revision {revision}"),
        ("origin", "the lower left corner of the sheet, as its map shows it"),
        ("axes", "X along the sheet, Y across it, depths from the face that lies up"),
        ("grain", grain),
        ("waste", f"{edges}; {show_length(machine.gap_mm, units)} between parts"),
        ("held by", machine.hold_down.table.value),
    )
    if not assumed:
        return facts
    return (*facts, ("bits", "the machine file lists none: bits and feeds below are assumed"))


def used_bits(routed: RoutedNest, bits: Sequence[Bit]) -> tuple[Bit, ...]:
    """Return the bits that the nest needs, in the order of the machine; counted from 1 on paper."""
    used = {run.bit for file in routed.files for run in file.work.runs}
    return tuple(bit for bit in bits if bit in used)


def bit_rows(
    routed: RoutedNest, bits: Sequence[Bit], layers: LayerTable, units: Units
) -> tuple[Row, ...]:
    """Return each bit with the layers that it runs, in the order of the layer table."""
    table = layers.by_name()
    rows = []
    for number, bit in enumerate(bits, start=1):
        runs = [run for file in routed.files for run in file.work.runs if run.bit == bit]
        names = {name for run in runs for name in run.layers}
        told = [
            name if table[name].depth_mm is None else f"{name} ({show_closely(depth, units)} deep)"
            for name in table
            if name in names
            for depth in (table[name].depth_mm or 0.0,)
        ]
        most = bit.pass_depth_mm
        roles = ", ".join(role.value for role in bit.roles)
        rows.append(
            (
                str(number),
                f"{bit.name} ({roles})",
                show_diameter(bit.diameter_mm, units),
                ", ".join(told),
                show_feed(bit.feed_mm, units),
                show_feed(bit.plunge_mm, units),
                "any" if most is None else show_closely(most, units),
            )
        )
    return tuple(rows)


def not_counted(routed: RoutedNest, units: Units) -> tuple[str, ...]:
    """Return what no bit of the machine file can cut, each diameter or width once."""
    found: dict[tuple[bool, str], list[BitRun]] = {}
    for file in routed.files:
        for run in file.work.missing:
            key = run.role is BitRole.BORE, show_diameter(run.missing_mm, units)
            found.setdefault(key, []).extend([run] * file.runs)
    return tuple(
        f"No {'drill of' if drilled else 'bit that goes into'} {size} in the machine file, for"
        f" {sum(run.cuts for run in runs)} cuts on layer"
        f" {', '.join(dict.fromkeys(name for run in runs for name in run.layers))}: put it into the"
        " rack. Its time is not counted below."
        for (drilled, size), runs in found.items()
    )


def risk_rows(routed: RoutedNest, machine: Machine) -> tuple[Row, ...]:
    """Return the parts that the table may not hold, why, and on which sheets they lie."""
    nest, limits = routed.nest, hold_limits(machine)
    found: dict[tuple[str, str], list[str]] = {}
    for number, layout in enumerate(nest.solution.layouts, start=1):
        for risk in risks(nest.instance, layout, limits):
            part = layout.placements[risk.placement].piece
            key = part, " and ".join(kind.value for kind in risk.kinds)
            found.setdefault(key, []).append(str(number))
    return tuple(
        (part, why, ", ".join(dict.fromkeys(sheets))) for (part, why), sheets in found.items()
    )


def held_words(hold: HoldDown, any_at_risk: bool, units: Units) -> str:
    """Return how small parts are held, as the machine file says."""
    if not any_at_risk:
        return "None on these sheets."
    match hold.small_parts:
        case Held.SKIN:
            return (
                f"Leave a skin of {show_fine_length(hold.skin_mm, units)} under them and part it"
                " when the sheet is done. The file cuts right through: set it at the control."
            )
        case Held.TABS:
            return (
                "Leave tabs from them to what is around them, and part these when the sheet is"
                " done. The file has none: set them at the control."
            )
        case Held.RIM:
            return (
                "Screw or clamp the waste around them to the table before their outlines are cut,"
                " clear of the bit's way; they are cut last."
            )


def measures(sheet: RoutedSheet, plus_minus_mm: float, layers: LayerTable, units: Units) -> Rows:
    """Return a few parts of the first sheet with what they must measure: the largest ones with four
    square corners, or else the largest. A diagonal of L x W with sides off by t is off by
    t (L + W) / diagonal at most, of which as much is allowed as a rule or a calliper tells.
    """
    drawing = sheet.sheet.read.drawing
    outlines = [p for p in drawing.paths if p.layer in layers.names_of(LayerRole.OUTLINE)]
    listed: dict[str, tuple[Bounds, bool]] = {}
    for path, label in zip(outlines, drawing.labels, strict=True):
        listed.setdefault(label.text, (path.outline.bounds, _four_corners(path.outline)))
    order = sorted(listed.items(), key=lambda item: (not item[1][1], -_area(item[1][0]), item[0]))
    rows = []
    for number, (box, square) in order[:_MEASURED]:
        length, width = box.x1 - box.x0, box.y1 - box.y0
        diagonal = math.hypot(length, width)
        least = 0.1 if units is Units.MM else 0.001 * float(MM_PER_INCH)
        off = math.floor(plus_minus_mm * (length + width) / diagonal / least) * least
        told = f"{_as_measured(diagonal, units)} ± {_as_measured(off, units)}"
        sides = (
            f"{_as_measured(side, units)} ± {_as_measured(plus_minus_mm, units)}"
            for side in (length, width)
        )
        rows.append((number, *sides, told if square else "none: its corners are not square", ""))
    return tuple(rows)


def _as_measured(mm: float, units: Units) -> str:
    return show_length(mm, units) if units is Units.MM else show_closely(mm, units)


Rows = tuple[Row, ...]


def sheet_rows(routed: RoutedNest, units: Units) -> Rows:
    """Return each layout with its runs, path and time."""
    return tuple(
        (
            str(each.number),
            each.sheet.entry.stock,
            str(each.routed.runs),
            str(len(each.sheet.cut_order)),
            show_way(each.routed.work.path_mm, units),
            shown_minutes(each.routed.work.seconds),
            shown_hours(each.routed.seconds),
        )
        for each in routed.sheets
    )


def sums(routed: RoutedNest, router: RouterStage) -> Iterator[Row]:
    """Yield the time of the sheets, of second operations, of the pack and of the job."""
    yield "sheets", shown_hours(math.fsum(each.routed.seconds for each in routed.sheets))
    if routed.second:
        second = math.fsum(each.routed.seconds for each in routed.second)
        yield "second operations", shown_hours(second)
        yield "this pack", shown_hours(routed.seconds)
    job = "the whole job" if router.whole else "the job, without materials that lack stock"
    yield job, shown_hours(math.fsum(nest.seconds for nest in router.nests))


def _four_corners(outline: Outline) -> bool:
    box = outline.bounds
    corners = [(x, y) for x in (box.x0, box.x1) for y in (box.y0, box.y1)]
    return all(
        any(math.dist(corner, (v.x, v.y)) <= _CORNER_MM for v in outline.vertices)
        for corner in corners
    )


def _area(box: Bounds) -> float:
    return (box.x1 - box.x0) * (box.y1 - box.y0)
