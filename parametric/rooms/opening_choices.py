"""What a maker may choose between: the fewest sizes for the openings of a set, one fewer, one more.

As many sizes as there are openings leave the least filler; every size that is saved saves setting
up, and costs filler or sheets. Which is better is not for a program to say, so it shows them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from parametric.rooms.filler_widths import LeftOut, SizedRoom
from parametric.rooms.size_groups import (
    Grouping,
    SizeRange,
    best_groupings,
    fewest_sizes,
    grouping_of,
)


class ChoiceKind(StrEnum):
    """The choices, as papers call them."""

    AS_IT_IS = "as it is"
    ONE_FEWER = "one size fewer"
    FEWEST = "fewest sizes"
    ONE_MORE = "one size more"


@dataclass(frozen=True, slots=True, kw_only=True)
class SetOpenings:
    """The rooms of a set: those to group, and those that no width can be found for, with why.

    `deck_mm` is the width of the bench's deck in the job.
    """

    set_name: str
    deck_mm: float
    rooms: tuple[SizedRoom, ...]
    left_out: tuple[LeftOut, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeChoice:
    """Widths of deck for the rooms of a set. The openings of the grouping are places in its rooms.

    `decks_mm` is the width for each room; a room that the choice does not serve has the nearest of
    its widths, since something has to be built there.
    """

    kind: ChoiceKind
    grouping: Grouping
    decks_mm: tuple[float, ...]


def set_openings(
    set_name: str, deck_mm: float, found: Iterable[SizedRoom | LeftOut]
) -> SetOpenings:
    """Return the rooms of a set, sorted into those with widths and those without."""
    listed = tuple(found)
    return SetOpenings(
        set_name=set_name,
        deck_mm=deck_mm,
        rooms=tuple(each for each in listed if isinstance(each, SizedRoom)),
        left_out=tuple(each for each in listed if isinstance(each, LeftOut)),
    )


def size_choices(openings: SetOpenings) -> Iterator[SizeChoice]:
    """Yield the choices, none without rooms to group.

    There is nothing fewer than one size, and one more is left out where it saves no filler.
    """
    if not openings.rooms:
        return
    exact = [each.exact for each in openings.rooms]
    yield _choice(ChoiceKind.AS_IT_IS, exact, grouping_of(exact, [openings.deck_mm]), openings)
    stepped = [each.stepped for each in openings.rooms]
    fewest = fewest_sizes(stepped)
    best = best_groupings(stepped, fewest + 1)
    if fewest > 1:
        yield _choice(ChoiceKind.ONE_FEWER, stepped, best[fewest - 2], openings)
    yield _choice(ChoiceKind.FEWEST, stepped, best[fewest - 1], openings)
    if best[fewest] != best[fewest - 1]:
        yield _choice(ChoiceKind.ONE_MORE, stepped, best[fewest], openings)


def _choice(
    kind: ChoiceKind, ranges: Sequence[SizeRange], grouping: Grouping, openings: SetOpenings
) -> SizeChoice:
    decks_mm = {i: group.size_mm for group in grouping.groups for i in group.openings}
    sizes_mm = [group.size_mm for group in grouping.groups] or [openings.deck_mm]
    decks_mm |= {i: _nearest_mm(ranges[i], sizes_mm) for i in grouping.unserved}
    return SizeChoice(
        kind=kind, grouping=grouping, decks_mm=tuple(decks_mm[i] for i in range(len(ranges)))
    )


def _nearest_mm(widths: SizeRange, sizes_mm: Sequence[float]) -> float:
    """Return the size that lies least outside the widths, of equal ones the smallest."""
    return min(
        sizes_mm, key=lambda size: (max(widths.least_mm - size, size - widths.most_mm), size)
    )
