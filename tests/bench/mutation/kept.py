"""What a run keeps for the next one, in its folder: the faults drawn, and what came of them."""

import json
from collections.abc import Iterable
from dataclasses import asdict
from pathlib import Path
from typing import Any

from tests.bench.mutation.crew import Tried
from tests.bench.mutation.mutants import Mutant
from tests.bench.mutation.reach import Chosen
from tests.bench.mutation.sample import Counts

SAMPLE, RESULTS = "sample.json", "results.json"


def keep_sample(folder: Path, mutants: Iterable[Mutant], counts: Iterable[Counts]) -> None:
    written = {
        "counts": [asdict(count) for count in counts],
        "mutants": [_mutant_out(mutant) for mutant in mutants],
    }
    (folder / SAMPLE).write_text(json.dumps(written))


def kept_sample(folder: Path) -> tuple[list[Mutant], list[Counts]]:
    path = folder / SAMPLE
    if not path.exists():
        return [], []
    written = json.loads(path.read_text())
    counts = [Counts(**each) for each in written["counts"]]
    return [_mutant_in(each) for each in written["mutants"]], counts


def keep_results(folder: Path, results: Iterable[Tried]) -> None:
    written = [
        {
            "mutant": _mutant_out(one.mutant),
            "chosen": asdict(one.chosen),
            "outcome": one.outcome,
            "by": one.by,
        }
        for one in results
    ]
    (folder / RESULTS).write_text(json.dumps(written))


def kept_results(folder: Path) -> list[Tried]:
    path = folder / RESULTS
    if not path.exists():
        return []
    return [
        Tried(
            mutant=_mutant_in(each["mutant"]),
            chosen=_chosen_in(each["chosen"]),
            outcome=each["outcome"],
            by=each["by"],
        )
        for each in json.loads(path.read_text())
    ]


def _chosen_in(written: dict[str, Any]) -> Chosen:
    exact = {"tests": tuple(written["tests"]), "seconds": tuple(written["seconds"])}
    return Chosen(**(written | exact))


def _mutant_out(mutant: Mutant) -> dict[str, Any]:
    return asdict(mutant) | {"lines": [mutant.lines.start, mutant.lines.stop]}


def _mutant_in(written: dict[str, Any]) -> Mutant:
    ranged = {"lines": range(*written["lines"]), "binds": tuple(written["binds"])}
    return Mutant(**(written | ranged))
