"""What would mend a failed finding about strength: one size, changed as little as will do, found by
trying it.

Sizes of a set go either way; boards, screws and the angle only get thicker or longer. A change
counts if with it the finding passes, nothing fails that did not before, and the set can be made.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from functools import cache, partial
from itertools import chain
from math import inf
from typing import Any

from casewright.intake.set_checks import missing_units, set_misfits
from casewright.job import Job
from parametric.findings.check_set import check_set
from parametric.findings.check_strength import Check, check_again, check_strength
from parametric.findings.finding import Finding, Sense, Severity
from parametric.hand import Hand
from parametric.lengths import MM_PER_INCH, Units, show_length
from parametric.machining import machining
from parametric.primitives.deck import DeckTooLarge
from parametric.room_set import RoomSet, build_set
from parametric.sizes import Construction, SetSizes

MOST_MENDED = 6  # failed checks of a set that sizes are tried for, in their order
PROBES = (16, 4, 1)  # steps, the first that can be made, to see whether a size matters at all
MATTERS = 0.995  # of what it was: how far a size that matters brings the share that is used
TRIED = 4  # sizes, those that matter most, are tried to the end
CLOSER = 3  # steps more, where a pass on a coarse mesh is none on a fine one
STEP_MM = {Units.MM: 2.0, Units.INCH: float(MM_PER_INCH) / 8}
FURTHEST_MM = 400.0  # from what a size is now
_MM = "_mm"
_BUILT_FROM = {
    # What a person calls it, and how much it may grow: what a library could well hold.
    ("deck", "thickness_mm"): ("the board of the decks", 12.7),
    ("base_panel", "thickness_mm"): ("the board of the base panels", 12.7),
    ("carcass", "thickness_mm"): ("the board of the carcass", 12.7),
    ("angle", "thickness_mm"): ("the steel of the angle", 4.0),
    ("screw_wall", "length_mm"): ("the screws through rails into the wall", 40.0),
    ("screw_panel", "length_mm"): ("the screws of panel and table into the wall", 40.0),
    ("screw_angle", "length_mm"): ("the screws up through the angle", 12.7),
}

Place = tuple[str, str, int]
"""A finding of a set without its hand: code, place in the set, and which one of that."""


@dataclass(frozen=True, slots=True)
class _Made:
    """A set as it could be made."""

    sizes: SetSizes
    construction: Construction


@dataclass(frozen=True, slots=True)
class _Size:
    """A size, how a person calls it, the set with another one, and how far it may go each way."""

    words: str
    value_mm: float
    changed: Callable[[float], _Made]
    down_mm: float
    up_mm: float


@dataclass(frozen=True, slots=True)
class _Way:
    """A size that gets larger or smaller."""

    size: _Size
    step_mm: float

    @property
    def most_steps(self) -> int:
        """How many steps it may go."""
        furthest_mm = self.size.up_mm if self.step_mm > 0 else self.size.down_mm
        return int(furthest_mm / abs(self.step_mm))

    def value_mm(self, steps: int) -> float:
        """Return what the size is after so many steps."""
        return self.size.value_mm + steps * self.step_mm

    def made(self, steps: int) -> _Made:
        """Return the set after so many steps."""
        return self.size.changed(self.value_mm(steps))


def mended(job: Job, sizes: SetSizes, hand: Hand, findings: Sequence[Finding]) -> dict[Place, str]:
    """Return what would mend the strength of a set where it failed, in words: for the worst finding
    of each check and part.
    """
    where = f"{sizes.name}, {hand} hand"
    worst: dict[tuple[str, str], tuple[float, Place]] = {}
    for place, finding in zip(places(where, findings), findings, strict=True):
        if _failed(finding):
            used = _share(finding)
            if used > worst.get(place[:2], (0.0, place))[0]:
                worst[place[:2]] = used, place
    trial = _Trial(job, sizes, hand)
    return {place: trial.mends(place) for _, place in list(worst.values())[:MOST_MENDED]}


def places(where: str, findings: Iterable[Finding]) -> Iterator[Place]:
    """Yield the place of each finding of a set and hand that is called `where`."""
    met: Counter[tuple[str, str]] = Counter()
    for finding in findings:
        key = finding.code, finding.where.removeprefix(where)
        yield *key, met[key]
        met[key] += 1


def advised(
    where: str, findings: Sequence[Finding], mends: Mapping[Place, str]
) -> tuple[Finding, ...]:
    """Return the findings with what mends them in front of their advice."""
    return tuple(
        replace(finding, advice=f"{mends[place]}; or else {finding.advice}")
        if place in mends and _failed(finding)
        else finding
        for place, finding in zip(places(where, findings), findings, strict=True)
    )


def _failed(finding: Finding) -> bool:
    return finding.basis is not None and finding.severity is Severity.FAIL


class _Trial:
    """Tries sizes of one set; what was tried once is remembered."""

    def __init__(self, job: Job, sizes: SetSizes, hand: Hand) -> None:
        self._job, self._hand = job, hand
        self._now = _Made(sizes, job.construction)
        self._room_set = cache(self._built)
        self._same_check = cache(self._checked_again)
        step_mm = STEP_MM[job.units]
        self._ways = [
            _Way(size, sign * step_mm)
            for size in (*_of_set(self._now), *_built_from(self._now))
            for sign in (-1, 1)
        ]

    def mends(self, place: Place) -> str:
        """Return in words what lets the finding at a place pass."""
        now = self._again(self._now, place)
        share = _share(now[place]) if place in now else inf
        matter = sorted(
            (after, number)
            for number, way in enumerate(self._ways)
            if (after := self._probed(way, place)) < MATTERS * share
        )
        found = sorted(
            (abs(steps * way.step_mm), number, steps)
            for _, number in matter[:TRIED]
            for way in [self._ways[number]]
            if (steps := self._least_steps(way, place)) is not None
        )
        for _, number, least in found:
            way = self._ways[number]
            for steps in range(least, min(least + CLOSER, way.most_steps) + 1):
                if self._mends(way.made(steps), place):
                    values = (show_length(way.value_mm(n), self._job.units) for n in (steps, 0))
                    return "it passes with {} at {} (now {}), tried".format(way.size.words, *values)
        return "no other size alone lets it pass (tried)"

    def _probed(self, way: _Way, place: Place) -> float:
        """Return the share that is used a few steps on, infinite if that cannot be made."""
        for steps in PROBES:
            if steps <= way.most_steps:
                found = self._again(way.made(steps), place)
                if place in found:
                    return _share(found[place])
        return inf

    def _least_steps(self, way: _Way, place: Place) -> int | None:
        """Return the fewest steps with which it passes on a coarse mesh, None if none do."""
        least, most = 0, 1
        while most <= way.most_steps and not self._passes(way.made(most), place):
            least, most = most, 2 * most
        most = min(most, way.most_steps + 1)
        while most - least > 1:
            middle = (least + most) // 2
            passes = self._passes(way.made(middle), place)
            least, most = (least, middle) if passes else (middle, most)
        return most if most <= way.most_steps else None

    def _passes(self, made: _Made, place: Place) -> bool:
        found = self._again(made, place)
        return place in found and not _failed(found[place])

    def _mends(self, made: _Made, place: Place) -> bool:
        """Return whether the finding passes on a fine mesh, and nothing else fails anew."""
        if not self._passes(made, place):
            return False
        before, after = self._all_failed(self._now), self._all_failed(made)
        return place not in after and after <= before

    def _again(self, made: _Made, place: Place) -> dict[Place, Finding]:
        """Return what the check of a finding says of a set; nothing if that cannot be made."""
        check = Check.of(place[0])
        part = place[1].removeprefix(": ") if check is Check.DECK else ""
        return self._same_check(made, check, part)

    def _checked_again(self, made: _Made, check: Check, deck: str) -> dict[Place, Finding]:
        room_set = self._room_set(made)
        if room_set is None:
            return {}
        found = tuple(check_again(check, room_set.assembly, self._job.loads, deck))
        return dict(zip(places("", found), found, strict=True))

    def _all_failed(self, made: _Made) -> set[Place]:
        """Return where a set fails, in checks of strength and all others that need no solids."""
        room_set, job = self._room_set(made), self._job
        if room_set is None:
            return set()
        where = f"{made.sizes.name}, {self._hand} hand"
        worked = machining(room_set.assembly, job.routing)
        found = (
            *check_strength(where, room_set.assembly, job.loads),
            *check_set(
                room_set,
                worked,
                job.routing,
                job.machine.even_trim_mm,
                job.fitting.setting_out,
            ),
        )
        pairs = zip(places(where, found), found, strict=True)
        return {place for place, finding in pairs if finding.severity is Severity.FAIL}

    def _built(self, made: _Made) -> RoomSet | None:
        """Return the set in the room, None if it cannot be made."""
        job, sizes, construction = self._job, made.sizes, made.construction
        misfits = chain(missing_units(sizes), set_misfits(sizes, construction, job.units))
        if next(misfits, None) is not None:
            return None
        trim_mm = job.machine.even_trim_mm
        try:
            return build_set(sizes, self._hand, construction, job.routing, trim_mm)
        except DeckTooLarge:
            return None


def _share(finding: Finding) -> float:
    """Return how much of what is allowed is used."""
    used, allowed = finding.measured, finding.limit
    if finding.sense is Sense.AT_LEAST:
        used, allowed = allowed, used
    return used / allowed if allowed > 0 else inf


def _of_set(made: _Made) -> Iterator[_Size]:
    """Yield the sizes that a set has, as the job file calls them."""
    for field in fields(made.sizes):
        part = getattr(made.sizes, field.name)
        if field.name.endswith(_MM):
            yield _either_way(_words(field.name), part, partial(_with_own, made, field.name))
        elif is_dataclass(part):
            for inner in fields(part):
                value = getattr(part, inner.name)
                if inner.name.endswith(_MM) and value is not None:
                    words = f"the {_words(field.name)}'s {_words(inner.name)}"
                    change = partial(_with_inner, made, field.name, inner.name)
                    yield _either_way(words, value, change)


def _either_way(words: str, value_mm: float, changed: Callable[[float], _Made]) -> _Size:
    return _Size(words, value_mm, changed, down_mm=min(value_mm, FURTHEST_MM), up_mm=FURTHEST_MM)


def _built_from(made: _Made) -> Iterator[_Size]:
    """Yield the sizes of what it is built from that may grow."""
    for (role, name), (words, up_mm) in _BUILT_FROM.items():
        value = getattr(getattr(made.construction, role), name)
        yield _Size(words, value, partial(_with_built, made, role, name), 0.0, up_mm)


def _with_own(made: _Made, name: str, value_mm: float) -> _Made:
    changed: dict[str, Any] = {name: value_mm}
    return replace(made, sizes=replace(made.sizes, **changed))


def _with_inner(made: _Made, unit: str, name: str, value_mm: float) -> _Made:
    part: dict[str, Any] = {unit: replace(getattr(made.sizes, unit), **{name: value_mm})}
    return replace(made, sizes=replace(made.sizes, **part))


def _with_built(made: _Made, role: str, name: str, value_mm: float) -> _Made:
    part: dict[str, Any] = {role: replace(getattr(made.construction, role), **{name: value_mm})}
    return replace(made, construction=replace(made.construction, **part))


def _words(name: str) -> str:
    return name.removesuffix(_MM).replace("_", " ")
