"""Whether a board of some size can be cut from the stock of a material."""

from __future__ import annotations

from parametric.stock.materials import Grain, SheetMaterial


def spare_mm(
    material: SheetMaterial, along_mm: float, across_mm: float, sheet_trim_mm: float
) -> float:
    """Return the lesser of the spare length and width on the stock sheet that leaves most.

    `along_mm` runs along the sheet, or across it where the material has no grain. Negative when no
    sheet holds the board.
    """
    sizes = [(along_mm, across_mm)]
    if material.grain is Grain.NONE:
        sizes.append((across_mm, along_mm))
    return max(
        min(
            sheet.length_mm - 2 * sheet_trim_mm - length,
            sheet.width_mm - 2 * sheet_trim_mm - width,
        )
        for sheet in material.stock
        for length, width in sizes
    )
