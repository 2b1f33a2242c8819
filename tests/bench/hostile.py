"""Hostile input, killed builds and tempting folders: nothing is lost, mixed, left over, or hangs.

All of it happens in fresh temporary folders, and nowhere else. A count that must be 0 and is not
ends the benchmark with 1. Each part can be left out with a count of 0; the kills take longest,
since real builds are killed.
"""

import argparse
from dataclasses import asdict

from tests.bench.hostile_folders import tempting_runs
from tests.bench.hostile_jobs import mutated_inputs
from tests.bench.hostile_kills import killed_builds
from tests.bench.limits import Limit, Sense, show_limits_and_exit


def run() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--inputs", type=int, default=10_000, help="spoilt jobs and tables")
    parser.add_argument("--kills", type=int, default=500, help="killed builds")
    parser.add_argument("--folders", type=int, default=200, help="runs over tempting folders")
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    inputs = mutated_inputs(asked.inputs, asked.seed)
    show(f"{asked.inputs} spoilt inputs", {str(k): n for k, n in inputs.endings.items()})
    print(*inputs.examples, sep="\n")
    folders = tempting_runs(asked.folders, asked.seed)
    show(f"{asked.folders} runs over tempting folders", asdict(folders))
    kills = killed_builds(asked.kills, asked.seed)
    show(f"{asked.kills} kills of builds", asdict(kills))
    must_be_none = {
        "inputs that ended as none may": inputs.amiss,
        "foreign files lost": folders.lost,
        "mixtures in tempting folders": folders.mixtures,
        "earlier outputs gone in tempting folders": folders.gone,
        "left over in tempting folders": folders.left_over,
        "bugs in tempting folders": len(folders.bugs),
        "mixtures after kills": kills.mixtures,
        "left over after kills": kills.left_over,
    }
    show_limits_and_exit([Limit(what, n, Sense.AT_MOST, 0) for what, n in must_be_none.items()])


def show(title: str, counts: dict[str, object]) -> None:
    """Print counts below their title."""
    print(f"\n{title}")
    for what, count in counts.items():
        print(f"  {count!s:>8} {what.replace('_', ' ')}")


if __name__ == "__main__":
    run()
