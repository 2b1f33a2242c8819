"""What a run says: counts, rates, and every fault that no test noticed."""

from collections.abc import Iterable, Sequence
from enum import Enum

from tests.bench.limits import Limit, Sense, table
from tests.bench.mutation.crew import FAILED, TIMED_OUT, Tried
from tests.bench.mutation.sample import Counts

LEAST_NOTICED = 0.90


class Fate(Enum):
    """What became of a fault."""

    KILLED = "killed"
    TIMED_OUT = "timed out"
    HARMLESS = "survived, harmless"
    HARMFUL = "survived"
    NO_TEST = "no test runs it"


NOTICED = (Fate.KILLED, Fate.TIMED_OUT)


class Report:
    """The faults of a run, sorted by what became of them."""

    def __init__(
        self, results: Sequence[Tried], reasons: dict[tuple[str, str, str, str], str]
    ) -> None:
        self._results = sorted(results, key=lambda one: (one.mutant.file, one.mutant.lines.start))
        self._reasons = reasons

    def fate(self, one: Tried) -> Fate:
        if one.outcome == FAILED:
            return Fate.KILLED
        if one.outcome == TIMED_OUT:
            return Fate.TIMED_OUT
        if one.mutant.key in self._reasons:
            return Fate.HARMLESS
        return Fate.HARMFUL if one.chosen.tests else Fate.NO_TEST

    def show(self, counts: Iterable[Counts]) -> None:
        """Print the tables and the survivors."""
        drawn = [
            (each.package, each.places, each.taken, each.refused, each.no_change) for each in counts
        ]
        print("\nFaults drawn; those refused by the type check never get as far as a test")
        print(table(("package", "places", "drawn", "refused", "no change"), drawn))
        print("\nWhat became of them")
        packages = sorted({_package(one) for one in self._results})
        rows = [(name, *self._numbers(name)) for name in packages]
        rows.append(("all", *self._numbers("")))
        print(table(("package", *(fate.value for fate in Fate), "noticed"), rows))
        cut = [one for one in self._results if one.chosen.left and self.fate(one) not in NOTICED]
        print(f"\n{len(cut)} survivors have more tests that run the line than were run.")
        for fate in (Fate.HARMFUL, Fate.NO_TEST, Fate.HARMLESS):
            self._show_survivors(fate)

    def limits(self) -> list[Limit]:
        """Return what a run must reach."""
        return [Limit("faults noticed", self._numbers("")[-1], Sense.AT_LEAST, LEAST_NOTICED)]

    def _numbers(self, package: str) -> list[float]:
        of_it = [one for one in self._results if package in ("", _package(one))]
        fates = [self.fate(one) for one in of_it]
        noticed = sum(fate in NOTICED for fate in fates)
        return [*(fates.count(fate) for fate in Fate), noticed / max(1, len(of_it))]

    def _show_survivors(self, fate: Fate) -> None:
        of_it = [one for one in self._results if self.fate(one) is fate]
        if not of_it:
            return
        print(f"\n{fate.value}: {len(of_it)}")
        for one in of_it:
            mutant = one.mutant
            line, tests = mutant.lines.start, len(one.chosen.tests)
            print(f"  {mutant.file}:{line} {mutant.within} ({mutant.operator}, {tests} tests)")
            print(f"    - {mutant.before}\n    + {mutant.after}")
            if fate is Fate.HARMLESS:
                print(f"    {self._reasons[mutant.key]}")


def _package(one: Tried) -> str:
    return one.mutant.file.partition("/")[0]
