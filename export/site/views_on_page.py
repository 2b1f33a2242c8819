"""The pictures of one page, laid out so that they fill the room for them."""

from __future__ import annotations

from collections.abc import Sequence

from export.site.content import StepPicture
from export.site.source import quoted
from export.site.step_drawing import scale_of, step_svg

WIDTH_MM = 180.0
_GAP_MM, _CAPTION_MM = 4.0, 7.0

Size = tuple[float, float]


def views_on_page(
    name: str, title: str, pictures: Sequence[StepPicture], height_mm: float
) -> tuple[str, list[tuple[str, str]]]:
    """Return the source that shows the pictures of a page and their files; `name` is what their
    names begin with. Nothing of no pictures.
    """
    if not pictures:
        return "", []
    columns, size = _laid_out(pictures, height_mm)
    files = [
        (f"{name}-{view}.svg", step_svg(picture, title, *size))
        for view, picture in enumerate(pictures, start=1)
    ]
    shown = ", ".join(
        f"view({quoted(file)}, {quoted(picture.caption)}, {size[0]:.2f}mm)"
        for (file, _), picture in zip(files, pictures, strict=True)
    )
    return f"#grid(columns: {columns}, column-gutter: {_GAP_MM}mm, {shown})", files


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
