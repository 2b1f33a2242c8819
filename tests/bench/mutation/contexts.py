"""A pytest plugin under coverage.py: which test or wide fixture ran which line, and what it cost.

A *context* is the id of a test, or `fixture:` and the name of a fixture that lives longer than one
test; what such a fixture runs belongs to every test that asks for it. What tests remember in caches
is forgotten at the end of each module, or only the first module would be seen to run it. Commands
that a test starts are measured too, in its context.
"""

import gc
import json
import os
from collections.abc import Generator
from functools import _lru_cache_wrapper
from pathlib import Path
from typing import Any

import pytest
from coverage import Coverage

from tests.bench.mutation.reach import FIXTURE

TIMES = "MUTATION_TIMES"
"""The environment variable that names the file for what tests took and which fixtures they use."""
CONTEXT = "MUTATION_CONTEXT"
"""The environment variable that tells commands started by a test whose context theirs is."""
SUBPROCESS_SETTINGS = "COVERAGE_PROCESS_START"
FORGOTTEN_BETWEEN_MODULES = ("parametric", "export", "casewright", "tests")


class Contexts:
    """Switches coverage's context as tests and wide fixtures begin and end, and takes the time."""

    def __init__(self, coverage: Coverage, times: Path, settings: str) -> None:
        self._coverage = coverage
        self._times = times
        self._settings = settings
        self._open: list[str] = []
        self._since = _processor_seconds()
        self._seconds: dict[str, float] = {}
        self._fixtures: dict[str, list[str]] = {}
        self._not_passed: set[str] = set()

    def _turn(self) -> None:
        now = _processor_seconds()
        if self._open:
            context = self._open[-1]
            self._seconds[context] = self._seconds.get(context, 0.0) + now - self._since
        self._since = now

    def _enter(self, context: str) -> None:
        self._turn()
        self._open.append(context)
        self._told()

    def _leave(self) -> None:
        self._turn()
        self._open.pop()
        self._told()

    def _told(self) -> None:
        context = self._open[-1] if self._open else ""
        self._coverage.switch_context(context)
        os.environ[CONTEXT] = context
        if context:
            os.environ[SUBPROCESS_SETTINGS] = self._settings
        else:
            os.environ.pop(SUBPROCESS_SETTINGS, None)

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(
        self, item: pytest.Item, nextitem: pytest.Item | None
    ) -> Generator[None, object, object]:
        self._fixtures[item.nodeid] = _wide_fixtures(item)
        self._enter(item.nodeid)
        try:
            return (yield)
        finally:
            self._leave()
            if nextitem is None or nextitem.path != item.path:
                _forget()
                self._keep()

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(
        self, fixturedef: pytest.FixtureDef[Any]
    ) -> Generator[None, object, object]:
        if fixturedef.scope == "function":
            return (yield)
        self._enter(_name(fixturedef))
        try:
            return (yield)
        finally:
            self._leave()

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if not report.passed:
            self._not_passed.add(report.nodeid)

    def _keep(self) -> None:
        """Write what is known, so that a run that is stopped still says something."""
        self._coverage.save()
        known = {
            "seconds": self._seconds,
            "fixtures": self._fixtures,
            "not_passed": sorted(self._not_passed),
        }
        self._times.write_text(json.dumps(known))


def _name(fixture: pytest.FixtureDef[Any]) -> str:
    return f"{FIXTURE}{fixture.baseid}::{fixture.argname}"


def _wide_fixtures(item: pytest.Item) -> list[str]:
    known = item._fixtureinfo.name2fixturedefs  # type: ignore[attr-defined]  # no public way
    return [_name(one) for each in known.values() for one in each if one.scope != "function"]


def _processor_seconds() -> float:
    """Return what this process took so far, and those that it started and waited for."""
    return sum(os.times()[:4])


def _forget() -> None:
    for cached in gc.get_objects():
        if isinstance(cached, _lru_cache_wrapper) and str(cached.__module__).startswith(
            FORGOTTEN_BETWEEN_MODULES
        ):
            cached.cache_clear()


def pytest_configure(config: pytest.Config) -> None:
    coverage = Coverage.current()
    assert coverage is not None, "this plugin is for runs under coverage"
    settings = str(coverage.config.config_file)
    config.pluginmanager.register(Contexts(coverage, Path(os.environ[TIMES]), settings))
