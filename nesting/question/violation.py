"""What can be wrong with an answer, as data."""

from dataclasses import dataclass
from enum import StrEnum


class ViolationKind(StrEnum):
    """The ways in which an answer can be wrong; values are stable."""

    UNKNOWN_PIECE = "unknown piece"
    UNKNOWN_STOCK = "unknown stock"
    RUNS = "runs not positive"
    COUNT = "piece count"
    OUTSIDE = "outside the trimmed sheet"
    OVERLAP = "overlap"
    GAP = "gap too small"
    DEFECT = "on a defect of the sheet, or too near to it"
    RIM = "small part too near the rim"
    GRAIN = "turned against the grain"
    CUTS = "not possible with cuts from edge to edge"
    STAGES = "too many changes of the cutting direction"
    ON_HAND = "more sheets than on hand"
    BOUND = "bound above the answer"
    PRICE = "price not that of the sheets"
    PRICE_BOUND = "price bound above the price"


@dataclass(frozen=True, slots=True, kw_only=True)
class Violation:
    """One rule that an answer breaks: where, what was found, what the rule asks (ticks)."""

    kind: ViolationKind
    where: str
    found: str
    required: str

    def __str__(self) -> str:
        """Return one line that a person can act on."""
        return f"{self.kind}: {self.where}: found {self.found}, required {self.required}"
