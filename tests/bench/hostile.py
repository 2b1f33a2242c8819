"""Hostile input, kills and tempting folders: nothing is lost, mixed, left over, or hangs.

All of it happens in fresh temporary folders. Counts that must be 0 end the benchmark with 1.
"""

import argparse

from tests.bench.hostile_folders import tempting_runs
from tests.bench.hostile_kills import killed_builds
from tests.bench.limits import Limit, Sense, show_limits_and_exit


def run() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--inputs", type=int, default=10_000, help="mutated jobs and tables")
    parser.add_argument("--kills", type=int, default=500, help="killed builds")
    parser.add_argument("--folders", type=int, default=200, help="runs over tempting folders")
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    limits = []
    folders = tempting_runs(asked.folders, asked.seed)
    print(folders)
    limits += [_none("tempting folders: bytes lost", folders.lost)]
    kills = killed_builds(asked.kills, asked.seed)
    print(kills)
    show_limits_and_exit(limits)


def _none(what: str, found: int) -> Limit:
    return Limit(what, found, Sense.AT_MOST, 0)


if __name__ == "__main__":
    run()
