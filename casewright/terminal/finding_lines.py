"""Findings in lines for the terminal: warnings by kind, failures in full. What is the
same in both hands of a set comes here as one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import chain, zip_longest

from export.summary.checks_table import CHECKED
from parametric.findings.telling import ToldFinding, unhanded
from parametric.findings.tightest import tightest_first

SHOWN_FAILURES = 20
SHOWN_PLACES = 6

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


def kind_lines(findings: Iterable[ToldFinding]) -> Iterator[KindLine]:
    """Return a line for each kind, in the order of their first findings."""
    for code, of_kind in _by_kind(findings).items():
        places = dict.fromkeys(unhanded(each.where)[0].partition(":")[0] for each in of_kind)
        words = f"{CHECKED.get(code, code)}: {_some(list(places))}"
        yield KindLine(count=len(of_kind), words=words)


def told_failures(failed: Iterable[ToldFinding], most: int = SHOWN_FAILURES) -> ToldFailures:
    """Return so many failures in full, but at least the worst of each kind: no kind goes without
    its advice.
    """
    kinds = _by_kind(failed)
    ranked = zip_longest(*map(tightest_first, kinds.values()))
    ordered = [finding for rank in ranked for finding in rank if finding is not None]
    chosen = {id(finding) for finding in ordered[: max(most, len(kinds))]}
    by_kind = tuple(chain.from_iterable(kinds.values()))
    return ToldFailures(
        in_full=tuple(in_full(finding) for finding in by_kind if id(finding) in chosen),
        rest=tuple(kind_lines(finding for finding in by_kind if id(finding) not in chosen)),
    )


def in_full(finding: ToldFinding) -> str:
    """Return all of a finding that a person acts on, in one line."""
    advice = f"; {finding.advice}" if finding.advice else ""
    return f"{finding.where}: {finding.message} ({finding.source}){advice}"


def _by_kind(findings: Iterable[ToldFinding]) -> dict[str, list[ToldFinding]]:
    kinds: dict[str, list[ToldFinding]] = {}
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
