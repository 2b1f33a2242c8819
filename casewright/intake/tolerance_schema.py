"""Schema of tolerances: of what is bought, of the router, of setting out on site."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from casewright.intake.entry import Entry, LengthIn, Text
from parametric.stock.tolerances import CutTolerances, SettingOut, Tolerance


class ToleranceEntry(Entry):
    """How far a size may be off; where the two ways differ, the larger of them."""

    plus_minus: Annotated[float, LengthIn(0, 5, "How far it may be off, either way.")]
    source: Annotated[Text, Field(description="Who allows it: a standard, a maker, the shop.")]


def tolerance(entry: ToleranceEntry | None) -> Tolerance | None:
    """Return the tolerance, None for none."""
    return None if entry is None else stated(entry)


def stated(entry: ToleranceEntry) -> Tolerance:
    """Return the tolerance of an entry that is there."""
    return Tolerance(plus_minus_mm=entry.plus_minus, source=entry.source)


def _entry(plain: Tolerance) -> ToleranceEntry:
    """Return a default as an entry. It is in millimetres already, so that nothing is read."""
    return ToleranceEntry.model_construct(plus_minus=plain.plus_minus_mm, source=plain.source)


_PLAIN_CUT = CutTolerances()
_PLAIN_SETTING_OUT = SettingOut()


class CutTolerancesEntry(Entry):
    """What the router keeps to. All keys may be left out."""

    size: ToleranceEntry = _entry(_PLAIN_CUT.size)
    groove: ToleranceEntry = _entry(_PLAIN_CUT.groove)
    position: ToleranceEntry = _entry(_PLAIN_CUT.position)

    def tolerances(self) -> CutTolerances:
        """Return them in the domain's own type."""
        return CutTolerances(
            size=stated(self.size), groove=stated(self.groove), position=stated(self.position)
        )


class SettingOutEntry(Entry):
    """What an installer keeps to. All keys may be left out."""

    place: ToleranceEntry = _entry(_PLAIN_SETTING_OUT.place)
    level: ToleranceEntry = _entry(_PLAIN_SETTING_OUT.level)

    def setting_out(self) -> SettingOut:
        """Return it in the domain's own type."""
        return SettingOut(place=stated(self.place), level=stated(self.level))
