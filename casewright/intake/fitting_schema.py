"""Schema of what sets may be asked to make up for in rooms."""

from __future__ import annotations

from typing import Annotated

from casewright.intake.entry import Entry, LengthIn
from casewright.intake.to_domain import in_domain
from casewright.intake.tolerance_schema import SettingOutEntry
from parametric.rooms.fitting import Fitting

_PLAIN = Fitting()


class FittingEntry(Entry):
    """What measured rooms may ask of a set. All keys may be left out."""

    least_gap: Annotated[float, LengthIn(0, 100, "Room that a set needs beyond its far end.")] = (
        _PLAIN.least_gap_mm
    )
    tight_gap: Annotated[float, LengthIn(0, 200, "With less room it goes in with care.")] = (
        _PLAIN.tight_gap_mm
    )
    most_filler: Annotated[float, LengthIn(0, 500, "Widest gap that a filler closes.")] = (
        _PLAIN.most_filler_mm
    )
    most_scribe: Annotated[float, LengthIn(0, 100, "Widest wedge that is scribed.")] = (
        _PLAIN.most_scribe_mm
    )
    most_levelling: Annotated[float, LengthIn(0, 100, "Most under legs and bases.")] = (
        _PLAIN.most_levelling_mm
    )
    stud_width: Annotated[float, LengthIn(20, 150, "Face of a stud.")] = _PLAIN.stud_width_mm
    stud_edge: Annotated[
        float, LengthIn(0, 40, "A screw stays so far from the edges of studs and blocking.")
    ] = _PLAIN.stud_edge_mm
    least_bite: Annotated[
        float, LengthIn(5, 100, "Thread of a wall screw in the wood behind the lining.")
    ] = _PLAIN.least_bite_mm
    setting_out: SettingOutEntry = SettingOutEntry()

    def fitting(self) -> Fitting:
        """Return the figures in the domain's own type."""
        return in_domain(Fitting, self, setting_out=self.setting_out.setting_out())
