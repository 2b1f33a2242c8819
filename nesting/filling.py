"""Filling one sheet: pieces are offered one after the other, and a place taken is final."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

from nesting.meter import WorkMeter
from nesting.problem import Kind, Room
from nesting.rectpack_start import Axis, Rule, Spot, Surface

Counts: TypeAlias = tuple[tuple[int, int], ...]
"""How often each kind lies on a sheet, by rising kind."""

_LOOKS_PER_OFFER = 4
"""Pieces looked at, and passed over, that cost as much as one piece offered to the packer."""


def fill(
    room: Room, chunks: Sequence["Chunk"], rule: Rule, axis: Axis, meter: WorkMeter
) -> "Filling | None":
    """Return a sheet filled by offering the chunks in turn; None when no piece fits it."""
    sheet = OpenSheet(room, rule, axis, meter)
    meter.spend(len(chunks) // _LOOKS_PER_OFFER)
    for chunk in chunks:
        for _ in range(chunk.copies):
            if not sheet.place(chunk.kind):
                break
    return sheet.filling() if sheet.free < room.area else None


@dataclass(frozen=True, slots=True)
class Chunk:
    """At most `copies` pieces of one kind, offered one after the other."""

    kind: Kind
    copies: int


@dataclass(frozen=True, slots=True)
class Filling:
    """One filled sheet: what lies on it, on how much area (square ticks), and where."""

    room: int
    counts: Counts
    area: int
    spots: tuple[Spot, ...]

    def value(self, values: Sequence[float]) -> float:
        """Return the sum of the values of the pieces on the sheet."""
        return sum(values[kind] * count for kind, count in self.counts)


class OpenSheet:
    """A sheet that is being filled. What it has refused once it refuses without a new try."""

    def __init__(self, room: Room, rule: Rule, axis: Axis, meter: WorkMeter) -> None:
        """Open an empty sheet."""
        self.room = room
        self.free = room.area
        self._surface = Surface(rule, axis, room)
        self._meter = meter
        self._refused: list[Kind] = []
        self._counts: dict[int, int] = {}

    def place(self, kind: Kind) -> bool:
        """Place one piece if it fits, and return whether it did."""
        if self._hopeless(kind):
            return False
        self._meter.spend()
        if not self._surface.place(kind):
            self._refuse(kind)
            return False
        self.free -= kind.area
        self._counts[kind.index] = self._counts.get(kind.index, 0) + 1
        return True

    def fitness(self, kind: Kind) -> float | None:
        """Return how well a piece would fit by the rule (less is better); None when it does not."""
        if self._hopeless(kind):
            return None
        self._meter.spend()
        fitness = self._surface.fitness(kind)
        if fitness is None:
            self._refuse(kind)
        return fitness

    def filling(self) -> Filling:
        """Return what lies on the sheet now."""
        return Filling(
            room=self.room.index,
            counts=tuple(sorted(self._counts.items())),
            area=self.room.area - self.free,
            spots=tuple(self._surface.spots),
        )

    def _hopeless(self, kind: Kind) -> bool:
        return kind.area > self.free or any(_as_large(kind, other) for other in self._refused)

    def _refuse(self, kind: Kind) -> None:
        smaller = [other for other in self._refused if not _as_large(other, kind)]
        self._refused = [*smaller, kind]


def _as_large(kind: Kind, refused: Kind) -> bool:
    """Return whether a sheet that refused the one kind will refuse this one too, in every turn."""
    straight = kind.length >= refused.length and kind.width >= refused.width
    turned = kind.length >= refused.width and kind.width >= refused.length
    if refused.turnable:
        return straight or turned
    return straight and (turned or not kind.turnable)
