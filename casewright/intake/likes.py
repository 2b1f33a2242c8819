"""Sets that are like another one with changes: `like: queen`, and only what differs.

Maps are merged key by key. A value takes the place of the other one, and nothing (`null`) takes it
away; a unit of another family takes the whole place of the one it stands for. New units come last
in their run, unless the run names all units of the other set too: then its order counts.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any, cast

from casewright.errors import Fault
from casewright.intake.document import Document, KeyPath, Place, shown
from casewright.intake.nearest import one_of

LIKE = "like"
_SETS = "sets"
MOST_TAKEN_OVER = 200_000
"""Values that all sets of a file take over; chains of likes grow without end."""


def with_likes(document: Document, faults: list[Fault]) -> Document:
    """Return the document with every set in full; what it took over is placed where it stands.

    A set that is like none there is, or like itself in a circle, is refused in `faults`.
    """
    sets = document.map_at((_SETS,))
    if not any(isinstance(each, dict) and LIKE in each for each in sets.values()):
        return document
    merge = _Merge(document, faults)
    merged = {name: merge.whole(name, ()) for name in sets}
    places = {at: place for at, place in document.places.items() if not _in_a_set(at)}
    for name, part in merged.items():
        places |= {(_SETS, name, *at): place for at, place in part.places.items()}
    refused = {at for at in document.refused if not _in_a_set(at)}
    refused |= {(_SETS, name, *at) for name, part in merged.items() for at in part.refused}
    data = {name: part.data for name, part in merged.items()}
    return replace(
        document,
        data={**document.data, _SETS: data},
        places=places,
        refused=frozenset(refused),
    )


def _in_a_set(at: KeyPath) -> bool:
    return len(at) > 1 and at[0] == _SETS


@dataclass(frozen=True, slots=True)
class _Part:
    """A set with the places of its values, by their keys below it."""

    data: object
    places: Mapping[KeyPath, Place]
    refused: frozenset[KeyPath]


class _Merge:
    """Puts the sets of a document together, each once."""

    def __init__(self, document: Document, faults: list[Fault]) -> None:
        self._document, self._faults = document, faults
        self._sets = document.map_at((_SETS,))
        self._places: dict[str, dict[KeyPath, Place]] = {name: {} for name in self._sets}
        for at, place in document.places.items():
            if _in_a_set(at):
                self._places[str(at[1])][at[2:]] = place
        self._done: dict[str, _Part] = {}
        self._left = MOST_TAKEN_OVER

    def whole(self, name: str, waiting: tuple[str, ...]) -> _Part:
        """Return a set in full; `waiting` are the sets that are to be like it."""
        if name not in self._done:
            self._done[name] = self._made(name, waiting)
        return self._done[name]

    def _made(self, name: str, waiting: tuple[str, ...]) -> _Part:
        own = self._own(name)
        if not isinstance(own.data, dict) or LIKE not in own.data:
            return own
        other = own.data[LIKE]
        found, allowed = self._trouble(name, other, waiting)
        if found:
            self._faults.append(
                self._document.fault((_SETS, name, LIKE), found=found, allowed=allowed)
            )
            return _Part(None, own.places, frozenset({()}))
        base = self.whole(cast("str", other), (*waiting, name))
        if not isinstance(base.data, dict):  # its own fault has been told
            return _Part(None, own.places, frozenset({()}))
        self._left -= len(base.places)
        changes = {key: value for key, value in own.data.items() if key != LIKE}
        for at, known in _void(base.data, changes, ()):
            allowed = one_of(known, at[-1], what="entries to take away")
            found = "nothing of that name in the other set"
            self._faults.append(
                self._document.fault((_SETS, name, *at), found=found, allowed=allowed)
            )
        places = {at: place for at, place in own.places.items() if at[:1] != (LIKE,)}
        data = _merged(base.data, changes)
        kept = {at: place for at, place in base.places.items() if _leads(data, at)}
        return _Part(data, {**kept, **places}, base.refused | own.refused)

    def _own(self, name: str) -> _Part:
        refused = (at[2:] for at in self._document.refused if at[:2] == (_SETS, name))
        return _Part(self._sets[name], self._places[name], frozenset(refused))

    def _trouble(self, name: str, other: object, waiting: tuple[str, ...]) -> tuple[str, str]:
        """Return what is wrong with being like another set and what is allowed, blank if all is
        well.
        """
        names = [each for each in self._sets if each != name]
        if not isinstance(other, str) or other not in self._sets:
            return f"no set named {shown(other)}", one_of(names, str(other), what="sets")
        if other == name or other in waiting:
            circle = " like ".join((*waiting, name, other))
            return f"a circle: {circle}", "a set that is like none of those that are like it"
        if self._left < 0:
            return f"more than {MOST_TAKEN_OVER} values taken over", "fewer sets like others"
        return "", ""


def _merged(base: Mapping[str, object], changes: Mapping[str, object]) -> dict[str, object]:
    order = changes if set(base) <= set(changes) else {**base, **changes}
    merged: dict[str, object] = {}
    for key in order:
        value = changes.get(key, base.get(key))
        if key in changes and value is None:
            continue
        first = base.get(key)
        if isinstance(first, dict) and isinstance(value, dict) and key in changes:
            value = value if _is_another(first, value) else _merged(first, value)
        merged[key] = value
    return merged


def _void(
    base: Mapping[str, object], changes: Mapping[str, object], at: tuple[str, ...]
) -> Iterator[tuple[tuple[str, ...], Iterable[str]]]:
    """Yield where a change takes away what is not there, and what is."""
    for key, value in changes.items():
        first = base.get(key)
        if value is None and key not in base:
            yield (*at, key), base
        elif isinstance(first, dict) and isinstance(value, dict):
            yield from _void(first, value, (*at, key))


def _is_another(first: Mapping[str, object], then: Mapping[str, object]) -> bool:
    """Return whether a unit is of another family than the one that it stands for."""
    return "family" in then and then["family"] != first.get("family")


def _leads(data: object, at: KeyPath) -> bool:
    """Return whether a key path still leads to a value."""
    inside: Any = data
    for key in at:
        in_list = isinstance(inside, list) and isinstance(key, int) and key < len(inside)
        if not in_list and not (isinstance(inside, dict) and key in inside):
            return False
        inside = inside[key]
    return True
