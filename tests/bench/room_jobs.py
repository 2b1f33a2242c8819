"""Jobs of many equal rooms: four invented sets of panels, nested on two sizes of sheet.

The parts of a job are the rows of a file in `data`: how many a room needs, and whether the grain
fixes which way round they lie. No two jobs are alike: the lengths of each are moved a little, by a
seed, as rooms that were measured differ.
"""

import csv
import random
from dataclasses import dataclass, replace
from pathlib import Path

from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import EdgeToEdge, SheetRules, Trim
from nesting.question.ticks import gap_ticks, piece_ticks, sheet_ticks
from tests.bench.rectpack_peer import Rectangle

DATA = Path(__file__).parent / "data"
JOBS = ("study_bedrooms", "hotel_rooms", "clinic_rooms", "ship_cabins")
ROOMS = (40, 120, 400)
TRIM_MM = 10.0
GAP_MM = 8.0  # the bit
MOST_MOVED = 300  # tenths of a millimetre, either way


@dataclass(frozen=True)
class Sheet:
    """A size of sheet in millimetres."""

    length_mm: float
    width_mm: float

    @property
    def name(self) -> str:
        return f"{self.length_mm:.0f}x{self.width_mm:.0f}"


SHEETS = (Sheet(2440.0, 1220.0), Sheet(3050.0, 1525.0))


def question(job: str, rooms: int, sheet: Sheet, moved_as: int | None = None) -> Instance:
    """Return the nest of a job, free; `moved_as` takes the lengths of the job of so many rooms."""
    source = random.Random(f"{job} {moved_as or rooms}")
    with (DATA / f"{job}.csv").open(newline="", encoding="utf-8") as stream:
        pieces = tuple(_piece(row, rooms, source) for row in csv.DictReader(stream))
    stock = Stock(
        id=sheet.name,
        length=sheet_ticks(sheet.length_mm),
        width=sheet_ticks(sheet.width_mm),
        price=1.0,
        on_hand=None,
    )
    rules = SheetRules(trim=Trim.even(gap_ticks(TRIM_MM)), gap=gap_ticks(GAP_MM))
    return Instance(pieces=pieces, stocks=(stock,), rules=rules)


def sawn(instance: Instance, stages: int | None) -> Instance:
    """Return the same nest in edge-to-edge cuts; the kerf is as wide as the bit was."""
    return replace(instance, rules=replace(instance.rules, saw=EdgeToEdge(stages=stages)))


def pieces_of(instance: Instance) -> int:
    """Return how many single pieces are asked for."""
    return sum(piece.quantity for piece in instance.pieces)


def grown(instance: Instance) -> tuple[tuple[int, int], list[Rectangle]]:
    """Return sheet and single pieces, each larger by the gap, which keeps it between any two."""
    (stock,), rules = instance.stocks, instance.rules
    sheet = (
        stock.length - rules.trim.along + rules.gap,
        stock.width - rules.trim.across + rules.gap,
    )
    rectangles = [
        Rectangle(piece.length + rules.gap, piece.width + rules.gap, piece.turn is Turn.QUARTER)
        for piece in instance.pieces
        for _ in range(piece.quantity)
    ]
    return sheet, rectangles


def _piece(row: dict[str, str], rooms: int, source: random.Random) -> Piece:
    moved = source.randint(-MOST_MOVED, MOST_MOVED) / 10
    return Piece(
        id=row["part"],
        length=piece_ticks(float(row["length_mm"]) + moved),
        width=piece_ticks(float(row["width_mm"])),
        quantity=int(row["per_room"]) * rooms,
        turn=Turn.FIXED if row["grain"] == "yes" else Turn.QUARTER,
    )
