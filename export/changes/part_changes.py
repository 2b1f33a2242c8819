"""Which parts and bars of an issue are those of an earlier one, and what became of the others."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import TypeVar

from export.changes.issue import Issue, IssuedPart, PlaceKey, Row
from export.changes.same_part import part_differences, same_part

Item = TypeVar("Item")


class Kind(StrEnum):
    """What became of something."""

    ADDED = "added"
    GONE = "gone"
    CHANGED = "changed"
    RENUMBERED = "renumbered"
    COUNT = "other count"
    KEPT = "kept"


@dataclass(frozen=True, slots=True, kw_only=True)
class PartChange:
    """What became of a part or bar: its number before and now, blank for none; `places` where it
    goes now, or went; `instead` which other ones take its places, or had them.
    """

    kind: Kind
    was: str
    now: str
    name: str
    what: tuple[str, ...]
    places: tuple[PlaceKey, ...]
    instead: tuple[str, ...] = ()


def kept_parts(old: Issue, new: Issue) -> dict[str, str]:
    """Return the new number of each part that is still the same thing, by its old one."""
    return _kept(old.parts, new.parts, same_part)


def kept_bars(old: Issue, new: Issue) -> dict[str, str]:
    """Return the same for bars."""
    return _kept(old.bars, new.bars, _same_bar)


def part_changes(old: Issue, new: Issue) -> tuple[PartChange, ...]:
    """Return what became of the parts from sheets."""

    def differences(was: str, now: str) -> tuple[str, ...]:
        return part_differences(old.parts[was], new.parts[now], new.units)

    names = (_rows(old.parts), _rows(new.parts))
    return tuple(_changes(old, new, kept_parts(old, new), names, differences))


def bar_changes(old: Issue, new: Issue) -> tuple[PartChange, ...]:
    """Return what became of cleats and steel angles."""

    def differences(was: str, now: str) -> tuple[str, ...]:
        before, after = old.bars[was], new.bars[now]
        return tuple(
            f"{name} {before[key]} is now {after[key]}" if was_too else f"{name} {after[key]}"
            for key, name, was_too in (
                ("material", "material", True),
                ("profile", "profile", True),
                ("length", "length", True),
                ("drill_positions", "holes now:", False),
                ("screw_heads", "screw heads now:", False),
            )
            if before[key] != after[key]
        )

    return tuple(_changes(old, new, kept_bars(old, new), (old.bars, new.bars), differences))


def _rows(parts: Mapping[str, IssuedPart]) -> dict[str, Row]:
    return {number: part.row for number, part in parts.items()}


def _same_bar(a: Row, b: Row) -> bool:
    keys = ("material", "profile", "length_mm", "drill_positions", "screw_heads")
    return all(a[key] == b[key] for key in keys)


def _kept(
    old: Mapping[str, Item], new: Mapping[str, Item], same: Callable[[Item, Item], bool]
) -> dict[str, str]:
    kept: dict[str, str] = {}
    free = dict(new)
    for was, item in old.items():
        # Most keep their number, so that is tried first.
        tried = [was, *free] if was in free else list(free)
        now = next((number for number in tried if same(item, free[number])), None)
        if now is not None:
            kept[was] = now
            del free[now]
    return kept


def _changes(
    old: Issue,
    new: Issue,
    kept: Mapping[str, str],
    rows: tuple[Mapping[str, Row], Mapping[str, Row]],
    differences: Callable[[str, str], tuple[str, ...]],
) -> Iterator[PartChange]:
    before, after = rows
    yield from _of_kept(kept, before, after, new)
    gone = [number for number in before if number not in kept]
    come = [number for number in after if number not in set(kept.values())]
    changed = dict(_pairs(old, new, gone, come))
    for now in come:
        was = changed.get(now, "")
        places = new.places_of.get(now, ())
        others = _others(old.places, places, was)
        yield PartChange(
            kind=Kind.CHANGED if was else Kind.ADDED,
            was=was,
            now=now,
            name=after[now]["description"],
            what=differences(was, now) if was else (f"make {after[now]['quantity']}",),
            places=places,
            instead=others,
        )
    for was in gone:
        if was not in changed.values():
            places = old.places_of.get(was, ())
            yield PartChange(
                kind=Kind.GONE,
                was=was,
                now="",
                name=before[was]["description"],
                what=(),
                places=places,
                instead=_others(new.places, places, ""),
            )


def _of_kept(
    kept: Mapping[str, str], before: Mapping[str, Row], after: Mapping[str, Row], new: Issue
) -> Iterator[PartChange]:
    for was, now in kept.items():
        what = []
        if was != now:
            what.append(f"{was} is now {now}")
        if before[was]["quantity"] != after[now]["quantity"]:
            what.append(f"make {after[now]['quantity']} instead of {before[was]['quantity']}")
        if what:
            yield PartChange(
                kind=Kind.RENUMBERED if was != now else Kind.COUNT,
                was=was,
                now=now,
                name=after[now]["description"],
                what=tuple(what),
                places=new.places_of.get(now, ()),
            )


def _pairs(
    old: Issue, new: Issue, gone: Iterable[str], come: Iterable[str]
) -> Iterator[tuple[str, str]]:
    """Yield new and old numbers of parts that stand in the same places, those with most first."""
    left, right = set(gone), set(come)
    shared = Counter(
        (was, new.places[place])
        for place, was in old.places.items()
        if was in left and new.places.get(place) in right
    )
    for (was, now), _ in sorted(shared.items(), key=lambda each: (-each[1], each[0])):
        if was in left and now in right:
            left.discard(was)
            right.discard(now)
            yield now, was


def _others(
    there: Mapping[PlaceKey, str], places: Iterable[PlaceKey], besides: str
) -> tuple[str, ...]:
    found = {there[place] for place in places if place in there}
    return tuple(sorted(found - {besides}))
