"""What a set may be asked to make up for on site."""

from __future__ import annotations

from dataclasses import dataclass, field

from parametric.stock.tolerances import SettingOut


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """Limits of what is closed, scribed, shimmed and levelled; common practice, no source.

    `least_gap_mm` is what a set needs beside it to go in at all; below `tight_gap_mm` it goes in
    with care. A gap of up to `most_filler_mm` is closed by a filler; a wider one stays open. A
    stud, or blocking, counts as met when the screw lies at least `stud_edge_mm` from its edges. A
    wall screw must bite `least_bite_mm` into wood behind the lining. `setting_out` is how near
    units come to their marks.
    """

    least_gap_mm: float = 3.0
    tight_gap_mm: float = 6.0
    most_filler_mm: float = 50.0
    most_scribe_mm: float = 20.0
    most_levelling_mm: float = 15.0
    stud_width_mm: float = 38.0
    stud_edge_mm: float = 8.0
    least_bite_mm: float = 25.0
    setting_out: SettingOut = field(default_factory=SettingOut)

    def closing(self, gap_mm: float) -> str:
        """Return what becomes of a gap beyond a set: a filler closes it, or it stays open."""
        return "filler" if self.closes(gap_mm) else "open"

    def closes(self, gap_mm: float) -> bool:
        """Return whether a filler closes a gap beyond a set."""
        return gap_mm <= self.most_filler_mm
