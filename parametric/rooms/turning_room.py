"""Whether a room has the floor on which decks and boxes are turned over.

The floor is taken for a rectangle, from the corner of head wall and side wall; what stands there by
then is known from the order of the work. Doors that open inwards, columns and what others brought
are not known. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from parametric.geometry.outline import Bounds
from parametric.geometry.space import SAME_MM, Axis, Box
from parametric.joints.assembly import Assembly
from parametric.rooms.measured import Measured
from parametric.steps.carrying import is_turned_over
from parametric.steps.order import NoOrder, ordered
from parametric.steps.tasks import Kind
from parametric.steps.turning import turning_floor_mm
from parametric.steps.words import plain_name


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """Something that is turned over: what, the sides of the floor that this takes, and what stands
    in its way by then, in plan: x from the side wall, y from the head wall.
    """

    about: str
    long_mm: float
    wide_mm: float
    standing: tuple[Bounds, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnedHere:
    """A turn in one measured room: whether there is floor for it."""

    about: str
    long_mm: float
    wide_mm: float
    clear: bool


@lru_cache(maxsize=256)
def turns_of(assembly: Assembly) -> tuple[Turn, ...]:
    """Return all that is turned over on site, in the order of the work; nothing where there is no
    order. What was laid dry to find its place was lifted off again and stands elsewhere by then.
    """
    try:
        return tuple(_turns(assembly))
    except NoOrder:
        return ()


def _turns(assembly: Assembly) -> Iterator[Turn]:
    there: list[Box] = []
    for task in ordered(assembly):
        if is_turned_over(assembly, task):
            long, wide = turning_floor_mm(assembly, task.parts)
            # On its edge it is half as high as this floor is wide: what hangs above is clear of it.
            low = (box for box in there if box.low.z < wide / 2 - SAME_MM)
            yield Turn(
                about=plain_name(task.about),
                long_mm=long,
                wide_mm=wide,
                standing=tuple(_in_plan(box) for box in low),
            )
        if task.kind is not Kind.DRY:
            there += [assembly.part(name).box for name in (*task.parts, *task.again)]


def turned_here(assembly: Assembly, measured: Measured) -> tuple[TurnedHere, ...]:
    """Return for each turn whether the room has the floor; nothing where that was not measured."""
    width, depth = measured.floor_width_mm, measured.floor_depth_mm
    if width is None or depth is None:
        return ()
    return tuple(
        TurnedHere(
            about=turn.about,
            long_mm=turn.long_mm,
            wide_mm=turn.wide_mm,
            clear=has_room(turn, width, depth),
        )
        for turn in turns_of(assembly)
    )


def has_room(turn: Turn, width_mm: float, depth_mm: float) -> bool:
    """Return whether the floor of a turn lies somewhere in the room clear of what stands there,
    along either wall.
    """
    sides = ((turn.long_mm, turn.wide_mm), (turn.wide_mm, turn.long_mm))
    return any(
        _is_clear(Bounds(x, y, x + along, y + out), turn.standing, width_mm, depth_mm)
        for along, out in sides
        # A place that is clear can be moved to the corner until it meets wall or furniture.
        for x in (0.0, *(each.x1 for each in turn.standing))
        for y in (0.0, *(each.y1 for each in turn.standing))
    )


def _is_clear(place: Bounds, standing: Sequence[Bounds], width_mm: float, depth_mm: float) -> bool:
    if place.x1 > width_mm + SAME_MM or place.y1 > depth_mm + SAME_MM:
        return False
    return not any(
        place.x0 < each.x1 - SAME_MM
        and each.x0 < place.x1 - SAME_MM
        and place.y0 < each.y1 - SAME_MM
        and each.y0 < place.y1 - SAME_MM
        for each in standing
    )


def _in_plan(box: Box) -> Bounds:
    """Return what a box covers of the floor, counted from the corner in either hand."""
    x0, x1 = sorted((abs(box.low[Axis.X]), abs(box.high[Axis.X])))
    y0, y1 = sorted((abs(box.low[Axis.Y]), abs(box.high[Axis.Y])))
    return Bounds(x0, y0, x1, y1)
