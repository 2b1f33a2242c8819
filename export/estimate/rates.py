"""What an hour costs, and what is added to the costs of a job."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class RateName(StrEnum):
    """Rates by the names that a job's files have for them."""

    MACHINE_HOUR = "machine_hour"
    BENCH_HOUR = "bench_hour"
    INSTALL_HOUR = "install_hour"
    OVERHEAD_PERCENT = "overhead_percent"
    MARKUP_PERCENT = "markup_percent"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rates:
    """Hours in the job's currency, of one machine or person; None: nobody has said. Overhead is
    added to all costs, markup to costs and overhead. `room_counts` are the numbers of rooms that a
    price is told for beside the job's own; None: the usual ones.
    """

    machine_hour: float | None = None
    bench_hour: float | None = None
    install_hour: float | None = None
    overhead_percent: float | None = None
    markup_percent: float | None = None
    room_counts: tuple[int, ...] | None = None
