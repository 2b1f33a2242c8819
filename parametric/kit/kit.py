"""A kit: what the installer needs for one set besides its panels, each line with its reasons."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class KitUnit(StrEnum):
    """What a quantity counts."""

    PIECES = "pieces"
    MILLILITRES = "ml"

    def shown(self, quantity: float) -> str:
        """Return a quantity for reading, without the unit: whole pieces, millilitres to a tenth."""
        return f"{quantity:.0f}" if self is KitUnit.PIECES else f"{round(quantity, 1):g}"

    def in_words(self, quantity: float) -> str:
        """Return a whole quantity with its unit, which pieces need not. Liquids are told in
        millilitres in all jobs, as cartridges and bottles name what they hold.
        """
        return f"{quantity:.0f}" if self is KitUnit.PIECES else f"{quantity:.0f} {self}"


@dataclass(frozen=True, slots=True, kw_only=True)
class KitLine:
    """One article of a kit.

    `needed` is what the joints take, `spare` what is added to it. `joints` are the places of these
    joints in the assembly's tuple, from 0; it is empty for what goes by the set and not by a joint.
    An article that is not `supplied` is on the list so that somebody brings it. What is `loose`
    lies beside the box; the rest is in it.
    """

    key: str
    description: str
    unit: KitUnit
    needed: float
    spare: float
    joints: tuple[int, ...]
    supplied: bool = True
    loose: bool = False

    @property
    def packed(self) -> float:
        """What is packed: needed and spare."""
        return self.needed + self.spare

    @property
    def in_box(self) -> bool:
        """Whether it is picked into the box."""
        return self.supplied and not self.loose


@dataclass(frozen=True, slots=True, kw_only=True)
class Kit:
    """The lines of one set and hand, or of several together, in the order of the articles."""

    lines: tuple[KitLine, ...]
