"""The waste that cuts from edge to edge leave between the parts of a sheet. All boxes are grown."""

from collections.abc import Iterator, Sequence

from nesting.after.empty_space import Box

_X, _Y = (0, 2), (1, 3)
"""Where a box keeps its two ends in each direction."""


def through_cut_waste(room: Box, parts: Sequence[Box]) -> Iterator[Box]:
    """Yield the strips that fall off when all possible cuts are made, starting either way.

    Parts that lock each other are left as they are.
    """
    yield from _waste(room, parts, _X)
    yield from _waste(room, parts, _Y)


def _waste(piece: Box, parts: Sequence[Box], ends: tuple[int, int]) -> Iterator[Box]:
    """Yield the waste of one piece on the saw, cut across this direction and then the other."""
    pending = [(piece, list(parts), ends, False)]
    while pending:
        piece, inside, ends, idle = pending.pop()
        other = _Y if ends is _X else _X
        groups = _groups(inside, ends)
        reach = piece[ends[0]]
        for low, high, group in groups:
            if low > reach:
                yield _slab(piece, ends, reach, low)
            reach = max(reach, high)
            locked = idle and len(groups) == 1
            if not locked:
                pending.append((_slab(piece, ends, low, high), group, other, len(groups) == 1))
        if reach < piece[ends[1]]:
            yield _slab(piece, ends, reach, piece[ends[1]])


def _groups(parts: Sequence[Box], ends: tuple[int, int]) -> list[tuple[int, int, list[Box]]]:
    """Return the parts that no cut separates in this direction, with their common ends."""
    groups: list[tuple[int, int, list[Box]]] = []
    for part in sorted(parts, key=lambda box: (box[ends[0]], box)):
        if groups and part[ends[0]] < groups[-1][1]:
            low, high, group = groups[-1]
            groups[-1] = (low, max(high, part[ends[1]]), [*group, part])
        else:
            groups.append((part[ends[0]], part[ends[1]], [part]))
    return groups


def _slab(piece: Box, ends: tuple[int, int], low: int, high: int) -> Box:
    if ends is _X:
        return piece._replace(x0=low, x1=high)
    return piece._replace(y0=low, y1=high)
