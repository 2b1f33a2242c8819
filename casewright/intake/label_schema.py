"""Schema of what labels are printed on, and of which stock a job uses for which labels."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from casewright.intake.entry import Entry, LengthIn, Text
from export.labels.stock import LEAST_HEIGHT_MM, LEAST_WIDTH_MM

Count = Annotated[int, Field(ge=1, le=50)]


class LabelSheetEntry(Entry):
    """A sheet of labels."""

    width: Annotated[float, LengthIn(50, 500, "Width of the paper.")]
    height: Annotated[float, LengthIn(50, 500, "Height of the paper.")]
    columns: Annotated[Count, Field(description="Labels side by side.")]
    rows: Annotated[Count, Field(description="Labels one below the other.")]
    left: Annotated[float, LengthIn(0, 100, "From the paper's left edge to the first label.")]
    top: Annotated[float, LengthIn(0, 100, "From the paper's upper edge to the first label.")]
    pitch_across: (
        Annotated[float, LengthIn(50, 500, "From label to label across; their width if left out.")]
        | None
    ) = None
    pitch_down: (
        Annotated[float, LengthIn(25, 500, "From label to label down; their height if left out.")]
        | None
    ) = None


class LabelStockEntry(Entry):
    """Labels that can be bought, on sheets; or on a roll, without `sheet`."""

    description: Text
    width: Annotated[float, LengthIn(LEAST_WIDTH_MM, 300, "Width of a label.")]
    height: Annotated[float, LengthIn(LEAST_HEIGHT_MM, 300, "Height of a label.")]
    rim: Annotated[float, LengthIn(0, 20, "What stays free along the edges of a label.")] = 2.0
    sheet: Annotated[
        LabelSheetEntry | None, Field(description="The sheet that they are on; none: a roll.")
    ] = None


class LabelsEntry(Entry):
    """Which of the `label_stocks` is for which labels. What is left out is on the usual sheets."""

    parts: Annotated[
        Text | None, Field(description="Parts, with the sheets and offcuts that they are cut from.")
    ] = None
    bars: Annotated[Text | None, Field(description="Bundles of cleats, and angles.")] = None
    boxes: Annotated[Text | None, Field(description="The box of each room.")] = None
