"""The pictures of one page, laid out so that they fill the room for them."""

from __future__ import annotations

from collections.abc import Sequence

from export.papers.blocks import Beside, Picture, Share
from export.site.content import StepPicture
from export.site.step_drawing import scale_of, step_svg

WIDTH_MM = 180.0
_GAP_MM, _CAPTION_MM = 4.0, 7.0

Size = tuple[float, float]


def views_on_page(
    title: str, pictures: Sequence[StepPicture], height_mm: float
) -> tuple[Beside, ...]:
    """Return the block that shows the pictures of a page; nothing of no pictures."""
    if not pictures:
        return ()
    columns, size = _laid_out(pictures, height_mm)
    shown = tuple(
        (Picture(svg=step_svg(each, title, *size), width_mm=size[0], caption=each.caption),)
        for each in pictures
    )
    return (Beside(columns=shown, widths=(Share(),) * columns, gap_mm=_GAP_MM),)


def _laid_out(pictures: Sequence[StepPicture], height_mm: float) -> tuple[int, Size]:
    """Return in how many columns the pictures stand, and the width and height of each: whatever
    draws the smallest of them largest.
    """
    best: tuple[float, int, Size] | None = None
    for columns in range(1, len(pictures) + 1):
        rows = -(-len(pictures) // columns)
        size = (
            (WIDTH_MM - _GAP_MM * (columns - 1)) / columns,
            height_mm / rows - _CAPTION_MM,
        )
        scale = min(scale_of(picture, *size) for picture in pictures)
        if best is None or scale > best[0]:
            best = (scale, columns, size)
    assert best is not None
    return best[1], best[2]
