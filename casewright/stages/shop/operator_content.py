"""From the nests of a job to what stands in the operator's packs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from casewright.job import Job
from casewright.stages.shop.operator_setup import (
    LYING,
    bit_rows,
    held_words,
    measures,
    not_counted,
    order_facts,
    order_words,
    risk_rows,
    setup_facts,
    sheet_rows,
    stock_rows,
    sums,
    used_bits,
)
from casewright.stages.shop.router_stage import RoutedNest, RoutedPart, RoutedSheet, RouterStage
from casewright.stages.shop.sheet_stage import ShopFiles, nest_folder, offcut_boxes
from casewright.wording import counted
from export.edge_names import edge_name
from export.file_paths import safe_names
from export.layer_table import LayerTable
from export.papers.blocks import Row
from export.rack_label import rack_label
from export.routing.machine_rates import SECONDS_PER_MINUTE, Bit
from export.shop.operator_content import OperatorPack, SecondOperation, SheetPage
from export.shop.shown_time import shown_hours, shown_minutes
from export.svg.sheet_map import MapLook, sheet_map_svg
from export.tables.csv_text import shown_size
from export.tables.edge_bore_table import edge_text, entered_edge, in_order
from parametric.lists.cut_list import Part
from parametric.shapes.panel import Edge
from parametric.stock.lengths import Units, show_closely, show_cut_length, show_diameter, show_way
from parametric.stock.materials import Grain

_MAP_TEXT, _PART_TEXT = 1 / 52, 1 / 18  # of the greater side: read on paper
_ORDER_TEXT = 0.7  # of the other texts
_STOP = "the stops meet here"

TURNING = (
    "Turn it over about its length: edge 4, at the left, stays at the left",
    "Edge 3, which was above, now lies along X, at the long stop",
    "Edge 4 lies at the short stop, on Y: the corner between the stops is the origin",
    "Nothing here cuts through. The part's edge is in the file to look at, and is not cut",
)


def operator_packs(
    job: Job, shop: ShopFiles, router: RouterStage
) -> Iterator[tuple[str, OperatorPack]]:
    """Yield for each nest a name for its file, and the pack."""
    names = safe_names(each.nest.group.material.key for each in router.nests)
    folders = [nest_folder(each.nest, names) for each in router.nests]
    files = safe_names(folders)
    for routed, folder in zip(router.nests, folders, strict=True):
        yield files[folder], _pack(job, shop, router, routed, folder)


def _pack(
    job: Job, shop: ShopFiles, router: RouterStage, routed: RoutedNest, folder: str
) -> OperatorPack:
    units, machine, nest = job.units, job.machine, routed.nest
    bits = used_bits(routed, router.bits)
    at_risk = risk_rows(routed, machine)
    sheets = counted(nest.solution.sheets, "sheet")
    return OperatorPack(
        job=job.name,
        title=f"Router: {nest.group.material.description}",
        below=f"{sheets} in {counted(nest.solution.distinct, 'layout')}, lying"
        f" {LYING[nest.group.face_up]}",
        stock=stock_rows(nest, units),
        facts=(
            *setup_facts(machine, nest, folder, shop.revision, router.assumed, units),
            *order_facts(job.cut_in_order_of),
        ),
        bits=bit_rows(routed, bits, shop.layers, units),
        not_counted=not_counted(routed, units),
        order=order_words(bool(at_risk)),
        held=held_words(machine.hold_down, bool(at_risk), units),
        risks=at_risk,
        measures=measures(
            routed.sheets[0], job.routing.tolerances.size.plus_minus_mm, shop.layers, units
        ),
        measuring="Cut sizes, before bands. Both diagonals of a part are equal where it is square."
        " Do not cut on before these are right.",
        sheets=sheet_rows(routed, units),
        sums=tuple(sums(routed, router)),
        pages=tuple(_page(each, routed, bits, shop.layers, units) for each in routed.sheets),
        turning=TURNING if routed.second else (),
        second=tuple(_second(each, bits, shop.layers, units) for each in routed.second),
        edge_bores=tuple(row for part in nest.group.parts for row in _edge_bores(part, units)),
    )


def _page(
    each: RoutedSheet, routed: RoutedNest, bits: Sequence[Bit], layers: LayerTable, units: Units
) -> SheetPage:
    entry, group, work = each.sheet.entry, routed.nest.group, each.routed.work
    labels = tuple(
        rack_label(group.material.key, group.face_up, each.number, number)
        for number in range(1, len(entry.offcuts) + 1)
    )
    grain = "grain" if group.material.grain is Grain.LENGTHWISE else ""
    svg = sheet_map_svg(
        each.sheet.read,
        layers,
        title=f"Sheet {each.number}",
        runs=entry.runs,
        units=units,
        offcuts=offcut_boxes(entry.offcuts),
        at_risk=each.sheet.at_risk,
        cut_order=each.sheet.cut_order,
        look=MapLook(
            text_share=_MAP_TEXT,
            order_share=_ORDER_TEXT,
            titled=False,
            upright=True,
            origin="origin",
            grain=grain,
            offcut_labels=labels,
        ),
    )
    size = shown_size(entry.length_mm, entry.width_mm, units)
    return SheetPage(
        title=f"Sheet {each.number} of {len(routed.sheets)}: {group.material.description}",
        below=f"{entry.file}: cut {counted(entry.runs, 'sheet')} of {entry.stock}, {size},"
        f" lying {LYING[group.face_up]}",
        map_svg=svg,
        runs=entry.runs,
        facts=(
            ("parts", str(len(each.sheet.cut_order))),
            ("path", show_way(work.path_mm, units)),
            ("plunges", str(work.plunges)),
            ("bit changes", str(work.tool_changes)),
            ("handling", shown_minutes(work.handling_s)),
            ("time of one", shown_minutes(work.seconds)),
            ("time of all", shown_hours(each.routed.seconds)),
        ),
        bits=tuple(_bits(each, bits, units)),
        offcuts=tuple(
            (label, shown_size(offcut.length_mm, offcut.width_mm, units))
            for label, offcut in zip(labels, entry.offcuts, strict=True)
        ),
    )


def _bits(each: RoutedSheet, bits: Sequence[Bit], units: Units) -> Iterator[Row]:
    for run in each.routed.work.runs:
        diameter = run.missing_mm if run.bit is None else run.bit.diameter_mm
        shown = show_diameter(diameter, units)
        if run.bit is None:
            yield "none", shown, str(run.cuts), "", ""
            continue
        path = show_way(run.path_mm, units) if run.path_mm else ""
        minutes = f"{run.seconds / SECONDS_PER_MINUTE:.1f}"
        yield str(bits.index(run.bit) + 1), shown, str(run.cuts), path, minutes


def _second(
    each: RoutedPart, bits: Sequence[Bit], layers: LayerTable, units: Units
) -> SecondOperation:
    part, routed, table = each.part, each.routed, layers.by_name()
    svg = sheet_map_svg(
        each.file.read,
        layers,
        title=part.number,
        runs=1,
        units=units,
        look=MapLook(text_share=_PART_TEXT, titled=False, upright=True, origin=_STOP),
    )
    cuts = []
    for run in routed.work.runs:
        depths = [show_closely(table[name].depth_mm or 0.0, units) for name in run.layers]
        tool = "no bit" if run.bit is None else f"bit {bits.index(run.bit) + 1}"
        cuts.append(f"{tool}: {counted(run.cuts, 'cut')}, {' and '.join(depths)} deep")
    edge = show_cut_length(part.panel.length_mm, units)
    return SecondOperation(
        title=f"{part.number}  {part.description}, {counted(part.quantity, 'time')}",
        picture_svg=svg,
        facts=(
            ("file", each.file.path),
            ("long stop", f"{edge}, edge 3"),
            ("cuts", "; ".join(cuts)),
            ("time", f"{shown_minutes(routed.work.seconds)}, all {shown_hours(routed.seconds)}"),
        ),
    )


def _edge_bores(part: Part, units: Units) -> Iterator[Row]:
    for bore in in_order(part.panel.edge_bores):
        short = entered_edge(bore) in (Edge.X_LOW, Edge.X_HIGH)
        along = bore.y if short else bore.x
        end = edge_name(Edge.Y_LOW if short else Edge.X_LOW)
        hole = (
            f"{show_diameter(bore.diameter_mm, units)}, {show_closely(bore.depth_mm, units)} deep"
        )
        yield (
            part.number,
            str(part.quantity),
            edge_text(bore),
            f"{show_cut_length(along, units)} from {end}",
            show_cut_length(bore.z_mm, units),
            hole,
        )
