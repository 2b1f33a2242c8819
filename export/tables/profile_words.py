"""Profiles of bars in the units of a job."""

from __future__ import annotations

from parametric.stock.lengths import Units, show_length

_IN_MM = " mm"


def profile_shown(profile: str, units: Units) -> str:
    """Return the sides of a profile as people read them in `units`; lists name them in exact
    millimetres, `19.05 x 38.1 mm`. What has none is left as it is.
    """
    if units is Units.MM or not profile.endswith(_IN_MM):
        return profile
    sides = profile.removesuffix(_IN_MM).split(" x ")
    return " x ".join(show_length(float(side), units) for side in sides)
