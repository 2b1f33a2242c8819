"""Several sheets cut at once: books of a layout that is run more than once.

Numbers of cuts and fence settings only: how long they take depends on the shop.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil, floor, isfinite

from nesting.edge_to_edge.cuts import CutSequence
from nesting.question.errors import Fault, raise_if_any, too_low

_GUARD = 1e-9
"""Float noise that costs no sheet: five sheets of 19.1 mm fit under 95.5 mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutBooks:
    """How one layout is cut in books: `runs` sheets, up to `sheets_at_once` in a load."""

    runs: int
    sheets_at_once: int
    cuts_per_load: int
    settings_per_load: int

    @property
    def loads(self) -> int:
        """Return how often sheets are laid on the saw; the last load may be smaller."""
        return ceil(self.runs / self.sheets_at_once)

    @property
    def last_load(self) -> int:
        """Return how many sheets are in the last load."""
        return self.runs - (self.loads - 1) * self.sheets_at_once

    @property
    def cuts(self) -> int:
        """Return the cuts of all loads."""
        return self.loads * self.cuts_per_load

    @property
    def settings(self) -> int:
        """Return the fence settings of all loads."""
        return self.loads * self.settings_per_load

    @property
    def cuts_saved(self) -> int:
        """Return the cuts fewer than sheet by sheet."""
        return (self.runs - self.loads) * self.cuts_per_load


@dataclass(frozen=True, slots=True, kw_only=True)
class SawWorkload:
    """The books of all layouts of a nest, in their order."""

    layouts: tuple[LayoutBooks, ...]

    @property
    def loads(self) -> int:
        """Return how often sheets are laid on the saw."""
        return sum(layout.loads for layout in self.layouts)

    @property
    def cuts(self) -> int:
        """Return the cuts of all loads."""
        return sum(layout.cuts for layout in self.layouts)

    @property
    def settings(self) -> int:
        """Return the fence settings of all loads."""
        return sum(layout.settings for layout in self.layouts)

    @property
    def cuts_saved(self) -> int:
        """Return the cuts fewer than sheet by sheet."""
        return sum(layout.cuts_saved for layout in self.layouts)


def saw_workload(
    sequences: Iterable[tuple[CutSequence, int]], *, thickness_mm: float, largest_book_mm: float
) -> SawWorkload:
    """Return the books for layouts given as their cuts and how many sheets are cut so.

    A book is as many whole sheets of `thickness_mm` as stay within `largest_book_mm`.

    Raises:
        InvalidInstance: a height that is not a positive number, a book lower than one sheet, or
            fewer runs than one.
    """
    heights = {"sheet thickness": thickness_mm, "largest book": largest_book_mm}
    faults = [
        Fault(where=name, found=f"{height} mm", allowed="more than 0")
        for name, height in heights.items()
        if not isfinite(height) or height <= 0
    ]
    raise_if_any(faults)
    at_once = floor(largest_book_mm / thickness_mm + _GUARD)
    if at_once < 1:
        faults.append(
            Fault(
                where="largest book",
                found=f"{largest_book_mm} mm",
                allowed=f"one sheet of {thickness_mm} mm or more",
            )
        )
    pairs = list(sequences)
    faults += [fault for _, runs in pairs for fault in too_low("runs", runs, 1)]
    raise_if_any(faults)
    return SawWorkload(
        layouts=tuple(
            LayoutBooks(
                runs=runs,
                sheets_at_once=min(at_once, runs),
                cuts_per_load=len(sequence.cuts),
                settings_per_load=len(sequence.settings),
            )
            for sequence, runs in pairs
        )
    )
