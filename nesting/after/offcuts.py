"""What is left of a sheet and worth keeping, as few and large rectangles."""

from collections.abc import Iterator
from dataclasses import dataclass

from nesting.after.empty_space import (
    Box,
    defect_boxes,
    empty_rectangles,
    part_boxes,
    room_of,
)
from nesting.after.through_cuts import through_cut_waste
from nesting.answer.cut_check import fewest_stages
from nesting.answer.solution import Layout
from nesting.question.errors import raise_if_any, too_low
from nesting.question.instance import Instance
from nesting.question.ticks import gap_ticks


@dataclass(frozen=True, slots=True, kw_only=True)
class Reusable:
    """The least sides of an offcut that is kept, whichever way it lies (ticks).

    Raises:
        InvalidInstance: a side below 1.
    """

    longer: int
    shorter: int

    def __post_init__(self) -> None:
        """Refuse sides that nothing could miss, naming all faults."""
        raise_if_any(
            [
                *too_low("reusable: longer side", self.longer, 1),
                *too_low("reusable: shorter side", self.shorter, 1),
            ]
        )


COMMON_REUSABLE = Reusable(longer=gap_ticks(600), shorter=gap_ticks(200))
"""600 x 200 mm: what is smaller costs more to store than it saves (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """A rectangle left over: its lower-left corner on the sheet, its sides along x and y, ticks."""

    x: int
    y: int
    length: int
    width: int

    @property
    def area(self) -> int:
        """Return the area in square ticks."""
        return self.length * self.width


def offcuts(
    instance: Instance, layout: Layout, reusable: Reusable = COMMON_REUSABLE
) -> tuple[Offcut, ...]:
    """Return the reusable rectangles of one sheet, each the largest that the ones before it leave.

    They lie inside the trim and keep the gap from parts, defects and each other. On a sheet with
    edge-to-edge cuts they come off by such cuts, in no more stages than the rules allow.

    Raises:
        KeyError: the layout names a piece or a stock that the question does not have.
    """
    gap = instance.rules.gap
    found: list[Box] = []
    while (best := _largest(instance, layout, found, reusable)) is not None:
        found.append(best)
    return tuple(
        Offcut(x=box.x0, y=box.y0, length=box.x1 - box.x0 - gap, width=box.y1 - box.y0 - gap)
        for box in found
    )


def largest_offcut(instance: Instance, layout: Layout) -> int:
    """Return the area of the largest rectangle left over, however small (square ticks).

    Raises:
        KeyError: the layout names a piece or a stock that the question does not have.
    """
    gap = instance.rules.gap
    best = _largest(instance, layout, [], Reusable(longer=1, shorter=1))
    return 0 if best is None else (best.x1 - best.x0 - gap) * (best.y1 - best.y0 - gap)


def _largest(
    instance: Instance, layout: Layout, found: list[Box], reusable: Reusable
) -> Box | None:
    gap = instance.rules.gap
    large = {
        box
        for box in _candidates(instance, layout, found)
        if min(box.x1 - box.x0, box.y1 - box.y0) >= reusable.shorter + gap
        and max(box.x1 - box.x0, box.y1 - box.y0) >= reusable.longer + gap
    }
    ordered = sorted(large, key=lambda box: (-_area(box, gap), box))
    if instance.rules.saw is None:
        return ordered[0] if ordered else None
    parts = [*part_boxes(instance, layout), *found]
    return next((box for box in ordered if _comes_off(instance, parts, box)), None)


def _candidates(instance: Instance, layout: Layout, found: list[Box]) -> Iterator[Box]:
    room, parts = room_of(instance, layout), part_boxes(instance, layout)
    flaws = defect_boxes(instance, layout)
    yield from empty_rectangles(room, [*parts, *flaws, *found])
    if instance.rules.saw is not None:
        for strip in through_cut_waste(room, [*parts, *found]):
            yield from empty_rectangles(strip, flaws)


def _comes_off(instance: Instance, parts: list[Box], offcut: Box) -> bool:
    saw = instance.rules.saw
    stages = fewest_stages([*parts, offcut], 0)  # grown: the blade is inside the boxes
    return stages is not None and (saw is None or saw.stages is None or stages <= saw.stages)


def _area(box: Box, gap: int) -> int:
    return (box.x1 - box.x0 - gap) * (box.y1 - box.y0 - gap)
