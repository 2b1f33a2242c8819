"""What would mend a failed finding about strength: one size, changed as little as will do, found by
trying it.

Sizes of a set go either way, within what a job file may say; boards, screws and the angle only get
thicker or longer. A change counts if with it all findings of that check and part pass, nothing else
of the set or its rooms fails that did not before, and the set can be made. Solids are not made, so
that whether parts overlap is not looked at.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, partial
from math import inf
from typing import Any

from casewright.errors import CasewrightError
from casewright.job import Job
from casewright.stages.sets.job_findings import fit_findings
from casewright.stages.sets.room_stage import fits_of
from casewright.stages.sets.set_findings import set_findings
from casewright.stages.sets.used_sets import placed_sets
from parametric.findings.check_strength import Check, check_again
from parametric.findings.finding import Finding, Sense, Severity
from parametric.geometry.hand import Hand
from parametric.joints.machining import machining
from parametric.sets.composition import SetSizes, sizes_in, with_size
from parametric.sets.room_set import RoomSet, build_set
from parametric.sets.soundness import unsound
from parametric.stock.construction import Construction
from parametric.stock.lengths import MM_PER_INCH, Units, show_length
from parametric.units.size import Length

MOST_MENDED = 6  # failed checks of a set that sizes are tried for, in their order
PROBES = (16, 4, 1)  # steps, the first that can be made, to see whether a size matters at all
MATTERS = 0.995  # of what it was: how far a size that matters brings the share that is used
TRIED = 4  # sizes, those that matter most, are tried to the end
CLOSER = 3  # steps more, where a pass on a coarse mesh is none on a fine one
STEP_MM = {Units.MM: 2.0, Units.INCH: float(MM_PER_INCH) / 8}
FURTHEST_MM = 400.0  # from what a size is now
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

Place = tuple[str, str]
"""What findings of a set are about, without its hand: their code, and the place in the set."""


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
    """Return in words what would mend the strength of a set, by check and part that failed."""
    where = f"{sizes.name}, {hand} hand"
    failed = dict.fromkeys(place(where, finding) for finding in findings if _failed(finding))
    trial = _Trial(job, sizes, hand)
    return {each: trial.mends(each) for each in list(failed)[:MOST_MENDED]}


def place(where: str, finding: Finding) -> Place:
    """Return what a finding of a set and hand that is called `where` is about."""
    return finding.code, finding.where.removeprefix(where)


def advised(
    where: str, findings: Iterable[Finding], mends: Mapping[Place, str]
) -> tuple[Finding, ...]:
    """Return the findings, what mends them in front of the advice of the worst of each place."""
    listed = tuple(findings)
    worst: dict[Place, Finding] = {}
    for finding in filter(_failed, listed):
        about = place(where, finding)
        if about not in worst or _share(finding) > _share(worst[about]):
            worst[about] = finding
    told = {id(finding): mends[about] for about, finding in worst.items() if about in mends}
    return tuple(
        replace(finding, advice=(told[id(finding)], "; or else ", finding.advice))
        if id(finding) in told
        else finding
        for finding in listed
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

    def mends(self, about: Place) -> str:
        """Return in words what lets the findings about a place pass."""
        share = self._used(self._now, about)
        matter = sorted(
            (after, number)
            for number, way in enumerate(self._ways)
            if (after := self._probed(way, about)) < MATTERS * share
        )
        found = sorted(
            (abs(steps * way.step_mm), number, steps)
            for _, number in matter[:TRIED]
            for way in [self._ways[number]]
            if (steps := self._least_steps(way, about)) is not None
        )
        for _, number, least in found:
            way = self._ways[number]
            for steps in range(least, min(least + CLOSER, way.most_steps) + 1):
                if self._mends(way.made(steps), about):
                    values = (show_length(way.value_mm(n), self._job.units) for n in (steps, 0))
                    return "it passes with {} at {} (now {}), tried".format(way.size.words, *values)
        return "no single size that was tried lets it pass"

    def _probed(self, way: _Way, about: Place) -> float:
        """Return the share that is used a few steps on, infinite if that cannot be made."""
        for steps in PROBES:
            if steps <= way.most_steps and (used := self._used(way.made(steps), about)) < inf:
                return used
        return inf

    def _least_steps(self, way: _Way, about: Place) -> int | None:
        """Return the fewest steps with which it passes on a coarse mesh, None if none do."""
        least, most = 0, 1
        while most <= way.most_steps and not self._passes(way.made(most), about):
            least, most = most, 2 * most
        most = min(most, way.most_steps + 1)
        while most - least > 1:
            middle = (least + most) // 2
            passes = self._passes(way.made(middle), about)
            least, most = (least, middle) if passes else (middle, most)
        return most if most <= way.most_steps else None

    def _passes(self, made: _Made, about: Place) -> bool:
        return self._used(made, about) < inf and about not in self._again(made, about)[1]

    def _used(self, made: _Made, about: Place) -> float:
        """Return the greatest share that findings about a place use, 0 if there are none any more,
        infinite if the set cannot be made or its check says nothing.
        """
        used, _ = self._again(made, about)
        return used.get(about, 0.0) if used else inf

    def _mends(self, made: _Made, about: Place) -> bool:
        """Return whether it passes on a fine mesh, and nothing else fails anew."""
        if not self._passes(made, about):
            return False
        before, after = self._all_failed(self._now), self._all_failed(made)
        if before is None or after is None:
            return False
        return about not in after and after <= before

    def _again(self, made: _Made, about: Place) -> tuple[dict[Place, float], set[Place]]:
        """Return what the check of a finding says of a set: the greatest shares that are used, by
        place, and where it fails; nothing if the set cannot be made.
        """
        check = Check.of(about[0])
        part = about[1].removeprefix(": ") if check is Check.DECK else ""
        return self._same_check(made, check, part)

    def _checked_again(
        self, made: _Made, check: Check, deck: str
    ) -> tuple[dict[Place, float], set[Place]]:
        room_set = self._room_set(made)
        used: dict[Place, float] = {}
        fails: set[Place] = set()
        if room_set is not None:
            for finding in check_again(check, room_set.assembly, self._job.loads, deck):
                about = place("", finding)
                used[about] = max(used.get(about, 0.0), _share(finding))
                if _failed(finding):
                    fails.add(about)
        return used, fails

    def _all_failed(self, made: _Made) -> set[Place] | None:
        """Return where a set and the rooms that have it fail, in all checks that need no solids;
        None if it cannot be made.
        """
        room_set, name = self._room_set(made), made.sizes.name
        if room_set is None:
            return None
        sets = tuple(made.sizes if each.name == name else each for each in self._job.sets)
        rooms = tuple(room for room in self._job.rooms if room.set_name == name)
        job = replace(self._job, sets=sets, rooms=rooms, construction=made.construction)
        try:
            worked = machining(room_set.assembly, job.routing)
            fits = fits_of(job, placed_sets(job))
            found = (*set_findings(job, room_set, worked), *fit_findings(job, fits))
        except (ValueError, CasewrightError):
            return None  # what a joint or a room cannot have
        where = f"{name}, {self._hand} hand"
        return {place(where, each) for each in found if each.severity is Severity.FAIL}

    def _built(self, made: _Made) -> RoomSet | None:
        """Return the set in the room, None if it cannot be made."""
        job, sizes, construction = self._job, made.sizes, made.construction
        if next(unsound(sizes, construction), None) is not None:
            return None
        trim_mm = job.machine.even_trim_mm
        try:
            return build_set(sizes, self._hand, construction, job.routing, trim_mm, job.walls)
        except ValueError:  # a deck that no sheet holds, or parts that do not reach each other
            return None


def _share(finding: Finding) -> float:
    """Return how much of what is allowed is used."""
    used, allowed = finding.measured, finding.limit
    if finding.sense is Sense.AT_LEAST:
        used, allowed = allowed, used
    return used / allowed if allowed > 0 else inf


def _of_set(made: _Made) -> Iterator[_Size]:
    """Yield the lengths that a set has, as the job file calls them, within what it may say."""
    for each in sizes_in(made.sizes):
        asked, value_mm = each.size.asked, each.value
        if value_mm is None or not isinstance(asked, Length):
            continue
        key = _words(each.size.key)
        yield _Size(
            words=f"the {each.owner}'s {key}" if each.owner else key,
            value_mm=value_mm,
            changed=partial(_with_size, made, each.keys),
            down_mm=min(value_mm - asked.least_mm, FURTHEST_MM),
            up_mm=min(asked.most_mm - value_mm, FURTHEST_MM),
        )


def _built_from(made: _Made) -> Iterator[_Size]:
    """Yield the sizes of what it is built from that may grow."""
    for (role, name), (words, up_mm) in _BUILT_FROM.items():
        value = getattr(getattr(made.construction, role), name)
        yield _Size(words, value, partial(_with_built, made, role, name), 0.0, up_mm)


def _with_size(made: _Made, keys: tuple[str, ...], value_mm: float) -> _Made:
    return replace(made, sizes=with_size(made.sizes, keys, value_mm))


def _with_built(made: _Made, role: str, name: str, value_mm: float) -> _Made:
    part: dict[str, Any] = {role: replace(getattr(made.construction, role), **{name: value_mm})}
    return replace(made, construction=replace(made.construction, **part))


def _words(name: str) -> str:
    return name.replace("_", " ")
