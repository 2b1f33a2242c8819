"""Kernels are compiled ahead of use by other processes, for which a cancel never waits."""

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from nesting.bounds.stopping import Stopped, asking, never
from nesting.kernels.entries import ENTRIES, calls
from nesting.question.errors import StoppedTooEarly
from nesting.question.settings import Effort
from nesting.search import compiling
from nesting.search.watch import Standing
from nesting.solve import solve
from tests.nesting.room_job import room_job

ALL_SORTS_OF_NESTS = """
import dataclasses
from nesting.question.instance import Turn
from nesting.kernels.entries import ENTRIES, compile_entry, types_of
from nesting.question.sheet_rules import EdgeToEdge
from nesting.solve import solve
from tests.bench.mixed_pieces import question as mixed
from tests.bench.room_jobs import SHEETS, question
from tests.nesting.room_job import room_job
from tests.nesting.small_efforts import SmallEffort, limits
from enum import Enum

class Thorough(Enum):
    SOME = dataclasses.replace(limits(100_000), bound_nodes=1_000_000, set_nodes=100_000)

job = room_job(8)
for saw in (None, EdgeToEdge(stages=3), EdgeToEdge(stages=None)):
    rules = dataclasses.replace(job.rules, saw=saw)
    solve(dataclasses.replace(job, rules=rules), effort=SmallEffort.SMALL)
    few = tuple(dataclasses.replace(piece, quantity=1) for piece in job.pieces)
    solve(dataclasses.replace(job, rules=rules, pieces=few), effort=SmallEffort.SMALL)
solve(mixed(300, Turn.QUARTER, 1), effort=SmallEffort.SMALL)
solve(question("hotel_rooms", 40, SHEETS[1]), effort=Thorough.SOME)
for name, kernel in ENTRIES.items():
    compile_entry(name)  # those that only other kernels call, and that other processes compiled
    met = [tuple(signature) for signature in kernel.signatures]
    print(name, "as said" if met == [types_of(kernel)] else met)
"""


def said_by(script: str, **environment: str) -> list[str]:
    """What a process of its own prints."""
    done = subprocess.run(
        [sys.executable, "-c", script],
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), **environment},
        capture_output=True,
        text=True,
        check=True,
    )
    return done.stdout.splitlines()


def test_every_nest_calls_the_kernels_with_the_types_that_they_were_compiled_for():
    assert said_by(ALL_SORTS_OF_NESTS) == [f"{name} as said" for name in ENTRIES]


LOADED = """
from nesting.search.compiling import get_ready
from nesting.kernels.entries import ENTRIES, compile_entry
get_ready(["below", "rules_of"], ask=lambda: None, tell=print)
for name in ("below", "rules_of"):
    compile_entry(name)
    print(name, ENTRIES[name].stats.cache_hits.total())
"""


def test_what_another_process_compiled_is_kept_and_used(tmp_path):
    first = said_by(LOADED, NUMBA_CACHE_DIR=str(tmp_path))
    assert first[-2:] == ["below 1", "rules_of 1"]
    assert first[0] == "0 2"
    assert "2 2" in first
    assert said_by(LOADED, NUMBA_CACHE_DIR=str(tmp_path)) == ["below 1", "rules_of 1"]


MADE_ELSEWHERE = "open('was loaded', 'w').close()"
"""What a folder `nesting` in the working folder would do."""


def test_what_compiles_never_loads_from_the_working_folder(tmp_path, monkeypatch):
    (tmp_path / "nesting").mkdir()
    (tmp_path / "nesting" / "__init__.py").write_text(MADE_ELSEWHERE)
    monkeypatch.chdir(tmp_path)
    with compiling._process() as process:
        assert process.stdin is not None
        assert process.stdout is not None
        process.stdin.write(b"below\n")
        assert process.stdout.readline() == b"below\n"
    assert not (tmp_path / "was loaded").exists()


