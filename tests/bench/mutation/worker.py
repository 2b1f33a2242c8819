"""Runs tests on one fault after another in a scratch copy; started by `crew`, behind the shield.

Each line that it reads is a task, each that it writes an answer, as JSON. The libraries are
imported once; each fault is tried in a child of its own, which has them and imports the rest.
"""

import contextlib
import importlib
import json
import os
import resource
import signal
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from tests.bench.mutation.scratch import assert_in_scratch

LIBRARIES = (
    "cadquery",
    "ezdxf.addons.drawing",
    "highspy",
    "hypothesis",
    "numba",
    "pydantic",
    "pypdfium2",
    "pytest",
    "skfem",
    "rectpack",
    "rich",
    "ruamel.yaml",
    "scipy.optimize",
    "shapely",
    "trimesh",
    "typer",
    "typst",
    "zxingcpp",
)
MOST_MEMORY_BYTES = 12 << 30
SECONDS_BEFORE_TESTS = 300
SLOWER, SECONDS_MORE = 5, 20
"""A test may take so many times its processor time under coverage, and so many seconds more."""
MOST_WAITING = 10
"""So many times that by the clock, for a test that waits, on a machine that has more to do."""
UNUSABLE = (4, 5, 98)
"""pytest's code for ids that it does not know, for no tests, and ours for a child that broke."""
TIMED_OUT = "timed out"
PASSED = "passed"
FAILED = "failed"
OUTCOMES = {0: PASSED, -signal.SIGALRM: TIMED_OUT, -signal.SIGPROF: TIMED_OUT}


class Told:
    """A pytest plugin: stops tests that take too long, and says which one failed."""

    def __init__(self, seconds: dict[str, float], answer: Path) -> None:
        self._seconds = seconds
        self._answer = answer

    def pytest_configure(self) -> None:
        from hypothesis import Phase, settings

        gate = settings.get_profile("gate")
        settings.register_profile("faults", parent=gate, phases=(Phase.explicit, Phase.generate))
        settings.load_profile("faults")  # a failing example is enough, nobody reads the smallest

    def pytest_runtest_logstart(self, nodeid: str) -> None:
        self._answer.write_text(nodeid)
        most = self._seconds.get(nodeid, 0.0) * SLOWER + SECONDS_MORE
        signal.setitimer(signal.ITIMER_PROF, most)
        signal.alarm(int(most * MOST_WAITING))

    def pytest_collectreport(self, report: Any) -> None:
        if report.failed and report.nodeid:  # the session fails with its module, and has no name
            self._answer.write_text(report.nodeid)


def tried(task: dict[str, Any], tree: Path, scratch: Path) -> dict[str, Any]:
    """Make the fault, run the tests until one fails, restore the file, and say what came of it."""
    answer, output = scratch / "answer", scratch / "output"
    answer.write_text("")
    with contextlib.ExitStack() as stack:
        if task["file"]:
            stack.enter_context(_changed(tree / task["file"], task["code"], task["number"]))
        pid = os.fork()
        if pid == 0:
            _run_tests(task, answer, output)
        _, status = os.waitpid(pid, 0)
        with contextlib.suppress(ProcessLookupError, PermissionError):
            os.killpg(pid, signal.SIGKILL)
    code = os.waitstatus_to_exitcode(status)
    said, by = output.read_text(errors="replace"), answer.read_text()
    if code in UNUSABLE and not by and "while loading conftest" not in said:
        raise RuntimeError(f"the tests did not run: {said[-2000:]}")
    outcome = OUTCOMES.get(code, FAILED)
    return {"outcome": outcome, "code": code, "by": by}


@contextlib.contextmanager
def _changed(path: Path, code: str, second: int) -> Iterator[None]:
    """Change the file, as of a second that no other change has, or Python would run an old one."""
    kept, times = path.read_bytes(), path.stat()
    try:
        path.write_text(code, encoding="utf-8")
        os.utime(path, (second, second))
        yield
    finally:
        path.write_bytes(kept)
        os.utime(path, ns=(times.st_atime_ns, times.st_mtime_ns))


def _run_tests(task: dict[str, Any], answer: Path, output: Path) -> None:
    """In the child: never returns."""
    code = 98
    try:
        os.setsid()
        written = os.open(output, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        nothing = os.open(os.devnull, os.O_RDONLY)
        for stream, to in ((0, nothing), (1, written), (2, written)):
            os.dup2(to, stream)
        resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY_BYTES, MOST_MEMORY_BYTES))
        signal.signal(signal.SIGALRM, signal.SIG_DFL)
        signal.signal(signal.SIGPROF, signal.SIG_DFL)
        signal.alarm(SECONDS_BEFORE_TESTS)
        import pytest

        seconds = dict(zip(task["tests"], task["seconds"], strict=True))
        options = ["-x"] if task["file"] else []
        options += ["-q", "--tb=line", "-p", "no:cacheprovider", "-p", "no:xdist", "-W", "ignore"]
        code = int(pytest.main([*options, *task["tests"]], plugins=[Told(seconds, answer)]))
    finally:
        sys.stdout.flush()
        os._exit(code)


def main() -> None:
    tree = Path.cwd()
    assert_in_scratch(tree)
    for name in LIBRARIES:
        with contextlib.suppress(ImportError):  # a test that needs it fails, faults or not
            importlib.import_module(name)
    for line in sys.stdin:
        print(json.dumps(tried(json.loads(line), tree, tree.parent)), flush=True)


if __name__ == "__main__":
    main()
