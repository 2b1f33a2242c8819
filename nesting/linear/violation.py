"""What can be wrong with an answer for bars, as data."""

from dataclasses import dataclass
from enum import StrEnum


class BarViolationKind(StrEnum):
    """The ways in which an answer can be wrong; values are stable."""

    UNKNOWN_PIECE = "unknown piece"
    UNKNOWN_BAR = "unknown bar"
    RUNS = "runs not positive"
    EMPTY = "bar without cuts"
    COUNT = "piece count"
    TOO_LONG = "beyond the end of the bar"
    REMNANT = "remnant"
    ON_HAND = "more bars than on hand"
    BOUND = "bound above the answer"


@dataclass(frozen=True, slots=True, kw_only=True)
class BarViolation:
    """One rule that an answer breaks: where, what was found, what the rule asks (ticks)."""

    kind: BarViolationKind
    where: str
    found: str
    required: str

    def __str__(self) -> str:
        """Return one line that a person can act on."""
        return f"{self.kind}: {self.where}: found {self.found}, required {self.required}"
