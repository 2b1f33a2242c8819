"""From the job to what its measured openings ask of each set, and to the job with other widths."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from casewright.errors import OptionErrors, OptionFault
from casewright.intake.nearest import one_of
from casewright.job import Job, Room
from casewright.stages.sets.used_sets import placed, used_sets
from parametric.rooms.filler_widths import LeftOut, SizedRoom, room_widths
from parametric.rooms.opening_choices import SetOpenings, set_openings
from parametric.sets.composition import SetSizes, with_size
from parametric.sets.soundness import filler_limits_mm
from parametric.stock.lengths import show_length

NO_FILLER = "the set has no unit along the head wall that could be wider"


def openings_of(job: Job, set_name: str | None) -> tuple[SetOpenings, ...]:
    """Return the openings of the job's sets in use, or of the one named, in the order of the job.

    Raises:
        OptionErrors: no room has that set, or no opening was measured that a set could fill.
        DoesNotFit: a deck cannot be cut from the stock, even in pieces.
    """
    in_use = {used.sizes.name: used.sizes for used in used_sets(job)}
    if set_name is not None and set_name not in in_use:
        fault = OptionFault(
            option="--set", found=set_name, allowed=one_of(in_use, set_name, what="sets")
        )
        raise OptionErrors((fault,))
    chosen = [sizes for name, sizes in in_use.items() if set_name in (None, name)]
    found = tuple(_openings(job, sizes) for sizes in chosen)
    if not any(each.rooms for each in found):
        raise OptionErrors((OptionFault(option="JOB", found=_nothing(found), allowed=_NEEDED),))
    return found


def with_decks(job: Job, decks_mm: Mapping[str, float]) -> Job:
    """Return the job with these widths of what fills an opening, by room; other rooms keep theirs.

    Each width makes a set of its own, after those of the job, in the order of the rooms.

    Raises:
        ValueError: the set of one of these rooms has nothing that fills an opening.
    """
    known = {sizes.name: sizes for sizes in job.sets}
    own = [
        _with_deck(job, known[room.set_name], decks_mm[room.number])
        if room.number in decks_mm
        else known[room.set_name]
        for room in job.rooms
    ]
    return replace(
        job,
        sets=tuple(dict.fromkeys((*job.sets, *own))),
        rooms=tuple(
            replace(room, set_name=sizes.name) for room, sizes in zip(job.rooms, own, strict=True)
        ),
    )


def _with_deck(job: Job, sizes: SetSizes, deck_mm: float) -> SetSizes:
    filler = sizes.filler
    if filler is None:
        raise ValueError(f"set {sizes.name} has no unit that fills an opening")
    if deck_mm == filler.value:
        return sizes
    name = f"{sizes.name} with a {filler.owner} of {show_length(deck_mm, job.units)}"
    return replace(with_size(sizes, filler.keys, deck_mm), name=name)


def _openings(job: Job, sizes: SetSizes) -> SetOpenings:
    deck_mm = 0.0 if sizes.filler is None else sizes.filler.value
    rooms = [room for room in job.rooms if room.set_name == sizes.name]
    return set_openings(sizes.name, deck_mm, _found(job, sizes, rooms))


def _found(job: Job, sizes: SetSizes, rooms: list[Room]) -> Iterator[SizedRoom | LeftOut]:
    if sizes.filler is None:
        yield from (LeftOut(room=room.number, why=NO_FILLER) for room in rooms)
        return
    buildable_mm = filler_limits_mm(sizes, job.construction)
    # Distances from the corner are the same in both hands.
    room_set = placed(job, next(used for used in used_sets(job) if used.sizes == sizes))
    for room in rooms:
        yield room_widths(
            room.number, room_set, room.measured, buildable_mm, job.fitting, job.units
        )


def _nothing(found: tuple[SetOpenings, ...]) -> str:
    reasons = dict.fromkeys(each.why for openings in found for each in openings.left_out)
    first = next(iter(reasons), "no rooms")
    more = f" (and {len(reasons) - 1} more reasons)" if len(reasons) > 1 else ""
    return f"no room whose opening a set could fill: {first}{more}"


_NEEDED = (
    "a schedule in which at least one room has opening_at_seat or opening_at_panel, and a set with"
    " a unit whose width could fill it"
)
