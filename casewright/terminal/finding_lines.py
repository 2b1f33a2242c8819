"""Findings in lines for the terminal: warnings by kind, failures in full, both hands as one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import chain, zip_longest

from export.summary.checks_table import CHECKED
from parametric.findings.finding import Finding
from parametric.findings.tightest import tightest, tightest_first
from parametric.geometry.hand import BOTH_HANDS, Hand

SHOWN_FAILURES = 20
SHOWN_PLACES = 6

_HAND = re.compile(rf"^([^:]*), ({'|'.join(f'{hand} hand' for hand in Hand)}|{BOTH_HANDS})(?=:|$)")
_ROOM = "room "


@dataclass(frozen=True, slots=True, kw_only=True)
class KindLine:
    """How often one kind of check was not well, and what it is and where in plain words."""

    count: int
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldFailures:
    """Failed findings: those told in full, and the kinds of those that are only counted."""

    in_full: tuple[str, ...]
    rest: tuple[KindLine, ...]


def kind_lines(findings: Iterable[Finding]) -> Iterator[KindLine]:
    """Return a line for each kind, in the order of their first findings; both hands count once."""
    return _kind_lines(hands_as_one(findings))


def told_failures(failed: Iterable[Finding], most: int = SHOWN_FAILURES) -> ToldFailures:
    """Return so many failures in full, but at least the worst of each kind: no kind goes without
    its advice. Both hands are one.
    """
    kinds = _by_kind(hands_as_one(failed))
    ranked = zip_longest(*map(tightest_first, kinds.values()))
    ordered = [finding for rank in ranked for finding in rank if finding is not None]
    chosen = {id(finding) for finding in ordered[: max(most, len(kinds))]}
    by_kind = tuple(chain.from_iterable(kinds.values()))
    return ToldFailures(
        in_full=tuple(in_full(finding) for finding in by_kind if id(finding) in chosen),
        rest=tuple(_kind_lines(finding for finding in by_kind if id(finding) not in chosen)),
    )


def in_full(finding: Finding) -> str:
    """Return all of a finding that a person acts on, in one line."""
    advice = f"; {finding.advice}" if finding.advice else ""
    return f"{finding.where}: {finding.message} ({finding.source}){advice}"


def hands_as_one(findings: Iterable[Finding]) -> Iterator[Finding]:
    """Yield the findings, those that both hands of a set have in the same place as one: the worse
    of the two, at `both hands`.
    """
    hands: dict[tuple[str, str], dict[str, list[Finding]]] = {}
    for finding in findings:
        place, hand = _unhanded(finding)
        hands.setdefault((finding.code, place), {}).setdefault(hand, []).append(finding)
    for by_hand in hands.values():
        for group in zip_longest(*by_hand.values()):
            pair = [finding for finding in group if finding is not None]
            worse = tightest(pair)
            yield worse if len(pair) == 1 else _of_both(worse)


def _kind_lines(findings: Iterable[Finding]) -> Iterator[KindLine]:
    for code, of_kind in _by_kind(findings).items():
        places = dict.fromkeys(_unhanded(finding)[0].partition(":")[0] for finding in of_kind)
        words = f"{CHECKED.get(code, code)}: {_some(list(places))}"
        yield KindLine(count=len(of_kind), words=words)


def _of_both(finding: Finding) -> Finding:
    return replace(finding, where=_HAND.sub(rf"\1, {BOTH_HANDS}", finding.where))


def _unhanded(finding: Finding) -> tuple[str, str]:
    """Return where a finding was made without the hand, and the hand, blank if it has none."""
    found = _HAND.match(finding.where)
    return (_HAND.sub(r"\1", finding.where), found[2]) if found else (finding.where, "")


def _by_kind(findings: Iterable[Finding]) -> dict[str, list[Finding]]:
    kinds: dict[str, list[Finding]] = {}
    for finding in findings:
        kinds.setdefault(finding.code, []).append(finding)
    return kinds


def _some(places: list[str]) -> str:
    """Return the first places, and how many more there are; the word room stands once."""
    named = places[:SHOWN_PLACES]
    if len(named) > 1 and all(place.startswith(_ROOM) for place in places):
        named = [
            "rooms " + named[0].removeprefix(_ROOM),
            *(p.removeprefix(_ROOM) for p in named[1:]),
        ]
    more = f" and {len(places) - SHOWN_PLACES} more" if len(places) > SHOWN_PLACES else ""
    return ", ".join(named) + more
