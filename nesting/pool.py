"""Good fillings kept for reuse: a filling found once may serve many a residual demand."""

from collections.abc import Iterator, Mapping, Sequence

from nesting.filling import Counts, Filling
from nesting.problem import Problem
from nesting.settings import POOL_FULLNESS, POOL_SIZE


class Pool:
    """Fillings by content, at most about `POOL_SIZE` of them."""

    def __init__(self, problem: Problem) -> None:
        """Start empty."""
        self._problem = problem
        self._held: dict[tuple[int, Counts], Filling] = {}

    def offer(self, filling: Filling) -> None:
        """Keep a filling if its sheet is full enough."""
        if filling.area >= POOL_FULLNESS * self._problem.rooms[filling.room].area:
            self._held.setdefault((filling.room, filling.counts), filling)

    def fitting(self, room: int, residual: Mapping[int, int]) -> Iterator[Filling]:
        """Yield the fillings of a room that use no more than is left to place."""
        for filling in self._held.values():
            if filling.room == room and all(
                residual.get(kind, 0) >= count for kind, count in filling.counts
            ):
                yield filling

    def shrink(self, values: Sequence[float]) -> None:
        """Drop the half of the fillings that is worth least, when the pool is over its size."""
        if len(self._held) <= POOL_SIZE:
            return
        rooms = self._problem.rooms

        def worth(filling: Filling) -> float:
            return filling.value(values) / rooms[filling.room].weight

        best = sorted(self._held.values(), key=worth, reverse=True)[: POOL_SIZE // 2]
        self._held = {(filling.room, filling.counts): filling for filling in best}
