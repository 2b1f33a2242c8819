"""rectpack as the peer: the best of 35 settings; all pieces turn, none, or each by its grain.

The settings are seven of its rules times five of its orders. An answer that lost a piece ends the
benchmark: rectpack drops what fits nowhere without a word.
"""

import time
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Any

import rectpack

RULES = (
    *("MaxRectsBl", "MaxRectsBssf", "MaxRectsBlsf", "MaxRectsBaf"),
    *("SkylineBl", "SkylineMwf", "GuillotineBssfSas"),
)
ORDERS = ("SORT_AREA", "SORT_PERI", "SORT_SSIDE", "SORT_LSIDE", "SORT_RATIO")


@dataclass(frozen=True)
class Setting:
    """One of rectpack's rules and one of its orders, by their names there."""

    rule: str
    order: str


SETTINGS = tuple(Setting(rule, order) for order, rule in product(ORDERS, RULES))
QUICK_SETTINGS = tuple(each for each in SETTINGS if not each.rule.startswith("Skyline"))
"""Those that bear many sheets: a skyline takes ten times as long, and packs no better there."""


@dataclass(frozen=True)
class Rectangle:
    """A size to place, gap included, and whether it may turn where each piece decides."""

    length: int
    width: int
    turnable: bool


@dataclass(frozen=True)
class PeerAnswer:
    """The fewest sheets, with the settings by rising number of sheets, and processor seconds."""

    sheets: int
    ranking: tuple[Setting, ...]
    seconds: float


class FirstFitByGrain(rectpack.PackerOnlineBFF):  # type: ignore[misc] # rectpack has no types
    """rectpack's first-fit packer, with the turn of each piece its own: its identity says which.

    Each rectangle given must fit an empty sheet.
    """

    def add_rect(self, width: int, height: int, rid: bool | None = None) -> object:
        """Place one rectangle; `rid` tells whether it may turn."""
        for sheet in self._open_bins:
            sheet.rot = rid
            placed = sheet.add_rect(width, height, rid=rid)
            if placed is not None:
                return placed
        sheet = self._new_open_bin(width, height, rid=rid)
        if sheet is None:
            return None
        sheet.rot = rid
        return sheet.add_rect(width, height, rid=rid)


def best_alike(
    length: int, width: int, rectangles: Sequence[Rectangle], settings: Iterable[Setting] = SETTINGS
) -> PeerAnswer:
    """Return the best of the settings on sheets of one size; all rectangles may turn, or none.

    Each lies on the open sheet that fits it best.

    Raises:
        ValueError: some may turn and some may not.
        RuntimeError: a rectangle was lost.
    """
    turns = {rectangle.turnable for rectangle in rectangles}
    if len(turns) != 1:
        raise ValueError("rectpack turns all pieces or none; found both")
    return _best(rectpack.PackerOnlineBBF, turns.pop(), (length, width), rectangles, settings)


def best_by_grain(
    length: int, width: int, rectangles: Sequence[Rectangle], settings: Iterable[Setting] = SETTINGS
) -> PeerAnswer:
    """Return the best of the settings on sheets of one size, each rectangle with its own turn.

    Each lies on the first open sheet that holds it: rectpack's best fit knows no turn of a piece.

    Raises:
        RuntimeError: a rectangle was lost.
    """
    return _best(FirstFitByGrain, True, (length, width), rectangles, settings)


def _best(
    kind_of_packer: Any,
    turn: bool,
    sheet: tuple[int, int],
    rectangles: Sequence[Rectangle],
    settings: Iterable[Setting],
) -> PeerAnswer:
    start = time.process_time()
    sheets: dict[Setting, int] = {}
    for setting in settings:
        packer = kind_of_packer(pack_algo=getattr(rectpack, setting.rule), rotation=turn)
        packer.add_bin(*sheet, count=len(rectangles))
        sizes = [(each.length, each.width, each.turnable) for each in rectangles]
        for length, width, turnable in getattr(rectpack, setting.order)(sizes):
            packer.add_rect(length, width, turnable)
        sheets[setting] = len(packer)
        placed = sum(len(used) for used in packer)
        if placed != len(rectangles):
            raise RuntimeError(f"rectpack lost {len(rectangles) - placed} pieces with {setting}")
    ranking = sorted(sheets, key=lambda setting: sheets[setting])
    seconds = time.process_time() - start
    return PeerAnswer(sheets=sheets[ranking[0]], ranking=tuple(ranking), seconds=seconds)
