"""Whether placed rectangles come apart by cuts from edge to edge, and in how many stages.

Part of the independent check of an answer: it looks at the finished sheet only. A stage is all
cuts in one direction, on every piece that lies on the saw. Cutting wherever the blade passes can
never hurt: what is left of a set of parts is never harder to cut than the whole set. So each stage
cuts all it can, and only the direction of the first one is open.
"""

from collections.abc import Iterable, Sequence
from operator import itemgetter

Box = tuple[float, float, float, float]
"""Left, bottom, right, top."""

_ALONG_X, _ALONG_Y = (0, 2), (1, 3)
"""Where a box keeps its two ends in each direction."""


def fewest_stages(boxes: Sequence[Box], kerf: float) -> int | None:
    """Return the least number of stages that frees every box; None: no cuts from edge to edge do.

    A cut takes `kerf` between the boxes on its two sides. Cuts that only take waste off one box
    are not counted, so a single box needs no stage at all. Sizes in ticks.
    """
    found = [
        stages
        for first in (_ALONG_X, _ALONG_Y)
        if (stages := _stages(boxes, kerf, first)) is not None
    ]
    return min(found, default=None)


def comes_apart(boxes: Sequence[Box], kerf: float, most_stages: int | None) -> bool:
    """Return whether so many stages free every box; None: any number. Else as `fewest_stages`."""
    found = (_stages(boxes, kerf, first) for first in (_ALONG_X, _ALONG_Y))
    return any(n is not None and (most_stages is None or n <= most_stages) for n in found)


def _stages(boxes: Sequence[Box], kerf: float, first: tuple[int, int]) -> int | None:
    directions = (first, _ALONG_Y if first is _ALONG_X else _ALONG_X)
    joined: list[Sequence[Box]] = [boxes] if len(boxes) > 1 else []
    stages = idle = 0
    while joined:
        ends = directions[stages % 2]
        groups = [part for group in joined for part in _apart(group, kerf, ends)]
        idle = idle + 1 if len(groups) == len(joined) else 0
        if idle == len(directions):
            return None
        joined = [group for group in groups if len(group) > 1]
        stages += 1
    return stages


def _apart(boxes: Iterable[Box], kerf: float, ends: tuple[int, int]) -> list[list[Box]]:
    """Return the groups between which a blade passes in one direction."""
    low, high = ends
    groups: list[list[Box]] = []
    reach = 0.0
    for box in sorted(boxes, key=itemgetter(low)):
        if groups and box[low] < reach + kerf:
            groups[-1].append(box)
            reach = max(reach, box[high])
        else:
            groups.append([box])
            reach = box[high]
    return groups
