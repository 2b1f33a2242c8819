"""What keeps a layout off the saw.

NestingError
`-- CutRefused          a layout cannot be cut from edge to edge as the rules say
"""

from enum import StrEnum

from nesting.question.errors import NestingError


class Refusal(StrEnum):
    """Why a layout cannot be cut."""

    FREE_NEST = "the rules do not ask for cuts from edge to edge"
    OUTSIDE = "pieces reach out of the trimmed sheet"
    LOCKED = "no cut from edge to edge comes between these pieces"
    STAGES = "it takes more stages than the rules allow"


class CutRefused(NestingError):
    """A layout cannot be cut from edge to edge; `pieces` are those that are in the way."""

    def __init__(
        self, *, stock: str, refusal: Refusal, pieces: tuple[str, ...], needed: int, allowed: int
    ) -> None:
        """Keep what was found; stages needed and allowed are 0 where they do not matter."""
        super().__init__()
        self.stock = stock
        self.refusal = refusal
        self.pieces = pieces
        self.needed = needed
        self.allowed = allowed

    def __str__(self) -> str:
        """Return one line that a person can act on."""
        text = f"A layout on stock {self.stock} cannot be sawn: {self.refusal}"
        if self.refusal is Refusal.STAGES:
            return f"{text} ({self.needed} needed, {self.allowed} allowed)"
        return f"{text} ({', '.join(self.pieces)})" if self.pieces else text
