"""What papers say of screws into walls: what is packed, what makes the hole, what to mind."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from parametric.joints.driving import bits_of
from parametric.joints.joints import FixedToWall
from parametric.stock.wall_types import GivenFixing, WallKind

_DETECTORS = {
    WallKind.WOOD_STUDS: "stud and pipe detector",
    WallKind.STEEL_STUDS: "stud and pipe detector",
}
_PIPES = "pipe and cable detector"
NO_FIXING_YET = "Fix nothing here until an engineer has specified what holds in {wall}"
BULKHEADS = (
    "Nobody drills, taps or welds a bulkhead without permission from whoever is responsible for it:"
    " it may close off a tank, or keep out fire or water"
)


def ungiven_fixing(joint: FixedToWall) -> str:
    """Return how lists call what an engineer specifies for a wall."""
    return f"Fixing for {joint.wall.kind.words}: as an engineer specifies"


def wall_articles(joint: FixedToWall) -> Iterator[str]:
    """Yield what goes into the wall at one place."""
    if joint.by_engineer:
        yield ungiven_fixing(joint)
        return
    yield f"{joint.screw.description}, into the wall"
    if joint.given is not None and joint.given.anchor:
        yield joint.given.anchor


def wall_tools(joint: FixedToWall) -> Iterator[str]:
    """Yield what makes the hole and drives the screw."""
    yield from ("driver", *bits_of([joint]), "drill", "level", "tape measure")
    yield _DETECTORS.get(joint.wall.kind, _PIPES)
    if joint.given is not None:
        yield joint.given.bit


def hole_in_words(given: GivenFixing, show: Callable[[float], str]) -> str:
    """Return what hole a fixing wants; `show` tells lengths."""
    deep = (
        "through"
        if given.hole_depth_mm is None
        else f"{show(given.hole_depth_mm)} deep behind the lining"
    )
    return f"{given.bit}, {deep}"


def wall_checks(joints: Iterable[FixedToWall], show: Callable[[float], str]) -> Iterator[str]:
    """Yield what is looked at where holes are made for given fixings."""
    for given in dict.fromkeys(joint.given for joint in joints):
        if given is not None:
            edge = f"at least {show(given.edge_mm)} from the edges of what holds it"
            yield f"{given.description}: {hole_in_words(given, show)}, {edge}"


def wall_cautions(joints: Iterable[FixedToWall]) -> Iterator[str]:
    """Yield what to mind about the walls beyond pipes and cables."""
    listed = tuple(joints)
    for kind in dict.fromkeys(joint.wall.kind for joint in listed if joint.by_engineer):
        yield NO_FIXING_YET.format(wall=kind.words)
    if any(joint.wall.kind is WallKind.BULKHEAD for joint in listed):
        yield BULKHEADS
