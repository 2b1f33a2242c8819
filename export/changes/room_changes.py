"""Which rooms, kits and findings differ between two issues."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator
from dataclasses import dataclass

from export.changes.issue import Issue, Row, SetKey
from export.changes.part_changes import Kind


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedChange:
    """What became of a room, an article of a kit or a finding: which, and what was and is."""

    kind: Kind
    which: str
    was: str
    now: str


def room_changes(old: Issue, new: Issue, sets: Collection[SetKey]) -> Iterator[ListedChange]:
    """Yield the rooms whose set, measures or answers differ, and those whose set is among `sets`:
    what else became other than it was.
    """
    for room in {**old.rooms, **new.rooms}:
        before, after = old.rooms.get(room), new.rooms.get(room)
        if before is None or after is None:
            kind = Kind.ADDED if before is None else Kind.GONE
            yield ListedChange(kind=kind, which=room, was=_set(before), now=_set(after))
        elif before != after:
            keys = [key for key in after if before.get(key, "") != after[key]]
            was, now = (_cells(row, keys) for row in (before, after))
            yield ListedChange(kind=Kind.CHANGED, which=room, was=was, now=now)
        elif (after["set"], after["hand"]) in sets:
            its = _set(after)
            yield ListedChange(kind=Kind.CHANGED, which=room, was=its, now=f"{its}, changed")


def kit_changes(old: Issue, new: Issue) -> Iterator[tuple[SetKey, ListedChange]]:
    """Yield what differs in the kit of a room, by set and hand."""
    for key in {**old.kits, **new.kits}:
        before, after = old.kits.get(key, {}), new.kits.get(key, {})
        for article in {**before, **after}:
            was, now = _packed(before.get(article)), _packed(after.get(article))
            if was != now:
                kind = Kind.CHANGED if was and now else Kind.ADDED if now else Kind.GONE
                row = after.get(article) or before[article]
                which = f"{key[0]}, {key[1]} hand: {row['description']}"
                yield key, ListedChange(kind=kind, which=which, was=was, now=now)


def finding_changes(old: Issue, new: Issue) -> Iterator[ListedChange]:
    """Yield the warnings and failures that came, went or became the other."""
    before, after = _grave(old), _grave(new)
    for key in {**before, **after}:
        was, now = before.get(key), after.get(key)
        results = tuple("" if row is None else row["result"] for row in (was, now))
        if results[0] != results[1]:
            kind = Kind.ADDED if was is None else Kind.GONE if now is None else Kind.CHANGED
            row = now or was or {}
            which = f"{row['where']}: {row['finding']}"
            yield ListedChange(kind=kind, which=which, was=results[0], now=results[1])


def _grave(issue: Issue) -> dict[tuple[str, str, int], Row]:
    """Return the warnings and failures, by check and place; where a check tells several of one
    place they are counted, since their words have figures in them.
    """
    seen: Counter[tuple[str, str]] = Counter()
    found = {}
    for row in issue.findings:
        if row["result"] in ("warn", "fail"):
            key = row["check"], row["where"]
            seen[key] += 1
            found[*key, seen[key]] = row
    return found


def _set(row: Row | None) -> str:
    return "" if row is None else f"set {row['set']}, {row['hand']} hand"


def _cells(row: Row, keys: list[str]) -> str:
    return "; ".join(f"{key.replace('_', ' ')}: {row.get(key) or 'none'}" for key in keys)


def _packed(row: Row | None) -> str:
    if row is None:
        return ""
    supplied = "" if row["supplied"] == "yes" else ", by installer"
    packed, needed = (f"{float(row[key]):.0f}" for key in ("packed", "needed"))
    return f"{packed} {row['unit']}, {needed} needed{supplied}"
