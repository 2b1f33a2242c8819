"""The faults of a run: drawn by a seed, spread over the packages by how many each has."""

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from tests.bench.mutation.mutants import MutableFile, Mutant, python_files


class Gate(Protocol):
    """What refuses faults before any test runs."""

    def refuses(self, mutant: Mutant) -> bool:
        """Return whether the fault would be seen without tests."""
        ...


@dataclass(slots=True, kw_only=True)
class Counts:
    """How many places a package has, and what became of those drawn."""

    package: str
    places: int
    wanted: int
    taken: int = 0
    refused: int = 0
    no_change: int = 0

    @property
    def drawn(self) -> int:
        """Return how many places were looked at."""
        return self.taken + self.refused + self.no_change


class Sample:
    """Draws faults from the packages until each has its share."""

    def __init__(
        self,
        root: Path,
        packages: Sequence[str],
        size: int,
        seed: int,
        counts: Sequence[Counts] = (),
    ) -> None:
        """Find all places; `counts` are those of a run that was stopped, and is gone on with."""
        self._root = root
        self._seed = seed
        self._places = {package: _places(root, package) for package in packages}
        numbers = [len(places) for places in self._places.values()]
        self.counts = list(counts) or [
            Counts(package=package, places=number, wanted=wanted)
            for package, number, wanted in zip(
                packages, numbers, shares(numbers, size), strict=True
            )
        ]

    def drawn(self, gate: Gate) -> Iterator[Mutant]:
        """Yield faults that the gate lets pass, from all packages in turn; count what is drawn."""
        drawn = {count.package: self._of(count, gate) for count in self.counts}
        while short := [count for count in self.counts if count.taken < count.wanted]:
            next_one = min(short, key=lambda count: count.taken / count.wanted)
            mutant = next(drawn[next_one.package], None)
            if mutant is None:
                next_one.wanted = next_one.taken
            else:
                yield mutant

    def _of(self, count: Counts, gate: Gate) -> Iterator[Mutant]:
        places = self._places[count.package]
        random.Random(f"{self._seed} {count.package}").shuffle(places)
        for file, index in places[count.drawn :]:
            source = MutableFile(self._root, file)
            mutant = source.mutant(source.places[index])
            if mutant is None:
                count.no_change += 1
            elif gate.refuses(mutant):
                count.refused += 1
            else:
                count.taken += 1
                yield mutant


def shares(numbers: Sequence[int], size: int) -> list[int]:
    """Return how many of `size` fall to each by its number: the largest remainders round up.

    No share is larger than its number.
    """
    whole = sum(numbers)
    size = min(size, whole)
    exact = [number * size / whole for number in numbers]
    given = [int(share) for share in exact]
    by_remainder = sorted(range(len(exact)), key=lambda i: given[i] - exact[i])
    for index in by_remainder[: size - sum(given)]:
        given[index] += 1
    return given


def _places(root: Path, package: str) -> list[tuple[str, int]]:
    return [
        (file, index)
        for file in python_files(root, package)
        for index in range(len(MutableFile(root, file).places))
    ]
