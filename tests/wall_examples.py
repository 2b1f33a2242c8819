"""Walls of every kind for tests, their fixings made up: nobody may build by these figures."""

from parametric.sets.room_walls import RoomWalls
from parametric.stock.wall_types import GivenFixing, WallKind, WallType
from tests.example_set import NO_10_WALL

MADE_UP = "made up for tests"


def fixing(**changes: object) -> GivenFixing:
    """A pad that takes the wall screws of the example: 39.7 to 66.7 mm past a lining of 15.9."""
    figures: dict[str, object] = {
        "key": "pad",
        "description": "Tapped pad",
        "screws": (NO_10_WALL.key,),
        "pull_n": 2000.0,
        "shear_n": 1500.0,
        "embedment_mm": 30.0,
        "spacing_mm": 40.0,
        "edge_mm": 12.0,
        "hole_mm": 5.0,
        "hole_depth_mm": 70.0,
        "bit": "drill 5.0 and tap",
        "source": MADE_UP,
    }
    return GivenFixing(**(figures | changes))  # type: ignore[arg-type]


def walls(kind: WallKind, *fixings: GivenFixing) -> RoomWalls:
    """All walls of a kind."""
    return RoomWalls(every=WallType(kind=kind, fixings=fixings))
