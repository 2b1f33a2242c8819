"""What can be wrong with a cut file, as data."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class SheetFault(StrEnum):
    """What is wrong with a cut file."""

    MISSING = "missing"
    UNEXPECTED = "unexpected"
    WRONG_LAYER = "on the wrong layer"
    LAYER_NOT_DECLARED = "layer not declared"
    OUTSIDE = "outside the trimmed sheet"
    TOO_CLOSE = "closer than the gap"
    AGAINST_GRAIN = "against the grain"
    PART_TEXT = "part number"
    UNIT = "unit not stated"


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetProblem:
    """One fault: where it is (part or layer, and place in mm) and what was found."""

    fault: SheetFault
    where: str
    message: str
