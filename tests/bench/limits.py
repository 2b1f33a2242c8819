"""Tables of plain columns, and limits on what they show: a missed one ends a benchmark with 1."""

import sys
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum


class Sense(Enum):
    """How what was found must stand to its limit."""

    AT_MOST = "<="
    BELOW = "<"
    AT_LEAST = ">="


@dataclass(frozen=True)
class Limit:
    """One number that was measured, what it must keep, and what is hoped for (shown only)."""

    what: str
    found: float
    sense: Sense
    must: float
    goal: float | None = None

    @property
    def missed(self) -> bool:
        if self.sense is Sense.AT_MOST:
            return self.found > self.must
        if self.sense is Sense.BELOW:
            return self.found >= self.must
        return self.found < self.must


def show_limits_and_exit(limits: Sequence[Limit]) -> None:
    """Print what had to be reached and what was; end the process with 1 if any limit is missed."""
    print("\nWhat must be reached")
    rows = [
        (
            limit.what,
            short(limit.found),
            f"{limit.sense.value} {short(limit.must)}",
            "" if limit.goal is None else short(limit.goal),
            "MISSED" if limit.missed else "reached",
        )
        for limit in limits
    ]
    print(table(("measure", "found", "must", "goal", ""), rows))
    sys.exit(1 if any(limit.missed for limit in limits) else 0)


def table(head: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Return the rows under their head: the first column to the left, the others to the right."""
    cells = [list(head), *([shown(cell) for cell in row] for row in rows)]
    widths = [max(len(row[column]) for row in cells) for column in range(len(head))]
    lines = []
    for row in cells:
        first, *others = zip(row, widths, strict=True)
        aligned = [f"{first[0]:<{first[1]}}", *(f"{cell:>{width}}" for cell, width in others)]
        lines.append("  " + "  ".join(aligned))
    return "\n".join(line.rstrip() for line in lines)


def shown(cell: object) -> str:
    """Return a cell as text; None is a dash."""
    if cell is None:
        return "-"
    return short(cell) if isinstance(cell, float) else str(cell)


def short(number: float) -> str:
    """Return a whole number as it is, another one with three decimals."""
    return f"{number:.0f}" if number == int(number) else f"{number:.3f}"
