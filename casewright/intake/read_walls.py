"""The walls of a job, with the screws of its catalogue."""

from __future__ import annotations

from casewright.intake.catalogue import Catalogue
from casewright.intake.catalogue_schema import ScrewEntry
from casewright.intake.to_domain import in_domain
from casewright.intake.walls_schema import WallEntry, WallsEntry
from parametric.geometry.walls import Wall
from parametric.sets.composition import wall_key
from parametric.sets.room_walls import RoomWalls
from parametric.stock.hardware import Screw
from parametric.stock.wall_types import AS_USUAL, WallType


def room_walls(entry: WallsEntry, catalogue: Catalogue) -> RoomWalls:
    """Return the walls in the domain's own type.

    Raises:
        KeyError: a screw that they name is missing or faulty.
    """
    own = ((wall, getattr(entry, wall_key(wall))) for wall in Wall)
    return RoomWalls(
        every=AS_USUAL if entry.every is None else _wall_type(entry.every, catalogue),
        own=tuple((wall, _wall_type(each, catalogue)) for wall, each in own if each is not None),
    )


def _wall_type(entry: WallEntry, catalogue: Catalogue) -> WallType:
    driven = ((key, name, catalogue.get(ScrewEntry, name)) for key, name in entry.screws.items())
    return WallType(
        kind=entry.kind,
        lining_mm=entry.lining,
        wood_mm=entry.thickness,
        fixings=tuple(each.fixing(key) for key, each in entry.fixings.items()),
        screws=tuple((key, in_domain(Screw, each, key=name)) for key, name, each in driven),
    )
