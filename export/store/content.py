"""What stands on the papers of the store, apart from how it is set."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import fsum, prod

from parametric.geometry.hand import Hand
from parametric.geometry.outline import Bounds


class PackedKind(StrEnum):
    """What a line of a packing list is, in the order of loading."""

    BOARDS = "boards and joined pieces"
    CLEATS = "loose cleats"
    STEEL = "steel"
    BOX = "box"


@dataclass(frozen=True, slots=True, kw_only=True)
class PackedLine:
    """Pieces of one number that a room gets, with all `names` that they have there: what is alike
    may stand in several places. Mass and sides are of one, the longest first. What is `bought` has
    the key of its article for a number. A box has neither number nor sides: what is in it is on the
    pick list. Its mass is 0 where several boxes differ.
    """

    kind: PackedKind
    number: str
    names: tuple[str, ...]
    count: int
    mass_kg: float
    sides_mm: tuple[float, float, float]
    bought: bool = False

    @property
    def name(self) -> str:
        """What they are, in words."""
        return ", ".join(self.names)

    @property
    def volume_m3(self) -> float:
        """The volume of the boxes around all of them."""
        return self.count * prod(self.sides_mm) * 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class SetPacking:
    """What a room with this set gets. `fitted_kg` are the screws and the glue in its pieces, and
    `unweighed` the articles that are in no mass, since nobody has said what they weigh.
    `stands` is what each unit covers of the floor.
    """

    set_name: str
    hand: Hand
    rooms: tuple[str, ...]
    lines: tuple[PackedLine, ...]
    fitted_kg: float = 0.0
    unweighed: tuple[str, ...] = ()
    stands: tuple[Bounds, ...] = ()

    @property
    def mass_kg(self) -> float:
        """The mass of all its pieces, of screws and glue in them, and of the box."""
        return fsum((self.fitted_kg, *(line.count * line.mass_kg for line in self.lines)))

    @property
    def volume_m3(self) -> float:
        """The volume of all its pieces, without the box."""
        return fsum(line.volume_m3 for line in self.lines)


@dataclass(frozen=True, slots=True, kw_only=True)
class Truck:
    """What one trip may carry; None: nobody said so."""

    payload_kg: float | None = None
    volume_m3: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Delivery:
    """One trip: to a floor (blank where the schedule names none), for these rooms."""

    floor: str
    trip: int
    trips: int
    rooms: tuple[str, ...]
    lines: tuple[PackedLine, ...]
    mass_kg: float
    volume_m3: float
    too_much: bool

    @property
    def name(self) -> str:
        """What it is called."""
        floor = f"Floor {self.floor}" if self.floor else "All rooms"
        return floor if self.trips == 1 else f"{floor}, trip {self.trip} of {self.trips}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Packing:
    """What is packed and delivered for a job."""

    job: str
    sets: tuple[SetPacking, ...]
    deliveries: tuple[Delivery, ...]
    truck: Truck
