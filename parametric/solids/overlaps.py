"""Whether any two solids of a set take the same space."""

from __future__ import annotations

import pickle

from parametric.findings.finding import Finding
from parametric.findings.measure import at_most
from parametric.remembered import remembered
from parametric.solids.set_model import SetModel
from parametric.stock.amounts import MM3, Amount, Words

OVERLAP_MM3 = 1.0


def overlap_findings(model: SetModel) -> tuple[Finding, ...]:
    """Return a failed finding for each pair of solids that overlap; one that is well if none do.

    Raises:
        KernelFailure: the kernel cannot intersect two of them.
    """
    room_set = model.room_set
    where = f"{room_set.name}, {room_set.hand} hand"
    overlaps = _shared(model)
    worst = [(pair, volume) for pair, volume in overlaps.items() if volume > OVERLAP_MM3]
    if not worst:
        most = max(overlaps.values(), default=0.0)
        return (_finding(where, "no parts interfere", most),)
    return tuple(
        _finding(
            f"{where}: {first} and {second}", ("both take the same ", Amount(volume, MM3)), volume
        )
        for (first, second), volume in worst
    )


def _finding(where: str, says: Words, volume_mm3: float) -> Finding:
    return at_most(
        code="overlap",
        where=where,
        what="",
        says=says,
        measured=volume_mm3,
        fail_above=OVERLAP_MM3,
        unit=MM3,
        source="two solids cannot be in one place",
        advice="change the sizes that bring the two together",
    )


@remembered(
    "what solids share",
    key=lambda model: sorted(model.identities.items()),
    freeze=pickle.dumps,
    thaw=pickle.loads,
    most=0,
)
def _shared(model: SetModel) -> dict[tuple[str, str], float]:
    from parametric.solids.common_volumes import common_volumes

    return dict(common_volumes(model.solids.installed))
