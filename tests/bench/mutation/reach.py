"""Which tests run which line, as a coverage run with contexts left it, and which to try first."""

import json
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from coverage import CoverageData

from tests.bench.mutation.mutants import Mutant

FIXTURE = "fixture:"
"""How the context of a fixture begins that lives longer than one test."""
TREE = "tree"
"""The folder with a copy of the tree, in the scratch folder of a run or a worker."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """Tests to run for a mutant, in order, with the seconds each may take by what it took before.

    `left` counts those that would also run the line but did not fit into the budget.
    """

    tests: tuple[str, ...]
    seconds: tuple[float, ...]
    left: int


class Reach:
    """Tests by the lines that they run, with what they cost."""

    def __init__(self, folder: Path, sources: dict[str, str]) -> None:
        """Read what coverage left in `folder`; `sources` are the texts of all files, by path."""
        self._sources = sources
        self._lines: dict[str, dict[int, set[str]]] = defaultdict(lambda: defaultdict(set))
        self._seconds: dict[str, float] = {}
        self._fixtures: dict[str, list[str]] = {}
        unusable: set[str] = set()
        for path in sorted(folder.glob("times*.json")):
            times = json.loads(path.read_text())
            self._seconds |= times["seconds"]
            self._fixtures |= times["fixtures"]
            unusable |= set(times["not_passed"])
        self._tests_of: dict[str, set[str]] = defaultdict(set)
        for test, fixtures in self._fixtures.items():
            if test not in unusable:
                self._tests_of[test].add(test)
                for fixture in fixtures:
                    self._tests_of[fixture].add(test)
        for path in sorted(folder.glob(".coverage*")):
            self._read(path)

    def _read(self, path: Path) -> None:
        data = CoverageData(basename=str(path))
        data.read()
        for name in data.measured_files():
            lines = self._lines[name.rpartition(f"/{TREE}/")[2]]
            for line, contexts in data.contexts_by_lineno(name).items():
                lines[line].update(contexts)

    @property
    def tests(self) -> int:
        """Return how many tests can be chosen from."""
        return len(set().union(*self._tests_of.values()))

    def chosen(self, mutant: Mutant, *, most_seconds: float, most_tests: int) -> Chosen:
        """Return the quickest tests that run the changed line, then others of their modules.

        One test is always chosen, if any runs the line. A line that runs as its module is imported
        has the tests of the lines that name what it binds, and of its own file.
        """
        direct = self._tests(self._contexts(mutant.file, mutant.lines))
        if mutant.binds:
            for file, lines in self._naming(mutant.binds):
                direct |= self._tests(self._contexts(file, lines))
        if not direct and mutant.binds:
            direct = self._tests(self._contexts(mutant.file, self._lines[mutant.file]))
        modules = {_module(test) for test in direct}
        beside = {test for test in self._fixtures if _module(test) in modules} - direct
        beside &= set().union(*self._tests_of.values())
        ordered = [*self._ordered(direct), *self._ordered(beside)]
        taken: list[tuple[str, float]] = []
        sum_s = 0.0
        standing: set[str] = set()
        for test in ordered:
            cost = self._cost(test, standing)
            if taken and (sum_s + cost > most_seconds or len(taken) == most_tests):
                continue
            taken.append((test, cost))
            sum_s += cost
            standing |= set(self._fixtures[test])
        left = len(direct - {test for test, _ in taken})
        return Chosen(
            tests=tuple(test for test, _ in taken),
            seconds=tuple(cost for _, cost in taken),
            left=left,
        )

    def _contexts(self, file: str, lines: Iterable[int]) -> set[str]:
        known = self._lines.get(file, {})
        return {context for line in lines for context in known.get(line, ())}

    def _tests(self, contexts: Iterable[str]) -> set[str]:
        return {test for context in contexts for test in self._tests_of.get(context, ())}

    def _naming(self, names: Iterable[str]) -> Iterator[tuple[str, list[int]]]:
        word = re.compile(rf"\b(?:{'|'.join(map(re.escape, names))})\b")
        for file, source in self._sources.items():
            lines = [n for n, line in enumerate(source.splitlines(), 1) if word.search(line)]
            if lines:
                yield file, lines

    def _cost(self, test: str, standing: set[str] | None = None) -> float:
        fixtures = set(self._fixtures[test]) - (standing or set())
        return sum(self._seconds.get(each, 0.0) for each in (test, *fixtures))

    def _ordered(self, tests: set[str]) -> list[str]:
        """Return the tests by cost; those that share wide fixtures of a module stay together."""
        groups: dict[str, list[str]] = defaultdict(list)
        for test in sorted(tests, key=lambda test: (self._cost(test), test)):
            groups[_module(test) if self._fixtures[test] else test].append(test)
        return [test for group in groups.values() for test in group]


def _module(test: str) -> str:
    return test.partition("::")[0]
