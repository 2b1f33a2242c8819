"""Sets that could not be built at all, told as the job file says it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from casewright.intake.misfit import Misfit
from parametric.geometry.space import SAME_MM
from parametric.sets.composition import SetSizes
from parametric.sets.soundness import unsound
from parametric.stock.construction import Construction
from parametric.stock.lengths import MM_PER_INCH, SHOWN_INCH, Units, show_length
from parametric.units.family import Limit


def set_misfits(sizes: SetSizes, construction: Construction, units: Units) -> Iterator[Misfit]:
    """Yield what of a set does not go together or is missing, lengths shown in `units`."""
    for each in unsound(sizes, construction):
        if isinstance(each, Limit):
            allowed = _allowed(each.least_mm, each.most_mm, each.reason, units)
            yield Misfit(each.keys, show_length(each.value_mm, units), allowed)
        else:
            yield Misfit(*each)


def _allowed(least_mm: float, most_mm: float, reason: str, units: Units) -> str:
    if most_mm < max(least_mm, 0.0):
        return f"nothing: the other sizes of the set leave no room ({reason})"
    # Rounded inwards, so that a shown limit is itself allowed.
    step_mm = _SHOWN_STEP_MM[units]
    least = show_length(math.ceil(least_mm / step_mm - SAME_MM) * step_mm, units)
    if math.isinf(most_mm):
        return f"at least {least}, {reason}"
    most = show_length(math.floor(most_mm / step_mm + SAME_MM) * step_mm, units)
    if least_mm == most_mm:
        return f"{show_length(least_mm, units)}, {reason}"
    return f"from {least} to {most}, {reason}"


_SHOWN_STEP_MM = {Units.MM: 0.1, Units.INCH: float(SHOWN_INCH * MM_PER_INCH)}
