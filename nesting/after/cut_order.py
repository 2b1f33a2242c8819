"""In which order sheets are cut, and the parts of one sheet."""

from collections.abc import Iterable
from math import hypot

from nesting.after.empty_space import Box, part_boxes, room_of
from nesting.after.vacuum_risk import COMMON_LIMITS, HoldLimits, risks
from nesting.answer.solution import Layout, Placement
from nesting.question.instance import Instance


def by_priority(instance: Instance, layouts: Iterable[Layout]) -> tuple[Layout, ...]:
    """Return the layouts so that pieces of higher priority are cut first.

    The highest priority on a sheet counts, then the share of the sheet's parts that have it, so
    that it is served by few sheets; then the order given.

    Raises:
        KeyError: a layout names a piece that the question does not have.
    """
    priorities = {piece.id: piece.priority for piece in instance.pieces}

    def rank(layout: Layout) -> tuple[int, float]:
        levels = [priorities[placed.piece] for placed in layout.placements]
        highest = max(levels, default=min(priorities.values(), default=0))
        return -highest, -levels.count(highest) / max(len(levels), 1)

    return tuple(sorted(layouts, key=rank))


def cut_order(
    instance: Instance, layout: Layout, limits: HoldLimits = COMMON_LIMITS
) -> tuple[Placement, ...]:
    """Return the placements of one sheet in the order in which a router cuts them.

    Common practice, no source:
    1. parts at risk on the vacuum last: what holds them (a skin, a bridge, a screw) stays with the
       sheet, and nothing is cut beside them once they are loose;
    2. inside first: parts along the trimmed edges after all others, as the frame that they leave
       keeps the sheet stiff;
    3. small first, in classes of size that differ by a factor of four: a small part needs the
       vacuum most, and it is tightest while little is cut;
    4. in a class always the nearest part to the one before, from the lower-left corner on.

    Raises:
        KeyError: the layout names a piece or a stock that the question does not have.
    """
    room, boxes = room_of(instance, layout), part_boxes(instance, layout)
    risky = {risk.placement for risk in risks(instance, layout, limits)}
    classes: dict[tuple[bool, bool, int], list[int]] = {}
    for index, box in enumerate(boxes):
        size = (box.area.bit_length() + 1) // 2
        classes.setdefault((index in risky, _at_rim(box, room, instance), size), []).append(index)
    order: list[int] = []
    place = (float(room.x0), float(room.y0))
    for key in sorted(classes):
        left = sorted(classes[key], key=lambda index: boxes[index])
        while left:
            nearest = min(left, key=lambda index: _distance(place, boxes[index]))
            left.remove(nearest)
            order.append(nearest)
            place = _middle(boxes[nearest])
    return tuple(layout.placements[index] for index in order)


def _at_rim(box: Box, room: Box, instance: Instance) -> bool:
    """Return whether no more than a gap is left between a part and a trimmed edge."""
    gap = instance.rules.gap
    return (
        box.x0 - room.x0 <= gap
        or box.y0 - room.y0 <= gap
        or room.x1 - box.x1 <= gap
        or room.y1 - box.y1 <= gap
    )


def _distance(place: tuple[float, float], box: Box) -> float:
    x, y = _middle(box)
    return hypot(x - place[0], y - place[1])


def _middle(box: Box) -> tuple[float, float]:
    return (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2
