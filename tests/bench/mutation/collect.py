"""One run of the tests under coverage, in scratch copies: which test runs which line."""

import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from tests.bench.mutation.scratch import ROOT, environment, make_scratch, shielded

LEFT_OUT = {
    "tests/bench": "measures",
    "tests/nesting": "is about another package, and slow",
    "tests/architecture": "looks at imports, not at what is done",
    "tests/test_solid_assertions.py": "is about the tests' own measuring",
}
SETTINGS = """
[run]
source = {packages}
data_file = {folder}/.coverage
parallel = true
context = ${{MUTATION_CONTEXT-}}
"""


def test_files(root: Path = ROOT) -> list[str]:
    """Return the test modules that take part, as paths from `root`."""
    files = sorted(path.relative_to(root) for path in (root / "tests").rglob("test_*.py"))
    left_out = [Path(name) for name in LEFT_OUT]
    return [
        file.as_posix()
        for file in files
        if not any(one == file or one in file.parents for one in left_out)
    ]


def collect(folder: Path, packages: Sequence[str], side_by_side: int) -> None:
    """Run the tests and leave what coverage and the plugin wrote in `folder`.

    Tests that fail are told by the plugin and are not used. What an ended run wrote is kept.
    """
    files = test_files()
    runs = [_Run(files[number::side_by_side], packages) for number in range(side_by_side)]
    try:
        for run in runs:
            run.process.wait()
    finally:
        for number, run in enumerate(runs):
            run.bring(folder, number)


class _Run:
    """One process that runs some of the test modules in a scratch copy."""

    def __init__(self, files: Sequence[str], packages: Sequence[str]) -> None:
        self._scratch = make_scratch()
        self._written = self._scratch / "coverage"
        self._written.mkdir()
        settings = self._scratch / "coveragerc"
        named = "\n    ".join(packages)
        settings.write_text(SETTINGS.format(packages=named, folder=self._written))
        under = ["-m", "coverage", "run", f"--rcfile={settings}"]
        tests = ["-m", "pytest", "-q", "-p", "tests.bench.mutation.contexts"]
        command = [sys.executable, *under, *tests, "-p", "no:cacheprovider", *files]
        self.process = subprocess.Popen(
            shielded(self._scratch, command),
            env=environment(self._scratch, MUTATION_TIMES=str(self._written / "times.json")),
        )

    def bring(self, folder: Path, number: int) -> None:
        self.process.kill()
        self.process.wait()
        for path in self._written.iterdir():
            shutil.copy2(path, folder / path.name.replace("times", f"times-{number}"))
        shutil.rmtree(self._scratch, ignore_errors=True)
