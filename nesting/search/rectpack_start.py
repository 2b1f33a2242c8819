"""The only door to rectpack.

rectpack's own packers are not used: they turn all pieces or none, report no turn, open the first
sheet that fits rather than the best, and drop what fits nowhere without a word. Its one-sheet
surfaces are sound, and read their turn switch anew for every piece, which gives each piece its own
turn. A surface either says where a piece lies or that it does not fit; nothing is lost.
"""

from enum import Enum, StrEnum

import rectpack

from nesting.question.problem import ItemType, Room
from nesting.search.pattern import Spot


class Rule(Enum):
    """Which free place rectpack prefers. Values are rectpack's class names."""

    MAX_BOTTOM_LEFT = "MaxRectsBl"
    MAX_SHORT_SIDE = "MaxRectsBssf"
    MAX_LONG_SIDE = "MaxRectsBlsf"
    MAX_AREA = "MaxRectsBaf"
    SKY_BOTTOM_LEFT = "SkylineBl"
    SKY_BOTTOM_LEFT_WASTE = "SkylineBlWm"
    SKY_LEAST_WASTE = "SkylineMwf"
    SKY_LEAST_WASTE_WASTE = "SkylineMwfWm"
    SKY_LOW_LEAST_WASTE = "SkylineMwfl"
    SKY_LOW_LEAST_WASTE_WASTE = "SkylineMwflWm"
    CUT_AREA_SHORT_AXIS = "GuillotineBafSas"
    CUT_AREA_LONG_AXIS = "GuillotineBafLas"
    CUT_AREA_SHORT_LEFT = "GuillotineBafSlas"
    CUT_AREA_LONG_LEFT = "GuillotineBafLlas"
    CUT_AREA_MOST = "GuillotineBafMaxas"
    CUT_AREA_LEAST = "GuillotineBafMinas"
    CUT_SHORT_SHORT_AXIS = "GuillotineBssfSas"
    CUT_SHORT_LONG_AXIS = "GuillotineBssfLas"
    CUT_SHORT_SHORT_LEFT = "GuillotineBssfSlas"
    CUT_SHORT_LONG_LEFT = "GuillotineBssfLlas"
    CUT_SHORT_MOST = "GuillotineBssfMaxas"
    CUT_SHORT_LEAST = "GuillotineBssfMinas"
    CUT_LONG_SHORT_AXIS = "GuillotineBlsfSas"
    CUT_LONG_LONG_AXIS = "GuillotineBlsfLas"
    CUT_LONG_SHORT_LEFT = "GuillotineBlsfSlas"
    CUT_LONG_LONG_LEFT = "GuillotineBlsfLlas"
    CUT_LONG_MOST = "GuillotineBlsfMaxas"
    CUT_LONG_LEAST = "GuillotineBlsfMinas"


class Axis(StrEnum):
    """Which side of the sheet the rule takes for its bottom."""

    LENGTH = "length"
    WIDTH = "width"


class Surface:
    """One empty room that pieces are placed in one after the other."""

    def __init__(self, rule: Rule, axis: Axis, room: Room) -> None:
        """Open the room under one rule."""
        self._axis = axis
        length, width = self._along(room.length, room.width)
        self._packer = getattr(rectpack, rule.value)(length, width)
        self.spots: list[Spot] = []

    def place(self, item_type: ItemType) -> bool:
        """Place one piece of an item type if it fits, and return whether it did."""
        self._let_turn(item_type)
        length, width = self._along(item_type.length, item_type.width)
        found = self._packer.add_rect(length, width)
        if found is None:
            return False
        x, y = self._along(found.x, found.y)
        turned = item_type.turnable and found.width != length
        self.spots.append(Spot(item_type.index, x, y, turned))
        return True

    def fitness(self, item_type: ItemType) -> float | None:
        """Return how well a piece would fit by the rule (less is better); None: not at all."""
        self._let_turn(item_type)
        length, width = self._along(item_type.length, item_type.width)
        measured = self._packer.fitness(length, width)
        return None if measured is None else float(measured)

    def _let_turn(self, item_type: ItemType) -> None:
        self._packer.rot = item_type.turnable
        waste = getattr(self._packer, "_waste", None)
        if waste is not None:
            waste.rot = item_type.turnable

    def _along(self, length: int, width: int) -> tuple[int, int]:
        return (length, width) if self._axis is Axis.LENGTH else (width, length)
