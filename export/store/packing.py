"""The packing lists: what each room gets, and what goes on each trip."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from export.papers.blocks import (
    Block,
    Cautions,
    Head,
    Page,
    Paragraph,
    Row,
    Share,
    Table,
    Ticked,
    Whole,
)
from export.papers.cautions import DEFERS
from export.papers.page_format import page_format
from export.papers.typesetting import Source, document
from export.store.content import Delivery, PackedKind, PackedLine, Packing, SetPacking
from parametric.steps.carrying import who_lifts
from parametric.stock.amounts import in_words, mass
from parametric.stock.lengths import Units, show_length
from parametric.stock.paper import Paper

LOADING = (
    "As many lift a piece as its line says, or a trolley takes it. Load long and heavy pieces low,"
    " on edge and tied, and keep to what the vehicle may carry.",
    DEFERS,
)
_LONG_ROOM = 10  # letters, of which wide ones still fit a sixth of the page
_SHORT = 12  # rows of a table that any page has room for
_CUBIC_FEET_PER_M3 = 1 / 0.3048**3


def packing_source(packing: Packing, units: Units, paper: Paper) -> Source:
    """Return a page for each set and hand with its rooms to tick, then one for each trip."""
    of_sets = (_set_page(each, units) for each in packing.sets if each.rooms)
    trips = (_trip_page(packing, each, units) for each in packing.deliveries)
    return document(page_format(paper), packing.job, (*of_sets, *trips))


def _set_page(packing: SetPacking, units: Units) -> Page:
    below = f"set {packing.set_name}, {packing.hand} hand, {_load(packing, units)} a room"
    return Page(
        blocks=(
            Head(
                title="Packing list of a room",
                below=below,
                hand=packing.hand,
                stands=packing.stands,
            ),
            Cautions(LOADING),
            *_lists(packing.lines, units, "in a room"),
            Ticked(
                title="Packed for room",
                items=tuple(f"room {room}" for room in packing.rooms),
                columns=3 if max(map(len, packing.rooms)) > _LONG_ROOM else 6,
            ),
            Paragraph(masses_words((packing,))),
        )
    )


def masses_words(sets: Iterable[SetPacking]) -> str:
    """Return what the masses of rooms and trips hold, and which articles they do not."""
    unweighed = dict.fromkeys(article for each in sets for article in each.unweighed)
    said = (
        "Boards count whole: what is cut out of them makes a piece a little lighter. Masses of"
        " rooms and trips are with the boxes, screws and glue, without wrapping."
    )
    if unweighed:
        said += f" Not in them, since no mass is given for it: {', '.join(unweighed)}."
    return said


def _trip_page(packing: Packing, delivery: Delivery, units: Units) -> Page:
    rooms = ", ".join(delivery.rooms)
    blocks: list[Block] = [
        Head(title=f"Delivery: {delivery.name}", below=_load(delivery, units)),
        Paragraph(f"{'Room' if len(delivery.rooms) == 1 else 'Rooms'} {rooms}"),
        Cautions(LOADING),
    ]
    if delivery.too_much:
        blocks.append(Cautions(("This room alone is more than the truck of the job may carry.",)))
    blocks += _lists(delivery.lines, units, "on this trip")
    sets = (each for each in packing.sets if set(each.rooms) & set(delivery.rooms))
    blocks.append(Paragraph(masses_words(sets)))
    return Page(blocks=tuple(blocks))


def _lists(lines: Iterable[PackedLine], units: Units, how_many: str) -> Iterator[Block]:
    """Yield a table for each kind; no page ends within a short one."""
    listed = tuple(lines)
    for kind in PackedKind:
        table = Table(
            heads=("number", "name", "size", "mass of one", "lifted by", how_many, ""),
            widths=(17.0, Share(), None, 20.0, 20.0, 18.0, 8.0),
            rows=tuple(_row(line, units) for line in listed if line.kind is kind),
            title=kind.capitalize(),
            right=(3, 5),
        )
        yield Whole((table,)) if 0 < len(table.rows) <= _SHORT else table


def _row(line: PackedLine, units: Units) -> Row:
    if line.kind is PackedKind.BOX:
        weighs = in_words(mass(line.mass_kg), units) if line.mass_kg else ""
        lifts = who_lifts(line.mass_kg) if line.mass_kg else ""
        return "", line.name, "", weighs, lifts, str(line.count), "☐"
    number, lifts = "" if line.bought else line.number, who_lifts(line.mass_kg)
    return number, line.name, *size_and_mass(line, units), lifts, str(line.count), "☐"


def size_and_mass(line: PackedLine, units: Units) -> tuple[str, str]:
    """Return size and mass of one piece as people read them."""
    *sides, last = (show_length(side, units) for side in line.sides_mm)
    size = " x ".join((*(side.removesuffix(" mm") for side in sides), last))
    return size, in_words(mass(line.mass_kg), units)


def _load(load: SetPacking | Delivery, units: Units) -> str:
    return f"{in_words(mass(load.mass_kg), units)}, {volume_words(load.volume_m3, units)}"


def volume_words(volume_m3: float, units: Units) -> str:
    """Return a volume as people read it: cubic metres to a hundredth, or whole cubic feet."""
    if units is Units.INCH:
        return f"{volume_m3 * _CUBIC_FEET_PER_M3:.0f} cu ft"
    return f"{volume_m3:.2f} m3"
