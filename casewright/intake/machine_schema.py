"""Schema of the router: in a file of its own, or in the job file."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from casewright.intake.entry import Entry, LengthIn, Text
from export.dxf_version import DxfVersion
from export.layer_names import LayerNames
from parametric.lengths import Units
from parametric.routing import CornerRelief

_PLAIN = LayerNames()

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


class MachineEntry(Entry):
    """The router that cuts the parts."""

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


class MachineFile(MachineEntry):
    """A machine file: one router, for many jobs."""

    units: Annotated[
        Units, Field(strict=False, description="What bare numbers in this file count.")
    ]
