"""The command that shows how few widths of bench fill measured openings, and what each costs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import PurePosixPath

from casewright.job import Job
from casewright.output.left_file import LeftFile, listed
from casewright.terminal.terminal_text import TextTable, tell, tell_words
from casewright.wording import counted
from export.manifest import FileRole
from export.tables.csv_text import fixed
from export.tables.opening_sizes_table import deck_words, opening_sizes_csv, unfilled_words
from parametric.rooms.opening_choices import ChoiceKind, SetOpenings
from parametric.rooms.opening_sizes import CountedChoice, JobSheets, OpeningSizes, left_out_rooms
from parametric.stock.lengths import Units, show_length

SHOWN_ROOMS = 8
TABLE = "opening-sizes.csv"


def show_opening_sizes(sizes: OpeningSizes, job: Job, effort: str) -> None:
    """Print a table for each set, what no width fills, and what is left out."""
    tell_words(
        f"{job.name}: widths of the bench's deck with which sets fill their measured openings"
    )
    for openings in sizes.sets:
        of_set = [each for each in sizes.choices if each.openings is openings]
        tell()
        tell(_title(openings, job.units))
        if of_set:
            choice_table(of_set, sizes.as_it_is, job).tell()
        for line in _remarks(openings, of_set, job.units):
            tell_words(f"  {line}", hanging=4)
    tell()
    for line in _closing(sizes, job, effort):
        tell_words(line)


def choice_table(choices: Iterable[CountedChoice], as_it_is: JobSheets, job: Job) -> TextTable:
    """Return the choices for one set: decks, rooms filled, filler, and sheets and cost of the whole
    job, which are differences from the job as it is in all rows but its own.
    """
    table = TextTable()
    table.add_texts("choice")
    table.add_numbers("deck", "rooms", ("not", "filled"), "filler", "widest", "sheets")
    table.add_numbers(job.currency)
    for each in choices:
        grouping = each.choice.grouping
        decks = tuple(deck_words(each, job.units))
        table.add_row(
            each.choice.kind,
            [width for width, _ in decks],
            [str(len(rooms)) for _, rooms in decks],
            str(len(grouping.unserved)),
            show_length(grouping.total_gap_mm, job.units) if grouping.groups else "",
            show_length(grouping.worst_gap_mm, job.units) if grouping.groups else "",
            *_sheets(each, as_it_is),
        )
    return table


def opening_files(sizes: OpeningSizes, units: Units) -> dict[PurePosixPath, bytes]:
    """Return the output folder: the table, and the manifest that lists it."""
    table = opening_sizes_csv(sizes, units).encode()
    return listed((LeftFile(path=TABLE, role=FileRole.OPENING_SIZES, content=table),))


def _sheets(each: CountedChoice, as_it_is: JobSheets) -> tuple[str, str]:
    if each.choice.kind is ChoiceKind.AS_IT_IS:
        return str(as_it_is.sheets), fixed(as_it_is.cost, 2)
    return _more(each.sheets, as_it_is)


def _more(sheets: JobSheets, as_it_is: JobSheets) -> tuple[str, str]:
    if sheets.why_not:
        return "not cut", ""
    dearer = round(sheets.cost - as_it_is.cost, 2) + 0.0  # never minus zero
    return f"{sheets.sheets - as_it_is.sheets:+d}", f"{dearer:+.2f}"


def _title(openings: SetOpenings, units: Units) -> str:
    number = len(openings.rooms)
    deck = f", its deck {show_length(openings.deck_mm, units)} wide" if openings.deck_mm else ""
    return f"{openings.set_name}{deck}: {counted(number, 'room')} to fill"


def _remarks(
    openings: SetOpenings, choices: Sequence[CountedChoice], units: Units
) -> Iterator[str]:
    for each in choices:
        rooms = tuple(unfilled_words(each, units))
        if rooms:
            yield f"{each.choice.kind}, not filled: {_some(rooms)}"
        if each.choice.kind is ChoiceKind.AS_IT_IS and not each.choice.grouping.groups:
            yield "it fills none: a set that is meant to end free of the wall needs no other width"
        if each.sheets.why_not:
            yield f"{each.choice.kind}, not cut: {each.sheets.why_not}"
    for why, names in left_out_rooms(openings).items():
        yield f"left out: {_some(names)} ({why})"


def _some(rooms: Sequence[str]) -> str:
    """Return the first rooms, and how many more there are."""
    more = f" and {len(rooms) - SHOWN_ROOMS} more" if len(rooms) > SHOWN_ROOMS else ""
    return ", ".join(rooms[:SHOWN_ROOMS]) + more


def _closing(sizes: OpeningSizes, job: Job, effort: str) -> Iterator[str]:
    every = sizes.all_fewest
    if every is not None and every.why_not:
        yield f"The fewest sizes of every set, not cut: {every.why_not}"
    elif every is not None:
        more, dearer = _more(every, sizes.as_it_is)
        yield f"The fewest sizes of every set: {more} sheets, {dearer} {job.currency}"
    counted_sheets = [sizes.as_it_is, *(each.sheets for each in sizes.choices)]
    loosest = max(counted_sheets, key=lambda sheets: sheets.gap)
    yield (
        f"Sheets and cost are those of the whole job, nested with {effort} effort: first as it is,"
        " then what is more with each choice. A room that a choice does not fill counts with the"
        " nearest of its widths. No search can lower any of these costs by more than"
        f" {100 * loosest.gap:.1f} %."
    )
    yield "The widths that you take go into the job file as sets of their own: check the job again."
