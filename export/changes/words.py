"""Changes in words, for table, paper and terminal alike."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from export.changes.changes import Changes
from export.changes.issue import PlaceKey
from export.changes.layout_changes import CutPart, LayoutChange
from export.changes.part_changes import Kind, PartChange
from export.changes.room_changes import ListedChange
from export.file_paths import SHEET_FILES


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeLine:
    """One change: what it is about, what became of it, was and now, what differs, and where."""

    about: str
    kind: Kind
    which: str
    was: str = ""
    now: str = ""
    what: str = ""
    where: str = ""


def change_lines(changes: Changes) -> Iterator[ChangeLine]:
    """Yield every change, in the order of the paper."""
    yield from (_part("part", each) for each in changes.parts)
    yield from (_part("bar", each) for each in changes.bars)
    yield from map(_layout, changes.layouts)
    yield from (_cut(each, changes.parts) for each in changes.cut)
    yield from (_listed("room", each) for each in changes.rooms)
    yield from (_listed("kit", each) for each in changes.kits)
    yield from (_listed("finding", each) for each in changes.findings)
    for each in changes.purchases:
        yield ChangeLine(
            about="sheets",
            kind=Kind.COUNT,
            which=each.material,
            was=f"{each.sheets_was} for {each.price_was:.2f}",
            now=f"{each.sheets_now} for {each.price_now:.2f}",
        )
    yield from (ChangeLine(about="file", kind=kind, which=path) for kind, path in changes.files)


def place_words(places: Iterable[PlaceKey]) -> str:
    """Return places in words, each unit and name once with its sets; both hands are one."""
    found: dict[tuple[str, str], dict[str, list[str]]] = {}
    for set_name, hand, unit, name in places:
        found.setdefault((unit, name), {}).setdefault(set_name, []).append(hand)
    by_sets: dict[str, list[str]] = {}
    for (unit, name), sets in found.items():
        told = ", ".join(
            f"{each} {'both hands' if len(hands) > 1 else hands[0]}" for each, hands in sets.items()
        )
        by_sets.setdefault(told, []).append(f"{unit}/{name}")
    return "; ".join(f"{', '.join(names)} ({sets})" for sets, names in by_sets.items())


def layout_name(file: str) -> str:
    """Return what people call a layout: its material and number."""
    folder, ending = SHEET_FILES.split("*")
    return file.removeprefix(folder).removesuffix(ending)


def what_words(change: PartChange) -> str:
    """Return what differs in a part or bar, and which others had or take its places."""
    what = list(change.what)
    if change.instead:
        numbers = ", ".join(change.instead)
        became = "its places go to" if change.kind is Kind.GONE else "takes places of"
        what.append(f"{became} {numbers}")
    return "; ".join(what)


def _part(about: str, change: PartChange) -> ChangeLine:
    return ChangeLine(
        about=about,
        kind=change.kind,
        which=f"{change.now or change.was} {change.name}",
        was=change.was,
        now=change.now,
        what=what_words(change),
        where=place_words(change.places),
    )


def _layout(change: LayoutChange) -> ChangeLine:
    return ChangeLine(
        about="layout",
        kind=change.kind,
        which=layout_name(change.now or change.was),
        was=_runs(change.was, change.runs_was, change.now),
        now=_runs(change.now, change.runs_now, ""),
        what=f"parts {', '.join(change.parts)}",
    )


def _runs(file: str, runs: int, besides: str) -> str:
    """Return a layout's runs, with its name where that is another one."""
    if not file:
        return ""
    name = f", as {layout_name(file)}" if besides not in ("", file) else ""
    return f"{runs} run{'' if runs == 1 else 's'}{name}"


def _cut(part: CutPart, changes: Iterable[PartChange]) -> ChangeLine:
    if part.now:
        over = max(0, part.cut - part.wanted)
        what = f"still right: {part.cut - over}"
        what += f", too many: {over}" if over else f", still to cut: {part.missing}"
        kind = Kind.KEPT if part.was == part.now else Kind.RENUMBERED
    else:
        changed = next((each for each in changes if each.was == part.was), None)
        kind = Kind.GONE if changed is None else changed.kind
        what = "none is right any more"
    return ChangeLine(
        about="already cut",
        kind=kind,
        which=part.was,
        was=f"{part.cut} cut",
        now=f"{part.now}: {part.wanted} wanted" if part.now else "",
        what=what,
    )


def _listed(about: str, change: ListedChange) -> ChangeLine:
    return ChangeLine(
        about=about, kind=change.kind, which=change.which, was=change.was, now=change.now
    )
