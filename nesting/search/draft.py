"""The working answer of a search: patterns with run counts, and the pieces still short."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from nesting.question.problem import Problem
from nesting.search.pattern import Counts, Pattern


@dataclass(slots=True)
class Draft:
    """Patterns by content: two sheets with the same pieces become two runs of one pattern."""

    runs: dict[tuple[int, Counts], tuple[Pattern, int]] = field(default_factory=dict)
    short: dict[int, int] = field(default_factory=dict)

    def add(self, pattern: Pattern, runs: int) -> None:
        """Add runs of a pattern; an arrangement already held for the same pieces stays."""
        key = pattern.room, pattern.counts
        held, before = self.runs.get(key, (pattern, 0))
        self.runs[key] = held, before + runs

    def __iter__(self) -> Iterator[tuple[Pattern, int]]:
        """Yield each pattern with its runs."""
        return iter(self.runs.values())

    @property
    def sheets(self) -> int:
        """Return how many sheets the draft cuts."""
        return sum(runs for _, runs in self)

    def sheets_by_room(self) -> dict[int, int]:
        """Return how many sheets of each room the draft cuts."""
        used: dict[int, int] = {}
        for pattern, runs in self:
            used[pattern.room] = used.get(pattern.room, 0) + runs
        return used


def joined(first: Draft, second: Draft) -> Draft:
    """Return all patterns of both drafts, and what the second is short of."""
    both = Draft(dict(first.runs), dict(second.short))
    for pattern, runs in second:
        both.add(pattern, runs)
    return both


def residual(demand: Mapping[int, int], draft: Draft) -> dict[int, int]:
    """Return what of a demand by item type the draft does not place; those it places are left out.

    Raises:
        ValueError: the draft places more than the demand.
    """
    left = dict(demand)
    for pattern, runs in draft:
        for item_type, count in pattern.counts:
            left[item_type] = left.get(item_type, 0) - count * runs
    if any(count < 0 for count in left.values()):
        raise ValueError("the draft places more pieces than were asked for")
    return {item_type: count for item_type, count in left.items() if count}


@dataclass(frozen=True, slots=True, order=True)
class Rank:
    """How good a draft is; less is better, the earlier field decides. Prices are whole costs."""

    short_area: int
    price: int
    sheets: int
    layouts: int


def rank(problem: Problem, draft: Draft) -> Rank:
    """Return how good a draft is as an answer."""
    return Rank(
        short_area=sum(
            problem.item_types[item_type].area * n for item_type, n in draft.short.items()
        ),
        price=sum(problem.rooms[pattern.room].cost * runs for pattern, runs in draft),
        sheets=draft.sheets,
        layouts=len(draft.runs),
    )
