"""All that differs between two issues of a job."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from export.changes.issue import Issue, PlaceKey, SetKey
from export.changes.layout_changes import CutPart, LayoutChange, cut_parts, layout_changes
from export.changes.part_changes import (
    Kind,
    PartChange,
    bar_changes,
    kept_bars,
    kept_parts,
    part_changes,
)
from export.changes.room_changes import (
    ListedChange,
    finding_changes,
    kit_changes,
    room_changes,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase:
    """Sheets and money for one material, before and now."""

    material: str
    sheets_was: int
    sheets_now: int
    price_was: float
    price_now: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """What differs between two issues; `places` are where another part goes than before, or none,
    `files` what has to be issued again (or, gone, taken back), by path.
    """

    old: Issue
    new: Issue
    parts: tuple[PartChange, ...]
    bars: tuple[PartChange, ...]
    places: tuple[PlaceKey, ...]
    layouts: tuple[LayoutChange, ...]
    cut: tuple[CutPart, ...]
    rooms: tuple[ListedChange, ...]
    kits: tuple[ListedChange, ...]
    findings: tuple[ListedChange, ...]
    purchases: tuple[Purchase, ...]
    files: tuple[tuple[Kind, str], ...]

    @property
    def nothing(self) -> bool:
        """Whether every file is as it was."""
        return not self.files


def changes_between(old: Issue, new: Issue, cut: Mapping[str, int]) -> Changes:
    """Return what differs; `cut` are the runs done of layouts of the old issue, by file."""
    same_parts, same_bars = kept_parts(old, new), kept_bars(old, new)
    places = tuple(_changed_places(old, new, {**same_parts, **same_bars}))
    kits = tuple(kit_changes(old, new))
    sets: set[SetKey] = {(place[0], place[1]) for place in places} | {key for key, _ in kits}
    return Changes(
        old=old,
        new=new,
        parts=part_changes(old, new),
        bars=bar_changes(old, new),
        places=places,
        layouts=layout_changes(old, new, same_parts),
        cut=cut_parts(old, new, same_parts, cut),
        rooms=tuple(room_changes(old, new, sets)),
        kits=tuple(change for _, change in kits),
        findings=tuple(finding_changes(old, new)),
        purchases=tuple(_purchases(old, new)),
        files=tuple(_files(old.files, new.files)),
    )


def _changed_places(old: Issue, new: Issue, kept: Mapping[str, str]) -> Iterator[PlaceKey]:
    for place in {**old.places, **new.places}:
        was, now = old.places.get(place), new.places.get(place)
        bought = was == now and was not in old.parts and was not in old.bars
        if not bought and (was is None or now is None or kept.get(was) != now):
            yield place


def _purchases(old: Issue, new: Issue) -> Iterator[Purchase]:
    for material in {**old.sheets, **new.sheets}:
        found = Purchase(
            material=material,
            sheets_was=old.sheets.get(material, 0),
            sheets_now=new.sheets.get(material, 0),
            price_was=old.prices.get(material, 0.0),
            price_now=new.prices.get(material, 0.0),
        )
        if (found.sheets_was, found.price_was) != (found.sheets_now, found.price_now):
            yield found


def _files(old: Mapping[str, str], new: Mapping[str, str]) -> Iterable[tuple[Kind, str]]:
    for path in sorted({*old, *new}):
        if old.get(path) != new.get(path):
            kind = Kind.CHANGED if path in old and path in new else Kind.ADDED
            yield (kind if path in new else Kind.GONE), path
