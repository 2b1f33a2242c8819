"""How long a nest may go on: work counted in pieces offered, a clock if asked, and the watcher."""

from collections.abc import Callable
from sys import maxsize

from nesting.answer.solution import StopReason
from nesting.search.watch import Standing, Watcher

Clock = Callable[[], float]
"""Seconds that only ever grow."""

CHUNK = 200_000
"""Pieces offered between two looks at the clock and the watcher: some tens of milliseconds."""


class Budget:
    """What is left of the work and the time allowed. Without a deadline no clock is read."""

    def __init__(self, offers: int, deadline: float | None, clock: Clock, watcher: Watcher) -> None:
        """Start with all of it left."""
        self._offers = offers
        self._deadline = deadline
        self._clock = clock
        self.watcher = watcher
        self._start = clock() if deadline is not None else 0.0
        self.spent = 0

    @property
    def over(self) -> StopReason | None:
        """Return why the search must stop now; None while it may go on."""
        if self.watcher.cancelled():
            return StopReason.CANCELLED
        if self._deadline is not None:
            return StopReason.TIME if self._clock() >= self._deadline else None
        return StopReason.WORK if self.spent >= self._offers else None

    @property
    def done(self) -> float:
        """Return the share of the work or time that is used up (0 to 1)."""
        if self._deadline is None:
            return min(1.0, self.spent / self._offers)
        allowed = self._deadline - self._start
        return min(1.0, (self._clock() - self._start) / allowed) if allowed > 0 else 1.0

    @property
    def chunk(self) -> int:
        """Return how many pieces may be offered before the next look at `over`."""
        left = maxsize if self.timed else self._offers - self.spent
        return max(1, min(CHUNK, left))

    @property
    def timed(self) -> bool:
        """Return whether a clock decides when to stop."""
        return self._deadline is not None

    def spend(self, offers: int) -> None:
        """Count work done."""
        self.spent += offers

    def cancelled(self) -> bool:
        """Return whether a long call must stop at once: cancelled, or out of time."""
        return self.over in {StopReason.CANCELLED, StopReason.TIME}

    def tell(self, stage: str, sheets: int, lower_bound: int) -> None:
        """Tell the watcher where the search stands: sheets of the whole answer, and its bound."""
        self.watcher.standing(
            Standing(stage=stage, done=self.done, sheets=sheets, lower_bound=lower_bound)
        )

    def part(self, share: float) -> "Budget":
        """Return a budget that ends when this share of what is left is used; it counts here too."""
        # With a deadline the clock alone decides how long a share is.
        offers = maxsize if self.timed else max(1, int(share * (self._offers - self.spent)))
        return _Part(self, offers, share)

    def within(self, offers: int) -> "Budget":
        """Return a budget that ends after so many offers, or with this one; it counts here too."""
        return _Part(self, offers, 1.0)


class _Part(Budget):
    """A budget inside another one."""

    def __init__(self, whole: Budget, offers: int, share: float) -> None:
        deadline = whole._deadline
        if deadline is not None:
            now = whole._clock()
            deadline = now + share * (deadline - now)
        super().__init__(offers, deadline, whole._clock, whole.watcher)
        self._whole = whole

    @property
    def over(self) -> StopReason | None:
        """Return why the search must stop now; None while it may go on."""
        if self.spent >= self._offers:
            return StopReason.WORK
        return super().over or self._whole.over

    def spend(self, offers: int) -> None:
        """Count work done, here and in the whole."""
        super().spend(offers)
        self._whole.spend(offers)
