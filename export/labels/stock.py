"""What labels are printed on: sheets of them, or rolls with one after the other."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from parametric.stock.paper import Paper

LEAST_WIDTH_MM, LEAST_HEIGHT_MM = 58.0, 28.0
"""What a label needs inside its rim for all that stands on it, in letters that can be read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSheet:
    """How labels lie on a sheet: the upper left corner of the first one, `left_mm` and `top_mm`
    from the paper's, and from one to the next across and down.
    """

    width_mm: float
    height_mm: float
    columns: int
    rows: int
    left_mm: float
    top_mm: float
    pitch_across_mm: float
    pitch_down_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelStock:
    """A label's size, and the `rim_mm` along its edges that stays free. Without a sheet it is that
    of a roll.
    """

    key: str
    description: str
    width_mm: float
    height_mm: float
    rim_mm: float
    sheet: LabelSheet | None = None

    @property
    def paper_mm(self) -> tuple[float, float]:
        """Width and height of what the printer takes as a page."""
        if self.sheet is None:
            return self.width_mm, self.height_mm
        return self.sheet.width_mm, self.sheet.height_mm

    def corners(self) -> Iterator[tuple[float, float]]:
        """Yield the upper left corner of each label of a page, row by row, from that of the paper,
        millimetres to the right and down.
        """
        sheet = self.sheet
        if sheet is None:
            yield 0.0, 0.0
            return
        for row in range(sheet.rows):
            for column in range(sheet.columns):
                across, down = column * sheet.pitch_across_mm, row * sheet.pitch_down_mm
                yield sheet.left_mm + across, sheet.top_mm + down


# Sizes that many makers sell: common practice, no source. The outer labels reach the paper's edge,
# where laser printers leave about 4 mm white.
_A4 = LabelStock(
    key="a4-24",
    description="A4, 24 labels of 70 x 37 mm",
    width_mm=70.0,
    height_mm=37.0,
    rim_mm=4.5,
    sheet=LabelSheet(
        width_mm=210.0,
        height_mm=297.0,
        columns=3,
        rows=8,
        left_mm=0.0,
        top_mm=0.5,
        pitch_across_mm=70.0,
        pitch_down_mm=37.0,
    ),
)
_LETTER = LabelStock(
    key="letter-10",
    description="Letter, 10 labels of 4 x 2 in",
    width_mm=101.6,
    height_mm=50.8,
    rim_mm=3.175,
    sheet=LabelSheet(
        width_mm=215.9,
        height_mm=279.4,
        columns=2,
        rows=5,
        left_mm=3.96875,
        top_mm=12.7,
        pitch_across_mm=106.3625,
        pitch_down_mm=50.8,
    ),
)
USUAL = {Paper.A4: _A4, Paper.LETTER: _LETTER}
"""What a job's labels are printed on if it names no other, by its paper."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelStocks:
    """The stock for each file of labels; None: the usual one of the job's paper. Labels of parts,
    sheets and offcuts are one file, in the order of work.
    """

    parts: LabelStock | None = None
    bars: LabelStock | None = None
    boxes: LabelStock | None = None
