"""Schema of the router: in a file of its own, or in the job file."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from casewright.intake.bit_schema import BitEntry, BitName, HoldDownEntry, TimesEntry
from casewright.intake.entry import Entry, LengthIn, Text
from casewright.intake.tolerance_schema import CutTolerancesEntry
from casewright.job import OffcutSize, Saw, SmallParts
from export.dxf_version import DxfVersion
from export.layer_names import LayerNames
from parametric.shapes.routing import CornerRelief
from parametric.stock.lengths import Units

_PLAIN = LayerNames()
_PLAIN_SAW = Saw()
_PLAIN_OFFCUT = OffcutSize()
_PLAIN_SMALL = SmallParts()

LayerName = Annotated[str, Field(max_length=60)]


class LayerNamesEntry(Entry):
    """Names of the layers in cut files; `{depth}` and `{diameter}` are filled in."""

    sheet: LayerName = _PLAIN.sheet
    outline: LayerName = _PLAIN.outline
    opening: LayerName = _PLAIN.opening
    groove: LayerName = _PLAIN.groove
    bore: LayerName = _PLAIN.bore
    bore_through: LayerName = _PLAIN.bore_through
    text: LayerName = _PLAIN.text
    back_suffix: LayerName = _PLAIN.back_suffix


class SawEntry(Entry):
    """The saw that cuts cleats and steel angles from bars."""

    kerf: Annotated[float, LengthIn(0, 10, "Width of its cut.")] = _PLAIN_SAW.kerf_mm
    end_trim: Annotated[float, LengthIn(0, 200, "Lost at each end of a bar, the cut included.")] = (
        _PLAIN_SAW.end_trim_mm
    )
    reusable: Annotated[float, LengthIn(1, 5000, "Shortest rest of a bar that is kept.")] = (
        _PLAIN_SAW.reusable_mm
    )


class EdgeTrimEntry(Entry):
    """Edges of a sheet along which more or less is left than `sheet_trim`."""

    left: Annotated[float | None, LengthIn(0, 200, "At the start of the sheet's length.")] = None
    right: Annotated[float | None, LengthIn(0, 200, "At the end of the sheet's length.")] = None
    bottom: Annotated[float | None, LengthIn(0, 200, "Along the sheet's lower side.")] = None
    top: Annotated[float | None, LengthIn(0, 200, "Along the sheet's upper side.")] = None


class OffcutEntry(Entry):
    """The least offcut of a sheet that is kept, whichever way it lies."""

    length: Annotated[float, LengthIn(10, 5000, "Its longer side.")] = _PLAIN_OFFCUT.length_mm
    width: Annotated[float, LengthIn(10, 5000, "Its shorter side.")] = _PLAIN_OFFCUT.width_mm


class SmallPartsEntry(Entry):
    """Parts that a vacuum table may not hold: marked on the sheet maps, and cut last."""

    area_cm2: Annotated[
        float, Field(ge=0, le=10_000, description="Parts smaller than this are marked.")
    ] = _PLAIN_SMALL.area_cm2
    aspect: Annotated[
        float,
        Field(
            ge=1, le=1000, description="Parts more than this many times as long as wide are marked."
        ),
    ] = _PLAIN_SMALL.aspect
    rim_side: Annotated[
        float | None, LengthIn(1, 5000, "Parts with no longer side stay away from the rim.")
    ] = _PLAIN_SMALL.rim_side_mm
    rim: Annotated[
        float | None, LengthIn(0.1, 500, "How far they stay from the trimmed edges.")
    ] = _PLAIN_SMALL.rim_mm


class BedEntry(Entry):
    """The table of the router, as far as the bit reaches."""

    length: Annotated[float, LengthIn(300, 10_000, "The way a sheet's length lies.")]
    width: Annotated[float, LengthIn(300, 5000, "Across it.")]


class MachineEntry(Entry):
    """The router that cuts the parts, and the saw for bars."""

    name: Text
    sheet_trim: Annotated[float, LengthIn(0, 100, "Left along every edge of a sheet.")]
    gap: Annotated[float, LengthIn(0, 100, "Left between parts; the bit must pass through it.")]
    bit_diameter: Annotated[float, LengthIn(1, 30, "Bit that cuts outlines and openings.")]
    corner_relief: Annotated[
        CornerRelief,
        Field(strict=False, description="How inside corners take a square member."),
    ]
    pre_mill: Annotated[float, LengthIn(0, 5, "Milled off each edge before it is banded.")]
    largest_drill: Annotated[float, LengthIn(1, 60, "Larger holes are routed.")]
    dxf_version: Annotated[
        DxfVersion, Field(strict=False, description="Release of the cut files.")
    ] = DxfVersion.R2010
    layer_names: LayerNamesEntry = LayerNamesEntry()
    saw: SawEntry = SawEntry()
    edge_trim: EdgeTrimEntry = EdgeTrimEntry()
    offcut: OffcutEntry = OffcutEntry()
    small_parts: SmallPartsEntry = SmallPartsEntry()
    bed: Annotated[BedEntry | None, Field(description="Its table; no check if it is left out.")] = (
        None
    )
    tolerances: CutTolerancesEntry = CutTolerancesEntry()
    bits: Annotated[
        dict[BitName, BitEntry],
        Field(description="Its bits by name; feeds are assumed if they are left out."),
    ] = {}  # noqa: RUF012  # pydantic copies it
    times: TimesEntry = TimesEntry()
    hold_down: HoldDownEntry = HoldDownEntry()


class MachineFile(MachineEntry):
    """A machine file: one router, for many jobs."""

    units: Annotated[
        Units, Field(strict=False, description="What bare numbers in this file count.")
    ]
