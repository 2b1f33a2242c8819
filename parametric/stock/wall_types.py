"""What walls are made of, and the fixings that an engineer or an approval allows in them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from parametric.stock.hardware import Screw


class WallKind(StrEnum):
    """What a wall is made of, as far as its fixings go."""

    WOOD_STUDS = "wood-studs"  # with blocking between them, behind a lining
    SOLID_TIMBER = "solid-timber"  # planks, logs or cross-laminated timber
    STEEL_STUDS = "steel-studs"  # thin sheet, lined with board
    MASONRY = "masonry"  # brick, block or concrete
    BULKHEAD = "bulkhead"  # steel or composite, of ships and modules

    @property
    def is_wood(self) -> bool:
        """Whether wood screws go straight into it, and rules for solid wood hold."""
        return self in {WallKind.WOOD_STUDS, WallKind.SOLID_TIMBER}

    @property
    def wants_blocking(self) -> bool:
        """Whether something is let into the wall between its studs before it is lined."""
        return self in {WallKind.WOOD_STUDS, WallKind.STEEL_STUDS}

    @property
    def words(self) -> str:
        """How sentences call it."""
        return _WORDS[self]


_WORDS = {
    WallKind.WOOD_STUDS: "wood studs and blocking",
    WallKind.SOLID_TIMBER: "solid timber",
    WallKind.STEEL_STUDS: "steel studs",
    WallKind.MASONRY: "masonry or concrete",
    WallKind.BULKHEAD: "a bulkhead",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class GivenFixing:
    """A fixing with what it may bear in one wall, as its approval or an engineer says.

    `screws` are the keys of the screws that it takes. `pull_n` straight out and `shear_n` along
    the wall are allowed on one screw, all factors of safety inside. `embedment_mm` is how far a
    screw goes in at least behind the lining; `spacing_mm` is kept between screws, `edge_mm` to the
    edges of what they go into. `hole_mm` is the diameter of the hole in the wall, `hole_depth_mm`
    its depth behind the lining, None where it goes through; `bit` is the tool that makes it. An
    `anchor` is packed for each screw, empty where the wall has ready what takes it.
    """

    key: str
    description: str
    screws: tuple[str, ...]
    pull_n: float
    shear_n: float
    embedment_mm: float
    spacing_mm: float
    edge_mm: float
    hole_mm: float
    hole_depth_mm: float | None = None
    bit: str
    source: str
    anchor: str = ""

    def allowed_n(self, along_n: float, out_n: float) -> float:
        """Return how great a force in this proportion may be: what is used of the shear and of the
        pull, added up, is one at most. The straight line between both is the cautious one of the
        rules for anchors (from memory).

        Raises:
            ZeroDivisionError: there is no force.
        """
        used = along_n / self.shear_n + out_n / self.pull_n
        return float((along_n**2 + out_n**2) ** 0.5 / used)


@dataclass(frozen=True, slots=True, kw_only=True)
class WallType:
    """A wall as fixings meet it. `lining_mm` is what they go through before they reach it,
    `wood_mm` how thick its blocking or timber is; None where it is as the job says for all walls.
    `screws` are driven into it in place of those of the construction, whose keys stand before them.
    """

    kind: WallKind = WallKind.WOOD_STUDS
    lining_mm: float | None = None
    wood_mm: float | None = None
    fixings: tuple[GivenFixing, ...] = ()
    screws: tuple[tuple[str, Screw], ...] = ()

    def screw_for(self, screw: Screw) -> Screw:
        """Return the screw that is driven into this wall where the construction has that one."""
        return dict(self.screws).get(screw.key, screw)

    def fixing_for(self, screw: Screw) -> GivenFixing | None:
        """Return the fixing that takes a screw, None where none is given."""
        return next((each for each in self.fixings if screw.key in each.screws), None)

    def by_engineer(self, screw: Screw) -> bool:
        """Return whether nothing says what a screw does in it: then an engineer specifies what
        goes into the wall in its place.
        """
        return not self.kind.is_wood and self.fixing_for(screw) is None


AS_USUAL = WallType()
