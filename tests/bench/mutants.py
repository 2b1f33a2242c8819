"""Which small faults in `parametric`, `export` and `casewright` would no test notice?

Faults are drawn by a seed from mutmut's operators; what the type check refuses is not counted.
Each is made in a scratch copy of this tree, never in the tree itself, and the tests that run the
line are tried, the quickest first, until one fails. Survivors that do no harm are listed with their
reasons in `data/harmless_mutants.csv`. Ends with 1 when fewer than nine of ten are noticed.

    python -m tests.bench.mutants --keep FOLDER            # can be stopped, and goes on
    python -m tests.bench.mutants --keep FOLDER --again    # tries only the survivors once more

With `--keep` the coverage, the faults and what came of them stay in that folder for the next run.
After a change to the program delete the folder; after new tests delete the coverage in it.
Needs the extra `bench` and, to shield all other folders, Linux with `unshare`.
"""

import argparse
import tempfile
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from tests.bench.comparison import versions
from tests.bench.limits import show_limits_and_exit
from tests.bench.mutation.collect import LEFT_OUT, collect
from tests.bench.mutation.crew import FAILED, PASSED, Crew, Tried, TypeCheck
from tests.bench.mutation.harmless import known_harmless
from tests.bench.mutation.kept import keep_results, keep_sample, kept_results, kept_sample
from tests.bench.mutation.mutants import Mutant, python_files
from tests.bench.mutation.reach import Chosen, Reach
from tests.bench.mutation.report import Report
from tests.bench.mutation.sample import Counts, Sample
from tests.bench.mutation.scratch import ROOT

PACKAGES = ("parametric", "export", "casewright")


def run(arguments: argparse.Namespace, folder: Path) -> None:
    print(
        f"Faults in {', '.join(arguments.packages)}; seed {arguments.seed}; {versions(LIBRARIES)}"
    )
    for name, why in LEFT_OUT.items():
        print(f"  without {name}, which {why}")
    mutants, counts = drawn(arguments, folder)
    if not list(folder.glob("times*.json")):
        collect(folder, PACKAGES, arguments.workers)
    reach = Reach(folder, {file: (ROOT / file).read_text() for file in sources()})
    print(f"{len(mutants)} faults; {reach.tests} tests to choose from, for each those that run the")
    print(f"line, up to {arguments.most_seconds:g} s and {arguments.most_tests} tests")
    results = tried(mutants, reach, arguments, folder)
    report = Report(results, known_harmless())
    report.show(counts)
    show_limits_and_exit(report.limits())


def drawn(arguments: argparse.Namespace, folder: Path) -> tuple[list[Mutant], list[Counts]]:
    """Return the faults kept and those still wanted, which are drawn, and kept as they come."""
    mutants, counts = kept_sample(folder)
    if counts and all(count.taken == count.wanted for count in counts):
        return mutants, counts
    sample = Sample(ROOT, arguments.packages, arguments.sample, arguments.seed, counts)
    gate = TypeCheck()
    try:
        for mutant in sample.drawn(gate):
            mutants.append(mutant)
            keep_sample(folder, mutants, sample.counts)
    finally:
        gate.close()
    return mutants, sample.counts


def tried(
    mutants: Sequence[Mutant], reach: Reach, arguments: argparse.Namespace, folder: Path
) -> list[Tried]:
    """Try the faults that are not yet tried, and those that survived if asked; keep each answer."""
    results = {one.mutant: one for one in kept_results(folder)}
    if arguments.again:
        results = {key: one for key, one in results.items() if one.outcome != PASSED}
    chosen = [
        (mutant, choice(mutant, reach, arguments)) for mutant in mutants if mutant not in results
    ]
    for mutant, tests in chosen:
        if not tests.tests:
            results[mutant] = Tried(mutant=mutant, chosen=tests, outcome=PASSED, by="")
    to_run = [(mutant, tests) for mutant, tests in chosen if tests.tests]
    if to_run:
        with Crew(arguments.workers) as crew:
            for one in told(crew.tried(to_run), len(to_run)):
                results[one.mutant] = one
                keep_results(folder, results.values())
            results |= {one.mutant: one for one in unsound(crew, list(results.values()))}
            keep_results(folder, results.values())
    return list(results.values())


def choice(mutant: Mutant, reach: Reach, arguments: argparse.Namespace) -> Chosen:
    return reach.chosen(
        mutant, most_seconds=arguments.most_seconds, most_tests=arguments.most_tests
    )


def told(results: Iterable[Tried], number: int) -> Iterator[Tried]:
    for count, one in enumerate(results, start=1):
        where = f"{one.mutant.file}:{one.mutant.lines.start}"
        print(f"  {count}/{number} {one.outcome:<9} {where} by {one.by}", flush=True)
        yield one


def unsound(crew: Crew, results: Sequence[Tried]) -> list[Tried]:
    """Return those that were noticed only by a test that fails in a scratch copy without any fault.

    They count as survivors: nothing is known of them.
    """
    killers = sorted({one.by for one in results if one.outcome == FAILED and "::" in one.by})
    if not killers or crew.passes_unchanged(killers):
        return []
    failing = {test for test in killers if not crew.passes_unchanged([test])}
    print(f"  fail without a fault too: {', '.join(sorted(failing)) or 'none alone'}")
    return [replace(one, outcome=PASSED) for one in results if one.by in failing]


def sources() -> list[str]:
    return [file for package in PACKAGES for file in python_files(ROOT, package)]


LIBRARIES = ("mutmut", "coverage", "pytest", "mypy")


def main() -> None:
    parser = argparse.ArgumentParser(description="Faults that no test notices.")
    parser.add_argument("--sample", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--packages", nargs="+", choices=PACKAGES, default=list(PACKAGES))
    parser.add_argument("--most-seconds", type=float, default=60.0, help="of tests for a fault")
    parser.add_argument("--most-tests", type=int, default=200, help="for a fault")
    parser.add_argument("--keep", type=Path, help="folder for coverage, sample and results")
    parser.add_argument("--again", action="store_true", help="try kept survivors once more")
    arguments = parser.parse_args()
    if arguments.keep is None:
        with tempfile.TemporaryDirectory() as folder:
            run(arguments, Path(folder))
    else:
        arguments.keep.mkdir(parents=True, exist_ok=True)
        run(arguments, arguments.keep.resolve())


if __name__ == "__main__":
    main()
