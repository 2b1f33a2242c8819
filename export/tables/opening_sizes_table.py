"""The widths of bench that fill measured openings: a row for each choice, and what is left out."""

from __future__ import annotations

from collections.abc import Iterator

from export.tables.csv_text import csv_text, fixed
from parametric.rooms.filler_widths import SizedRoom
from parametric.rooms.opening_choices import ChoiceKind
from parametric.rooms.opening_sizes import (
    CountedChoice,
    JobSheets,
    OpeningSizes,
    left_out_rooms,
)
from parametric.stock.lengths import Units, show_length

COLUMNS = (
    "set",
    "choice",
    "sizes",
    "bench_decks",
    "rooms_filled",
    "rooms_not_filled",
    "filler_in_all",
    "widest_filler",
    "sheets",
    "sheets_more",
    "cost",
    "cost_more",
    "cost_at_least",
    "sheets_by_material",
    "why_not",
)


def opening_sizes_csv(sizes: OpeningSizes, units: Units) -> str:
    """Return a row for each choice and, set by set, one for each reason to leave rooms out; lengths
    as people read them in the job's units.

    `..._more` is against the job as it is. Rooms left out keep the width that they have in the job.
    """
    rows: list[tuple[object, ...]] = []
    for openings in sizes.sets:
        of_set = (each for each in sizes.choices if each.openings is openings)
        rows += [_row(each, sizes.as_it_is, units) for each in of_set]
        rows += [
            (openings.set_name, "left out", *[""] * 3, ", ".join(rooms), *[""] * 8, why)
            for why, rooms in left_out_rooms(openings).items()
        ]
    if sizes.all_fewest is not None:
        cells = _sheet_cells(sizes.all_fewest, sizes.as_it_is)
        rows.append(("all sets", ChoiceKind.FEWEST, *[""] * 6, *cells))
    return csv_text(COLUMNS, rows)


def deck_words(each: CountedChoice, units: Units) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield each width of deck of a choice, as people read it, and the rooms that it fills."""
    openings, groups = each.openings, each.choice.grouping.groups
    for group in groups:
        rooms = tuple(openings.rooms[place].room for place in group.openings)
        yield show_length(group.size_mm, units), rooms
    if not groups:
        yield show_length(openings.deck_mm, units), ()


def unfilled_words(each: CountedChoice, units: Units) -> Iterator[str]:
    """Yield each room that a choice does not fill, with what is amiss with its nearest width."""
    for place in each.choice.grouping.unserved:
        room, deck_mm = each.openings.rooms[place], each.choice.decks_mm[place]
        yield f"{room.room} ({_amiss(room, deck_mm, units)})"


def _amiss(room: SizedRoom, deck_mm: float, units: Units) -> str:
    if deck_mm > room.exact.most_mm:
        return f"{show_length(deck_mm - room.exact.most_mm, units)} too wide"
    return f"{show_length(room.exact.flush_mm - deck_mm, units)} left"


def _row(each: CountedChoice, as_it_is: JobSheets, units: Units) -> tuple[object, ...]:
    grouping, decks = each.choice.grouping, tuple(deck_words(each, units))
    return (
        each.openings.set_name,
        each.choice.kind,
        len(decks),
        "; ".join(f"{width}: {', '.join(rooms)}" if rooms else width for width, rooms in decks),
        sum(len(rooms) for _, rooms in decks),
        "; ".join(unfilled_words(each, units)),
        show_length(grouping.total_gap_mm, units) if grouping.groups else "",
        show_length(grouping.worst_gap_mm, units) if grouping.groups else "",
        *_sheet_cells(each.sheets, as_it_is),
    )


def _sheet_cells(sheets: JobSheets, as_it_is: JobSheets) -> tuple[object, ...]:
    if sheets.why_not:
        return (*[""] * 6, sheets.why_not)
    return (
        sheets.sheets,
        sheets.sheets - as_it_is.sheets,
        fixed(sheets.cost, 2),
        fixed(sheets.cost - as_it_is.cost, 2),
        fixed(sheets.cost_bound, 2),
        "; ".join(f"{each.material}: {each.sheets}" for each in sheets.materials),
        "",
    )
