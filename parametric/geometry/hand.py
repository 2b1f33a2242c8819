"""The two hands of a set, and the one place where they differ."""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

from parametric.geometry.space import Placing


class Hand(StrEnum):
    """Facing the head wall from inside the room: the side of its corner with the side wall."""

    RIGHT = "right"
    LEFT = "left"

    @property
    def other(self) -> Hand:
        """The opposite hand."""
        return Hand.LEFT if self is Hand.RIGHT else Hand.RIGHT

    @property
    def corner_to_room(self) -> Placing:
        """Where the corner frame lies in the room frame.

        Right hand: the corner is at the right end of the head wall, so x is turned round as well as
        y, a proper rotation. Left hand: only y is turned round, a mirror image.
        """
        return Placing(signs=(-1, -1, 1) if self is Hand.RIGHT else (1, -1, 1))


BOTH_HANDS = "both hands"


def hands_in_words(hands: Sequence[Hand]) -> str:
    """Return the hands, one or both, as findings name them."""
    return BOTH_HANDS if len(hands) > 1 else f"{hands[0]} hand"
