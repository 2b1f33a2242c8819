"""What the store packs: the kit of each set and hand, and the whole job's articles."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from export.tables.csv_text import csv_text, fixed
from parametric.joints.assembly import Assembly
from parametric.joints.joints import parts_of
from parametric.kit.kit import KitLine, KitUnit
from parametric.kit.set_kit import SetKit, whole_kit

PICK_COLUMNS = (
    *("article", "description", "unit"),
    *("needed", "spare", "packed", "supplied", "travels"),
)
KIT_COLUMNS = ("set", "hand", "rooms", *PICK_COLUMNS, "joints", "used_at")


def kits_csv(kits: Iterable[SetKit]) -> str:
    """Return the kits as CSV, quantities for one room; `used_at` names the parts that use each."""
    return csv_text(KIT_COLUMNS, (row for each in kits for row in _rows(each)))


def pick_list_csv(kits: Iterable[SetKit]) -> str:
    """Return what the whole job needs, as CSV."""
    return csv_text(PICK_COLUMNS, (_cells(line) for line in whole_kit(kits).lines))


def _rows(each: SetKit) -> Iterator[tuple[object, ...]]:
    for line in each.kit.lines:
        yield (
            each.set_name,
            each.hand,
            each.rooms,
            *_cells(line),
            len(line.joints),
            "; ".join(used_at(each.assembly, line)),
        )


def used_at(assembly: Assembly, line: KitLine) -> Iterator[str]:
    """Yield the parts whose joints use an article, with how many joints of each there are."""
    counts: dict[str, int] = {}
    for at in line.joints:
        first = parts_of(assembly.joints[at])[0]
        counts[first] = counts.get(first, 0) + 1
    for part, count in counts.items():
        yield f"{part} ({count})"


def _cells(line: KitLine) -> tuple[object, ...]:
    decimals = 0 if line.unit is KitUnit.PIECES else 1
    amounts = (fixed(amount, decimals) for amount in (line.needed, line.spare, line.packed))
    travels = "in the box" if line.in_box else "loose" if line.supplied else ""
    supplied = "yes" if line.supplied else "no"
    return line.key, line.description, line.unit, *amounts, supplied, travels
