"""Where the units of a set stand, before any of them is built."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import chain

from parametric.geometry.space import SAME_MM, Box, Placing, Point
from parametric.geometry.walls import Wall
from parametric.sets.composition import HungPanel, Run, SetSizes, Tie, Unit, built_from
from parametric.shapes.members import SteelAngle
from parametric.shapes.routing import Routing
from parametric.stock.construction import Construction
from parametric.units.family import AnyPlan, Space, Stands, Tied, UnitPlan
from parametric.units.steel_tie import tie_angle


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedUnit:
    """A unit, its plan and its space in the frame of its wall, and where that frame lies in the
    corner frame. One that stands free is planned in the frame of the head wall.
    """

    unit: Unit
    plan: AnyPlan
    space: Space
    placing: Placing

    @property
    def boxes(self) -> tuple[Box, ...]:
        """All that it takes, in the corner frame."""
        return tuple(box.placed(self.placing) for box in self.space.boxes)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedTie:
    """A steel angle in the frame of its wall, the units that it runs into, and those between."""

    tie: Tie
    angle: SteelAngle
    placing: Placing
    through: tuple[PlacedUnit, ...]
    carries: tuple[PlacedUnit, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedPanel:
    """A hung panel and the units that it hangs over."""

    panel: HungPanel
    over: tuple[PlacedUnit, ...]
    construction: Construction
    placing: Placing


@dataclass(frozen=True, slots=True, kw_only=True)
class SetPlan:
    """A set before it is built. `construction` is what ties and panels are made of."""

    sizes: SetSizes
    units: tuple[PlacedUnit, ...]
    ties: tuple[PlacedTie, ...]
    panels: tuple[PlacedPanel, ...]
    construction: Construction


def plan_set(
    sizes: SetSizes, construction: Construction, routing: Routing, sheet_trim_mm: float
) -> SetPlan:
    """Return the plan of a set that is sound (see `soundness`).

    Raises:
        ValueError: a tie ends in a unit without a base box.
        KeyError: a tie or a panel names a unit that the set lacks.
    """
    own = built_from(construction, sizes.built_from)
    along = [
        placed
        for run in sorted(sizes.runs, key=lambda run: list(Wall).index(run.wall))
        for placed in _along(run, sizes, own, routing, sheet_trim_mm)
    ]
    free = [_free(unit, sizes, own, routing, sheet_trim_mm) for unit in sizes.free]
    units = {placed.unit.name: placed for placed in (*along, *free)}
    ties = tuple(_tie(tie, units, own) for tie in sizes.ties)
    planned = tuple(_with_ties(placed, ties) for placed in units.values())
    by_name = {placed.unit.name: placed for placed in planned}
    panels = tuple(
        PlacedPanel(
            panel=panel,
            over=tuple(by_name[name] for name in panel.over),
            construction=own,
            placing=by_name[panel.over[0]].placing,
        )
        for panel in sizes.hung
    )
    return SetPlan(sizes=sizes, units=planned, ties=ties, panels=panels, construction=own)


def _along(
    run: Run, sizes: SetSizes, own: Construction, routing: Routing, sheet_trim_mm: float
) -> Iterator[PlacedUnit]:
    """Yield the units of a run, from the corner outwards."""
    taken_mm = _corner_taken_mm(run.wall, sizes, own, routing, sheet_trim_mm)
    end_mm = taken_mm
    for index, unit in enumerate(run.units):
        first_in_corner = index == 0 and taken_mm == 0
        butted_mm = 0.0 if first_in_corner else sizes.butt_gap_mm
        start_mm = end_mm + (butted_mm if unit.gap_mm is None else unit.gap_mm)
        plan = _unit_plan(unit, sizes, own, routing, sheet_trim_mm)
        plan = replace(
            plan, wall=run.wall, start_mm=start_mm, in_corner=index == 0 and start_mm <= SAME_MM
        )
        space = unit.kind.space(plan)
        end_mm = space.whole.high.x
        yield PlacedUnit(unit=unit, plan=plan, space=space, placing=run.wall.placing(run.away_mm))


def _corner_taken_mm(
    wall: Wall, sizes: SetSizes, own: Construction, routing: Routing, sheet_trim_mm: float
) -> float:
    """Return how much of a wall, from its corner, a unit in the corner of the head wall takes."""
    head = sizes.run_at(Wall.HEAD)
    if wall is not Wall.SIDE or not head or (head[0].gap_mm or 0.0) > SAME_MM:
        return 0.0
    plan = _unit_plan(head[0], sizes, own, routing, sheet_trim_mm)
    return head[0].kind.space(replace(plan, wall=Wall.HEAD, in_corner=True)).whole.high.y


def _free(
    unit: Unit, sizes: SetSizes, own: Construction, routing: Routing, sheet_trim_mm: float
) -> PlacedUnit:
    plan = replace(
        _unit_plan(unit, sizes, own, routing, sheet_trim_mm),
        start_mm=unit.from_side_wall_mm,
        out_mm=unit.from_head_wall_mm,
    )
    return PlacedUnit(unit=unit, plan=plan, space=unit.kind.space(plan), placing=Placing())


def _unit_plan(
    unit: Unit, sizes: SetSizes, own: Construction, routing: Routing, sheet_trim_mm: float
) -> AnyPlan:
    height_mm = unit.base_height_mm
    return UnitPlan(
        name=unit.name,
        sizes=unit.sizes,
        wall=None,
        start_mm=0.0,
        out_mm=0.0,
        in_corner=False,
        base_height_mm=sizes.base_height_mm if height_mm is None else height_mm,
        construction=built_from(own, unit.built_from),
        routing=routing,
        sheet_trim_mm=sheet_trim_mm,
    )


def _tie(tie: Tie, units: dict[str, PlacedUnit], own: Construction) -> PlacedTie:
    through = tuple(units[name] for name in tie.through)
    first, last = through[0], through[-1]
    angle = tie_angle(tie.name, tie.sizes, first.space, last.space, own)
    carries = tuple(
        placed
        for placed in units.values()
        if placed.unit.kind.stands is Stands.BETWEEN
        and placed.plan.wall is first.plan.wall
        and first.plan.start_mm < placed.plan.start_mm < last.plan.start_mm
    )
    return PlacedTie(tie=tie, angle=angle, placing=first.placing, through=through, carries=carries)


def _with_ties(placed: PlacedUnit, ties: tuple[PlacedTie, ...]) -> PlacedUnit:
    """Return a unit with the angles that run into it or carry it."""
    name = placed.unit.name
    tied = tuple(
        Tied(
            angle=tie.angle,
            low=name != tie.tie.through[0],
            high=name != tie.tie.through[-1],
        )
        for tie in ties
        if name in tie.tie.through
    )
    carrying = (tie.angle for tie in ties if any(each.unit.name == name for each in tie.carries))
    plan = replace(placed.plan, tied=tied, carried_by=next(carrying, None))
    return replace(placed, plan=plan)


def overlapping(plan: SetPlan) -> Iterator[tuple[Unit, Unit]]:
    """Yield the pairs of units that take the same room, the earlier one first."""
    for index, later in enumerate(plan.units):
        for earlier in plan.units[:index]:
            if any(
                one.overlap(other) is not None for one in earlier.boxes for other in later.boxes
            ):
                yield earlier.unit, later.unit


def outside(plan: SetPlan) -> Iterator[Unit]:
    """Yield the units that do not lie within the walls of the set, each once."""
    far, foot = plan.sizes.room_width_mm, plan.sizes.room_depth_mm
    for placed in plan.units:
        corners = chain.from_iterable((box.low, box.high) for box in placed.boxes)
        if any(_beyond(corner, far, foot) for corner in corners):
            yield placed.unit


def _beyond(corner: Point, far_mm: float | None, foot_mm: float | None) -> bool:
    return (
        min(corner.x, corner.y) < -SAME_MM
        or (far_mm is not None and corner.x > far_mm + SAME_MM)
        or (foot_mm is not None and corner.y > foot_mm + SAME_MM)
    )
