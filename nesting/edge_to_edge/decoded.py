"""Sheets filled piece by piece by the compiled rules, in chosen orders."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nesting.kernels.sawn_sheet import fill_sawn
from nesting.kernels.sheet import Filled, Sheet
from nesting.question.problem import ItemType, Room
from nesting.search.pattern import Spot

SPARE_ROWS = 4
"""Free rectangles that one piece can add, at the most."""


@dataclass(frozen=True, slots=True)
class SheetFiller:
    """Fills sheets of one room, again and again, without new memory for each.

    The rules push pieces to the low ends of what is clear; where it is `flipped` (along x, along
    y), to the high ones, which only differs beside defects.
    """

    room: Room
    flipped: tuple[bool, bool]
    stages: int | None
    item_types: NDArray[np.int64]
    sheet: Sheet
    pieces_most: int
    arrays: Filled

    @classmethod
    def of(
        cls,
        room: Room,
        item_types: Sequence[ItemType],
        stages: int | None,
        pieces_most: int,
        flipped: tuple[bool, bool] = (False, False),
    ) -> "SheetFiller":
        """Return a filler for orders of up to `pieces_most` pieces; item types go by place."""
        rows = [
            [item_type.length, item_type.width, int(item_type.turnable), item_type.rim]
            for item_type in item_types
        ]
        clear = [
            [x, y, x + free.length, y + free.width]
            for free in room.free
            for x in [room.length - free.x - free.length if flipped[0] else free.x]
            for y in [room.width - free.y - free.width if flipped[1] else free.y]
        ]
        smallest = min((item_type.area for item_type in item_types), default=1)
        on_sheet = min(pieces_most, room.area // smallest)
        return cls(
            room,
            flipped,
            stages,
            np.array(rows, np.int64).reshape(-1, 4),
            Sheet(room.length, room.width, np.array(clear, np.int64).reshape(-1, 4)),
            pieces_most,
            Filled(
                scratch=np.empty((2 * (SPARE_ROWS * on_sheet + 1), 4), np.int64),
                taken=np.empty(pieces_most, np.uint8),
                placed=np.empty((pieces_most, 4), np.int64),
            ),
        )

    def filled(self, order: NDArray[np.int64], rule: int) -> list[Spot]:
        """Return where the pieces of the order lie; those that do not fit are passed over.

        Raises:
            ValueError: there are more pieces than the filler was made for.
        """
        if len(order) > self.pieces_most:
            raise ValueError(f"{len(order)} pieces, room for {self.pieces_most}")
        placed = fill_sawn(self.sheet, self.item_types, order, rule, self.stages or 0, self.arrays)
        return [self._spot(*row) for row in self.arrays.placed[:placed].tolist()]

    def _spot(self, item_type: int, x: int, y: int, turned: int) -> Spot:
        """Return where a piece lies in the room's own frame."""
        length, width = self.item_types[item_type, turned], self.item_types[item_type, 1 - turned]
        if self.flipped[0]:
            x = self.room.length - x - int(length)
        if self.flipped[1]:
            y = self.room.width - y - int(width)
        return Spot(item_type, x, y, turned == 1)
