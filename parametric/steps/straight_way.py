"""Whether parts reach their place in a straight line: down from above, or from inside the room,
that is away from the wall that they stand at.

Exact for parts that are boxes less box-shaped cuts: what a box sweeps in a straight line is a box.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from parametric.geometry.hand import Hand
from parametric.geometry.space import Box, Direction

FAR_MM = 10_000.0  # beyond any room
# So far out a part is held in the open room, to be turned and carried past what stands along other
# walls; common practice, no source.
OPEN_MM = 1500.0
FROM_ABOVE, FROM_THE_ROOM = Direction.Z_PLUS, Direction.Y_PLUS.placed(Hand.RIGHT.corner_to_room)


def in_the_way(
    coming: Sequence[Box], there: Mapping[str, Sequence[Box]], towards: Direction
) -> tuple[str, ...]:
    """Return the names of what is in the way of boxes that come from `towards`, in order."""
    way_mm = FAR_MM if towards is FROM_ABOVE else OPEN_MM
    swept = [box.grown(towards, way_mm) for box in coming]
    return tuple(
        name
        for name, boxes in there.items()
        if any(way.overlap(box) is not None for way in swept for box in boxes)
    )


def least_in_the_way(
    coming: Sequence[Box],
    there: Mapping[str, Sequence[Box]],
    from_room: Collection[Direction] = (FROM_THE_ROOM,),
) -> tuple[str, ...]:
    """Return what is in the way on the best of the ways, from above and from the room; nothing
    where one is free.
    """
    ways = (in_the_way(coming, there, towards) for towards in (FROM_ABOVE, *from_room))
    return min(ways, key=len)
