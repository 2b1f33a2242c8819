"""What labels are printed on: faults beyond the schema, and the domain's own type."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.errors import Fault
from casewright.intake.catalogue import Catalogue, units_of
from casewright.intake.document import Document, KeyPath, shown
from casewright.intake.label_schema import LabelsEntry, LabelStockEntry
from casewright.intake.to_domain import in_domain
from export.labels.stock import (
    LEAST_HEIGHT_MM,
    LEAST_WIDTH_MM,
    LabelSheet,
    LabelStock,
    LabelStocks,
)
from parametric.stock.lengths import Units, show_length

_AT = "labels"
_SLACK_MM = 1e-6  # of sums of lengths in floats


def label_faults(document: Document, catalogue: Catalogue) -> Iterator[Fault]:
    """Yield what is wrong with the label stocks of a job and its libraries, and with the names of
    those that it uses, beyond what the schema says.
    """
    for item in catalogue.shelves[LabelStockEntry].values():
        if isinstance(item.entry, LabelStockEntry):
            units = units_of(item.document) or Units.MM
            for keys, allowed in _misfits(item.entry, units):
                at: KeyPath = (*item.key_path, *keys)
                found = shown(item.document.at(at))
                yield item.document.fault(at, found=found, allowed=allowed)
    for use, name in document.map_at((_AT,)).items():
        if isinstance(name, str) and use in LabelsEntry.model_fields:
            unknown = catalogue.unknown(LabelStockEntry, name)
            if unknown is not None:
                found = f"no label stock named {shown(name)}"
                yield document.fault((_AT, use), found=found, allowed=unknown)


def _misfits(entry: LabelStockEntry, units: Units) -> Iterator[tuple[tuple[str, ...], str]]:
    """Yield by its keys each length that goes with no other, and what is allowed there."""
    for key, length_mm, least_mm in (
        ("width", entry.width, LEAST_WIDTH_MM),
        ("height", entry.height, LEAST_HEIGHT_MM),
    ):
        if length_mm - 2 * entry.rim < least_mm - _SLACK_MM:
            least = show_length(least_mm + 2 * entry.rim, units)
            rim = show_length(entry.rim, units)
            yield (key,), f"at least {least}: what stands on a label, and twice the rim of {rim}"
    sheet = entry.sheet
    if sheet is None:
        return
    for key, label_mm, (pitch, pitch_mm, count, first_mm, paper_mm) in (
        (
            "width",
            entry.width,
            ("pitch_across", sheet.pitch_across, sheet.columns, sheet.left, sheet.width),
        ),
        (
            "height",
            entry.height,
            ("pitch_down", sheet.pitch_down, sheet.rows, sheet.top, sheet.height),
        ),
    ):
        if pitch_mm is not None and pitch_mm < label_mm - _SLACK_MM:
            allowed = f"at least the label's {key} ({show_length(label_mm, units)})"
            yield ("sheet", pitch), allowed
        reach_mm = first_mm + (count - 1) * (pitch_mm or label_mm) + label_mm
        if reach_mm > paper_mm + _SLACK_MM:
            yield ("sheet", key), f"at least {show_length(reach_mm, units)}, where its labels end"


def label_stocks(entry: LabelsEntry, catalogue: Catalogue) -> LabelStocks:
    """Return the stocks that a job names, in the domain's own type.

    Raises:
        KeyError: one is missing or faulty.
    """

    def named(name: str | None) -> LabelStock | None:
        return None if name is None else _stock(name, catalogue.get(LabelStockEntry, name))

    return LabelStocks(parts=named(entry.parts), bars=named(entry.bars), boxes=named(entry.boxes))


def _stock(name: str, entry: LabelStockEntry) -> LabelStock:
    sheet = entry.sheet
    made = None
    if sheet is not None:
        across = entry.width if sheet.pitch_across is None else sheet.pitch_across
        down = entry.height if sheet.pitch_down is None else sheet.pitch_down
        made = in_domain(LabelSheet, sheet, pitch_across_mm=across, pitch_down_mm=down)
    return in_domain(LabelStock, entry, key=name, sheet=made)
