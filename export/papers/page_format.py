"""Sizes of pages, and what is left free at their edges."""

from __future__ import annotations

from dataclasses import dataclass

from parametric.stock.paper import Paper

# ISO 216 and ASME Y14.1, width and height of a page that stands.
_SIZES_MM = {Paper.A4: (210.0, 297.0), Paper.LETTER: (215.9, 279.4)}


@dataclass(frozen=True, slots=True, kw_only=True)
class PageFormat:
    """A page that stands, and its margins; the foot is in the lower one."""

    width_mm: float
    height_mm: float
    beside_mm: float = 15.0
    above_mm: float = 14.0
    below_mm: float = 18.0

    @property
    def text_width_mm(self) -> float:
        """The width between the margins."""
        return self.width_mm - 2 * self.beside_mm

    @property
    def text_height_mm(self) -> float:
        """The height between the margins."""
        return self.height_mm - self.above_mm - self.below_mm


def page_format(paper: Paper) -> PageFormat:
    """Return how pages of a paper are laid out."""
    width_mm, height_mm = _SIZES_MM[paper]
    return PageFormat(width_mm=width_mm, height_mm=height_mm)
