"""Packages of others with the names of ours are told, by their file, before anything is loaded."""

import os
import subprocess
import sys
from importlib.machinery import ModuleSpec
from pathlib import Path

import pytest

from casewright import own_packages
from casewright.own_packages import MARK, PACKAGES, not_ours

ROOT = Path(__file__).parents[2]
INPUT = 2


def run(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Run the command with a folder that is searched before that of our packages."""
    return subprocess.run(
        [sys.executable, "-m", "casewright.start", *arguments],
        env={**os.environ, "PYTHONPATH": os.pathsep.join((str(folder), str(ROOT)))},
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.parametrize("name", ["export.py", "nesting/__init__.py", "parametric/__init__.py"])
def test_a_file_that_hides_a_package_is_named_and_not_run(tmp_path: Path, name: str) -> None:
    other = tmp_path / name
    other.parent.mkdir(exist_ok=True)
    other.write_text("raise RuntimeError('was run')")
    done = run(tmp_path, "schema")
    assert (done.returncode, done.stdout) == (INPUT, "")
    own = ROOT / name.partition("/")[0].removesuffix(".py") / "__init__.py"
    assert done.stderr.startswith(f"{str(other)!r} is found instead of {str(own)!r}. ")
    assert done.stderr.count("\n") == 1


def test_ours_are_found_past_folders_without_a_package(tmp_path: Path) -> None:
    """A plain folder of such a name, as of exported files, hides nothing (PEP 420)."""
    for name in PACKAGES:
        (tmp_path / name).mkdir()
    done = run(tmp_path, "schema")
    assert done.returncode == 0, done.stderr


def test_ours_are_ours() -> None:
    assert not_ours() is None


@pytest.mark.parametrize("name", PACKAGES)
def test_a_file_put_over_ours_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    beside = tmp_path.resolve()
    files = {each: beside / each / "__init__.py" for each in PACKAGES}
    for each, file in files.items():
        file.parent.mkdir()
        file.write_bytes(b"" if each == name else MARK)
    specs = {each: ModuleSpec(each, None, origin=str(file)) for each, file in files.items()}
    monkeypatch.setattr(own_packages, "find_spec", specs.get)
    told = not_ours(beside)
    assert told is not None
    assert told.startswith(f"{str(files[name])!r} was replaced by another program.")


def test_a_package_that_is_not_there_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(own_packages, "find_spec", lambda _: None)
    told = not_ours(Path("/opt"))
    assert told is not None
    assert told.startswith("The package export is missing: '/opt/export/__init__.py'.")