@pytest.mark.parametrize("name", ["a:b", "a b", "ü"])
def test_what_compiles_is_found_in_a_folder_of_any_name(name, tmp_path, monkeypatch):
    (tmp_path / name).mkdir()
    (tmp_path / name / "only_here.py").write_text("def serve(): print('found')")
    monkeypatch.syspath_prepend(tmp_path / name)
    script = compiling.SERVE.replace("nesting.kernels.entries", "only_here")
    monkeypatch.setattr(compiling, "SERVE", script)
    with compiling._process() as process:
        assert process.stdout is not None
        assert process.stdout.readline() == b"found\n"


NOT_KEPT = """
from numba.core import caching
caching.CompileResultCacheImpl._locator_classes = []  # as where no folder can be written
from nesting.search import compiling
from nesting.kernels.entries import ENTRIES, kept
print(kept())
compiling._process = None  # what no other process could hand over is compiled in none
compiling.get_ready(["below", "rules_of"], ask=lambda: None, tell=print)
print([len(ENTRIES[name].signatures) for name in ("below", "rules_of")])
compiling._ready.clear()
compiling.get_ready(["below", "rules_of"], ask=lambda: None, tell=print)
"""


def test_where_nothing_can_be_kept_kernels_are_compiled_in_memory():
    assert said_by(NOT_KEPT) == ["False", "0 2", "1 2", "[1, 1]"]


class Started:
    """Counts the processes that compile, and keeps them."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.processes: list[subprocess.Popen[bytes]] = []
        start = compiling._process

        @contextmanager
        def noted() -> Iterator[subprocess.Popen[bytes]]:
            with start() as process:
                self.processes.append(process)
                yield process

        monkeypatch.setattr(compiling, "_process", noted)
        monkeypatch.setattr(compiling, "_ready", set())
        monkeypatch.setattr(compiling, "loaded", lambda name: False)

    def all_ended(self) -> bool:
        return all(process.poll() is not None for process in self.processes)


@pytest.fixture
def started(monkeypatch):
    """As on a machine where nothing is compiled yet."""
    return Started(monkeypatch)


class CancelsAt:
    """Cancels a nest as soon as it tells of a stage."""

    def __init__(self, stage: str) -> None:
        self._stage, self._met = stage, False

    def standing(self, standing: Standing) -> None:
        self._met = self._met or standing.stage.startswith(self._stage)
        assert standing.done == 0.0

    def cancelled(self) -> bool:
        return self._met


def test_a_cancel_ends_the_processes_that_compile(started):
    with pytest.raises(StoppedTooEarly):
        solve(room_job(3), effort=Effort.QUICK, watcher=CancelsAt("compiling 0 of"))
    assert started.processes
    assert started.all_ended()


def test_a_kernel_comes_after_those_that_it_calls(started, monkeypatch):
    order: list[str] = []
    monkeypatch.setattr(compiling, "_compile_in_one_of", lambda processes, name: order.append(name))
    compiling.get_ready(ENTRIES, ask=never)
    assert sorted(order) == sorted(ENTRIES)
    place = {name: at for at, name in enumerate(order)}
    pairs = [(called, name) for name in ENTRIES for called in calls(name)]
    assert ("fill", "climb") in pairs
    assert all(place[called] < place[name] for called, name in pairs)
    assert started.all_ended()


def test_where_no_process_compiles_the_nest_goes_on(started, monkeypatch):
    monkeypatch.setattr(compiling, "SERVE", "raise SystemExit(1)")
    told: list[tuple[int, int]] = []
    compiling.get_ready(["below", "rules_of"], never, lambda *counts: told.append(counts))
    assert told[-1] == (2, 2)
    assert started.processes
    assert solve(room_job(1), effort=Effort.QUICK).sheets


def test_where_no_process_can_be_started_the_nest_goes_on(started, monkeypatch):
    monkeypatch.setattr(sys, "executable", "/nowhere/python")
    compiling.get_ready(["below", "rules_of"], never)
    assert not started.processes


def test_a_bundled_application_does_not_start_itself(started, monkeypatch):
    monkeypatch.setattr(sys, "frozen", True, raising=False)
    compiling.get_ready(["below"], never)
    assert not started.processes


def test_nobody_waits_for_another_nest_without_being_asked(started):
    with compiling._alone(never), pytest.raises(Stopped):
        compiling.get_ready(["below"], asking(lambda: True))
    assert not started.processes
