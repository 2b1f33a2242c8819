"""The gate draws the same examples each time; `--hypothesis-profile=wide` draws others.

No test lets one of our packages add up floats in a way that depends on the release of Python.
"""

import builtins
import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from tests.exact_sums import watched_sum

builtins.sum = watched_sum

# Tests make all anew, and leave the user's own folder alone.
os.environ["CASEWRIGHT_CACHE"] = ""

ROOT = Path(__file__).parent
WEIGHT = pytest.StashKey[int]()

# No test fails because the machine is busy: neither by how long an example takes nor its drawing.
UNTIMED = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}
# Where a test says no number: with 100 of each the gate took a quarter of an hour.
settings.register_profile("gate", derandomize=True, max_examples=60, **UNTIMED)
settings.register_profile("wide", max_examples=500, **UNTIMED)
settings.load_profile("gate")

# What several tests look at is built once: tests that ask for one of these run in one process.
BUILT_DEMOS = {"ship", "centre", "keeper", "station"}
BUILDERS = ("outcome_of", "built_demo", "labelled")
"""What of a module makes its tests run there too."""

HEAVY_FIRST = ("casewright", "outside", "nesting")


@pytest.hookimpl(tryfirst=True)  # before the groups are read
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Give `--dist loadgroup` a group for the built demo jobs, and one for each other module.

    The heaviest come first, so that no process waits for another at the end.
    """
    for item in items:
        module = getattr(item, "module", None)
        built = asked_for(item) & BUILT_DEMOS or any(hasattr(module, each) for each in BUILDERS)
        name = "built demos" if built else item.path.relative_to(ROOT).as_posix()
        item.add_marker(pytest.mark.xdist_group(name))
        item.stash[WEIGHT] = 0 if built else _weight(item)
    items.sort(key=lambda item: item.stash[WEIGHT])


def asked_for(item: pytest.Item) -> set[str]:
    """The fixtures of a test, and those that a fixture with parameters looks up by their names."""
    names = set(getattr(item, "fixturenames", ()))
    parameters = item.callspec.params.values() if hasattr(item, "callspec") else ()
    return names | {each for each in parameters if isinstance(each, str)}


def _weight(item: pytest.Item) -> int:
    folder = item.path.relative_to(ROOT).parts[0]
    return 1 + HEAVY_FIRST.index(folder) if folder in HEAVY_FIRST else 1 + len(HEAVY_FIRST)
