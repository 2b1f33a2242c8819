"""What blocking plans say that a wall must have before the set comes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from parametric.findings.wall_hold import lining_mm, thread_in_wood_mm, wood_mm
from parametric.joints.into_wall import NO_FIXING_YET, hole_in_words
from parametric.joints.joints import FixedToWall
from parametric.stock.amounts import force, in_words
from parametric.stock.lengths import Rounding, Units, show_length, show_on_tape
from parametric.stock.wall_types import GivenFixing, WallKind
from parametric.strength.loads import Loads

_BACKING = {
    WallKind.STEEL_STUDS: (
        "Between the steel studs, over each zone: the backing that the fixing is made for; the"
        " studs and the board alone hold no screw."
    ),
    WallKind.MASONRY: "Masonry or concrete: no blocking.",
    WallKind.BULKHEAD: "A bulkhead: no blocking; no screw goes into its plate without a fixing.",
}


def wanted(fixings: Sequence[FixedToWall], loads: Loads, units: Units) -> Iterator[str]:
    """Yield what one wall must have, from the screws that go into it."""

    def show(length_mm: float) -> str:
        return show_length(length_mm, units)

    first = fixings[0]
    if first.wall.kind.is_wood:
        in_wood = [joint for joint in fixings if joint.given is None]
        yield from _wood(in_wood or fixings, loads, units)
    else:
        yield _BACKING[first.wall.kind]
        yield _over(first, loads, units)
    for given in dict.fromkeys(joint.given for joint in fixings):
        if given is not None:
            yield _given(given, units)
    if any(joint.by_engineer for joint in fixings):
        yield f"{NO_FIXING_YET.format(wall=first.wall.kind.words)}: ask for it now."


def _wood(fixings: Sequence[FixedToWall], loads: Loads, units: Units) -> Iterator[str]:
    """Yield how thick the wood is at least, and how deep screws bite into it."""
    first = fixings[0]
    thick = show_length(wood_mm(first, loads), units)
    bite_mm = max(thread_in_wood_mm(joint, loads) for joint in fixings)
    wood = f"specific gravity {loads.blocking_gravity:.2f} or more"
    if first.wall.kind.wants_blocking:
        yield (
            f"Solid wood between the studs over each zone, {wood}, at least {thick} thick, fixed to"
            " the studs at both ends; blocks are length × height × thickness."
        )
    else:
        yield f"Solid timber, {wood}, at least {thick} thick: no blocking."
    yield _over(first, loads, units)
    bite = show_on_tape(bite_mm, units, Rounding.DOWN)
    yield f"Screws are counted on for up to {bite} of thread in it."


def _over(joint: FixedToWall, loads: Loads, units: Units) -> str:
    """Return what lies over it, and whether anybody said so."""
    lining = lining_mm(joint, loads)
    if lining <= 0:
        return "Nothing over it."
    told = show_on_tape(lining, units)
    if joint.wall.lining_mm is None and loads.lining_mm == Loads().lining_mm:
        return (
            f"The lining over it is assumed to be {told} thick: measure it, since screws hold less"
            " behind a thicker one."
        )
    return f"Over it {told} of lining."


def _given(given: GivenFixing, units: Units) -> str:
    """Return what a fixing wants of its wall, and what is allowed on it."""

    def show(length_mm: float) -> str:
        return show_length(length_mm, units)

    pull, shear = (in_words(force(each), units) for each in (given.pull_n, given.shear_n))
    return (
        f"{given.description}. Hole: {hole_in_words(given, show)}; at least {show(given.edge_mm)}"
        f" from edges and {show(given.spacing_mm)} from the next one, screws at least"
        f" {show(given.embedment_mm)} deep. Allowed on each: {pull} out, {shear} along the wall"
        f" ({given.source})."
    )
