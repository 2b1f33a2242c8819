"""Whether a set can be built at all: what its units need beside them, and sizes that go together.

Limits are wide on purpose: whether a set is comfortable, strong or safe is left to the findings.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from parametric.geometry.space import SAME_MM
from parametric.geometry.walls import Wall
from parametric.sets.composition import (
    FREE,
    HUNG,
    TIES,
    HungPanel,
    SetSizes,
    Tie,
    Unit,
    keys_of,
    with_size,
)
from parametric.sets.plan import PlacedPanel, PlacedTie, SetPlan, outside, overlapping, plan_set
from parametric.shapes.routing import CornerRelief, Routing
from parametric.stock.construction import Construction
from parametric.units.family import Limit, Stands, Unfit, thickest_side_mm
from parametric.units.size import Length
from parametric.units.wall_panel import least_panel_mm, panel_limits

_ANY_ROUTING = Routing(bit_diameter_mm=0.0, corner_relief=CornerRelief.OVERCUT, pre_mill_mm=0.0)
_HALVINGS = 60
_NOISE_MM = 1e-9  # of floats, where limits themselves are asked for


def unsound(
    sizes: SetSizes, construction: Construction, slack_mm: float = SAME_MM
) -> Iterator[Unfit | Limit]:
    """Yield what keeps a set from being built, by its keys in the job below the set: what is
    missing, or else the limits that are missed by more than the slack, and the units that stand in
    each other's way.
    """
    missing = list(_missing(sizes))
    if missing:
        yield from missing
        return
    plan = plan_set(sizes, construction, _ANY_ROUTING, 0.0)
    broken = [each for each in _limits(plan) if isinstance(each, Unfit) or not kept(each, slack_mm)]
    yield from broken
    if not broken:
        yield from _in_the_way(plan)


def kept(limit: Limit, slack_mm: float = SAME_MM) -> bool:
    """Return whether a size lies within its limits, or misses them by no more than the slack."""
    return limit.least_mm - slack_mm <= limit.value_mm <= limit.most_mm + slack_mm


def filler_limits_mm(sizes: SetSizes, construction: Construction) -> tuple[float, float]:
    """Return the least and the most of the size that fills an opening with which the set can be
    built, its other sizes as they are and in order.

    Raises:
        ValueError: no unit of the set fills an opening.
    """
    filler = sizes.filler
    if filler is None or not isinstance(filler.size.asked, Length):
        raise ValueError(f"set {sizes.name} has no unit that fills an opening")
    keys, asked = filler.keys, filler.size.asked

    def sound(mm: float) -> bool:
        changed = with_size(sizes, keys, mm)
        return next(unsound(changed, construction, _NOISE_MM), None) is None

    def edge(inside_mm: float, outside_mm: float) -> float:
        if sound(outside_mm):
            return outside_mm
        for _ in range(_HALVINGS):
            middle_mm = (inside_mm + outside_mm) / 2
            if sound(middle_mm):
                inside_mm = middle_mm
            else:
                outside_mm = middle_mm
        return round(inside_mm, 6)

    return edge(filler.value, asked.least_mm), edge(filler.value, asked.most_mm)


def _missing(sizes: SetSizes) -> Iterator[Unfit]:
    """Yield what a set lacks, or names that it does not have."""
    units = list(sizes.units())
    if not units:
        yield Unfit((), "a set without units", "at least one unit along a wall or free")
    yield from _repeated(sizes)
    for run in sizes.runs:
        if run.wall.is_opposite and run.units and run.away_mm <= 0:
            key = "room_depth" if run.wall is Wall.FOOT else "room_width"
            yield Unfit((key,), "nothing", f"how far the {run.wall} is from the wall opposite it")
    for unit in sizes.free:
        if unit.kind.stands is not Stands.ANYWHERE:
            found = f"a {unit.family} that stands free"
            yield Unfit((FREE, unit.name, "family"), found, f"it stands {unit.kind.stands}")
    for tie in sizes.ties:
        yield from _unknown(sizes, (TIES, tie.name, "through"), tie.through, least=2)
        yield from _without_base(sizes, tie)
        yield from _skipped(sizes, (TIES, tie.name, "through"), tie.through)
    for panel in sizes.hung:
        yield from _unknown(sizes, (HUNG, panel.name, "over"), panel.over, least=1)
        yield from _skipped(sizes, (HUNG, panel.name, "over"), panel.over, carried=True)
    for unit in units:
        if unit.kind.stands is Stands.BETWEEN and not any(
            _is_carried(sizes, unit, tie) for tie in sizes.ties
        ):
            found = "no steel angle under it"
            allowed = f"a tie through a unit on each side of it: it stands {unit.kind.stands}"
            yield Unfit(keys_of(sizes, unit.name), found, allowed)
        carrying = [tie.name for tie in sizes.ties if _is_carried(sizes, unit, tie)]
        if unit.kind.stands is Stands.BETWEEN and len(carrying) > 1:
            found = f"another angle under {unit.name}"
            yield Unfit((TIES, carrying[1], "through"), found, "one angle under each unit")


def _repeated(sizes: SetSizes) -> Iterator[Unfit]:
    named = (sizes.units(), sizes.ties, sizes.hung)
    counts = Counter(each.name for group in named for each in group)
    for name in (name for name, count in counts.items() if count > 1):
        yield Unfit((), f"the name {name!r} {counts[name]} times", "each name once in a set")


def _unknown(
    sizes: SetSizes, keys: tuple[str, ...], names: tuple[str, ...], least: int
) -> Iterator[Unfit]:
    """Yield what is wrong with a list of units: all of one run, in its order, each once."""
    known = {unit.name for unit in sizes.units()}
    strangers = [name for name in names if name not in known]
    if strangers:
        allowed = f"units of the set: {', '.join(sorted(known))}"
        yield Unfit(keys, f"no unit called {strangers[0]!r}", allowed)
        return
    if len(names) < least:
        yield Unfit(keys, f"{len(names)} units", f"at least {least}")
    run = next(
        (run.units for run in sizes.runs if {unit.name for unit in run.units} >= set(names)), ()
    )
    in_order = [unit.name for unit in run if unit.name in names]
    if list(names) != in_order:
        allowed = "units along one wall, each once, in their order from its corner"
        yield Unfit(keys, ", ".join(names) or "none", allowed)


def _without_base(sizes: SetSizes, tie: Tie) -> Iterator[Unfit]:
    for unit in sizes.units():
        if unit.name in tie.through and not unit.kind.takes_ties:
            found = f"{unit.name}, which has no base box"
            yield Unfit((TIES, tie.name, "through"), found, "units on base boxes")


def _skipped(
    sizes: SetSizes, keys: tuple[str, ...], names: tuple[str, ...], *, carried: bool = False
) -> Iterator[Unfit]:
    """Yield the units between those named that must be named as well: all on base boxes, or all."""
    for run in sizes.runs:
        places = [at for at, unit in enumerate(run.units) if unit.name in names]
        for unit in run.units[min(places, default=0) : max(places, default=0)]:
            between = carried or unit.kind.stands is not Stands.BETWEEN
            if unit.name not in names and between:
                allowed = f"{unit.name} too, which stands between them"
                yield Unfit(keys, ", ".join(names), allowed)


def _is_carried(sizes: SetSizes, unit: Unit, tie: Tie) -> bool:
    return any(_between(run.units, tie, unit) for run in sizes.runs if unit in run.units)


def _between(run: tuple[Unit, ...], tie: Tie, unit: Unit) -> bool:
    names = [each.name for each in run]
    through = [names.index(name) for name in tie.through if name in names]
    return bool(through) and min(through) < names.index(unit.name) < max(through)


def _limits(plan: SetPlan) -> Iterator[Limit | Unfit]:
    sizes = plan.sizes
    for placed in plan.units:
        keys = keys_of(sizes, placed.unit.name)
        for each in placed.unit.kind.limits(placed.plan):
            yield each._replace(keys=(*keys, *each.keys))
    for index, panel in enumerate(plan.panels):
        yield from _panel(panel)
        for other in plan.panels[:index]:
            if {each.unit.name for each in panel.over} & {each.unit.name for each in other.over}:
                found = f"what {other.panel.name} hangs over"
                yield Unfit((HUNG, panel.panel.name, "over"), found, "one panel over each unit")
    for tie in plan.ties:
        yield from _tie(plan, tie)


def _panel(placed: PlacedPanel) -> Iterator[Limit | Unfit]:
    panel: HungPanel = placed.panel
    spaces = [each.space.whole for each in placed.over]
    width_mm = max(space.high.x for space in spaces) - min(space.low.x for space in spaces)
    if placed.over[0].plan.wall is None:
        yield Unfit((HUNG, panel.name, "over"), "a unit that stands free", "units along a wall")
    for each in panel_limits(panel.sizes, placed.construction):
        yield each._replace(keys=(HUNG, panel.name, *each.keys))
    least_mm = least_panel_mm(panel.sizes, placed.construction)
    if width_mm < least_mm - SAME_MM:
        most = int(
            (width_mm - least_panel_mm(replace(panel.sizes, plates=0), placed.construction))
            // placed.construction.wall_plate.length_mm
        )
        allowed = f"at most {most}, side by side over {', '.join(panel.over)}"
        yield Unfit((HUNG, panel.name, "plates"), str(panel.sizes.plates), allowed)


def _tie(plan: SetPlan, placed: PlacedTie) -> Iterator[Limit | Unfit]:
    """Yield what must hold for an angle and what it runs into."""
    construction, tie = plan.construction, placed.tie.sizes
    keys, leg_mm = (TIES, placed.tie.name), plan.construction.angle.leg_mm
    bases = [each.space.base for each in placed.through if each.space.base is not None]
    least_mm = leg_mm + construction.angle_clearance_mm
    top_mm = placed.through[0].plan.base_height_mm
    yield Limit(("base_height",), top_mm, least_mm, math.inf, "for the steel angle")
    for each in (*placed.through, *placed.carries):
        height_mm = each.plan.base_height_mm
        if abs(height_mm - top_mm) > SAME_MM:
            where = (*keys_of(plan.sizes, each.unit.name), "base_height")
            reason = f"as high as {placed.tie.through[0]}, for the steel angle"
            yield Limit(where, height_mm, top_mm, top_mm, reason)
    board_mm = thickest_side_mm(construction)
    corner_mm = board_mm + construction.cleat.thickness_mm + construction.angle_clearance_mm
    most_mm = min(base.high.y for base in bases) - corner_mm - leg_mm
    reason = "so that it passes inside all base boxes, clear of the cleats in their corners"
    if placed.carries:
        depth_mm = min(each.space.whole.high.y for each in placed.carries)
        most_mm = min(most_mm, depth_mm - leg_mm)
        reason = f"{reason}, and under what it carries"
    least_mm = max(base.low.y for base in bases) + corner_mm
    yield Limit((*keys, "from_wall"), tie.from_wall_mm, least_mm, most_mm, reason)
    ends = (bases[0], bases[-1])
    most_mm = min(base.high.x - base.low.x for base in ends) - 2 * board_mm
    reason = "so that it ends inside the base boxes at its ends"
    yield Limit((*keys, "bearing"), tie.bearing_mm, 0.0, most_mm, reason)
    for other in plan.ties:
        meets = other.placing == placed.placing and other.angle.box.overlap(placed.angle.box)
        if meets and other.tie.name < placed.tie.name:
            found, allowed = f"it runs into {other.tie.name}", "less bearing, or another from_wall"
            yield Unfit((*keys, "bearing"), found, allowed)


def _in_the_way(plan: SetPlan) -> Iterator[Unfit]:
    sizes = plan.sizes
    for earlier, later in overlapping(plan):
        found = f"it stands where {earlier.name} stands"
        yield Unfit(keys_of(sizes, later.name), found, "room of its own for each unit")
    for unit in outside(plan):
        yield Unfit(keys_of(sizes, unit.name), "it reaches beyond a wall", "a place within them")
