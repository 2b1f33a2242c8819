"""Labels along a line: each as near to its own place as its neighbours let it."""

from __future__ import annotations

from collections.abc import Sequence


def spread(wanted: Sequence[float], apart_mm: float, low: float, high: float) -> tuple[float, ...]:
    """Return places in the order of the wanted ones, which rise: at least `apart_mm` from each
    other, and between `low` and `high` where that many have room. The squares of all shifts are
    the least that is possible.

    Isotonic regression, by pooling neighbours that would come too near.
    """
    # Less its share of the distances, each place may be where its forerunner is, or beyond.
    free = [at - index * apart_mm for index, at in enumerate(wanted)]
    pools: list[tuple[float, int]] = []
    for at in free:
        pools.append((at, 1))
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (first, many), (second, more) = pools[-2:]
            pools[-2:] = [((first * many + second * more) / (many + more), many + more)]
    top = high - (len(free) - 1) * apart_mm
    if top < low:  # too many: they stick out alike at both ends
        low = top = (low + top) / 2
    level = [min(max(at, low), top) for at, many in pools for _ in range(many)]
    return tuple(at + index * apart_mm for index, at in enumerate(level))
