"""First installs and builds with several Pythons: they work, to the same bytes, without warnings.

For each Python: a fresh clone of this repository, the README's first command, then a build as a
user without a home or any other variable. Builds with the same versions of all libraries have to
give the same bytes; where versions differ, those and the files that differ are shown.

    python -m tests.bench.first_builds python3.11 python3.12 python3.13
"""

import argparse
import json
import os
import re
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from itertools import combinations
from pathlib import Path

from tests.bench.limits import table

ROOT = Path(__file__).parents[2]
OURS = re.compile(r"(casewright|export|nesting|parametric)/\S+\.py:\d+: \w*Warning")
"""A warning as Python prints it, raised in a file of ours."""


@dataclass(frozen=True)
class FirstBuild:
    """What one Python made of a fresh clone; digests by the path of each file."""

    python: str
    install_s: float
    build_s: float
    failure: str
    warnings: int
    libraries: frozenset[str]
    files: frozenset[tuple[str, str]]
    homeless: frozenset[tuple[str, str]]


def first_build(python: str, job: str, folder: Path) -> FirstBuild:
    """Clone, install and build twice in an empty folder."""
    clone, venv = folder / "clone", folder / "clone" / ".venv" / "bin"
    command = [str(venv / "casewright"), "build", job, "--out"]
    warned = os.environ | {"PYTHONWARNINGS": "default"}
    bare = {"PATH": os.defpath}
    installs = (
        ["git", "clone", "--quiet", str(ROOT), str(clone)],
        [python, "-m", "venv", str(clone / ".venv")],
        [str(venv / "pip"), "install", "-q", str(clone)],
    )
    said, start = "", time.perf_counter()
    for step in installs:
        failure, more = ran(step, folder, warned)
        said += more
        if failure:
            break
    installed = time.perf_counter()
    if not failure:
        failure, more = ran([*command, str(folder / "out")], clone, warned)
        said += more
    built = time.perf_counter()
    if not failure:
        failure, _ = ran([*command, str(folder / "homeless")], clone, bare)
    return FirstBuild(
        python=python,
        install_s=installed - start,
        build_s=built - installed,
        failure=failure,
        warnings=len(OURS.findall(said)),
        libraries=frozenset() if failure else libraries(venv / "pip"),
        files=digests(folder / "out"),
        homeless=digests(folder / "homeless"),
    )


def ran(command: list[str], folder: Path, environment: dict[str, str]) -> tuple[str, str]:
    """Run a command; return the last lines of what it said if it failed, and what it said."""
    done = subprocess.run(
        command, cwd=folder, env=environment, capture_output=True, text=True, check=False
    )
    said = done.stdout + done.stderr
    if not done.returncode:
        return "", said
    return f"{command[:3]} ended with {done.returncode}:\n{said[-1500:]}", said


def libraries(pip: Path) -> frozenset[str]:
    """Return each library with its version."""
    listed = subprocess.run([str(pip), "freeze"], capture_output=True, text=True, check=True)
    return frozenset(line for line in listed.stdout.split("\n") if "==" in line)


def digests(output: Path) -> frozenset[tuple[str, str]]:
    """Return path and SHA-256 of each file that the manifest lists."""
    manifest = output / "manifest.json"
    if not manifest.exists():
        return frozenset()
    entries = json.loads(manifest.read_text(encoding="utf-8"))["files"]
    return frozenset((entry["path"], entry["sha256"]) for entry in entries)


def amiss(builds: list[FirstBuild]) -> list[str]:
    """Return what must not be, and print what differs where it may."""
    found = [f"{one.python}: {one.failure}" for one in builds if one.failure]
    good = [one for one in builds if not one.failure]
    found += [f"{one.python}: {one.warnings} warnings of ours" for one in good if one.warnings]
    found += [
        f"{one.python}: other bytes without a home" for one in good if one.files != one.homeless
    ]
    for first, second in combinations(good, 2):
        names = f"{first.python} and {second.python}"
        unlike = sorted({path for path, _ in first.files ^ second.files})
        versions = sorted(first.libraries ^ second.libraries)
        if versions:
            print(f"{names}: versions differ ({', '.join(versions)}); files that differ: {unlike}")
        elif unlike:
            found.append(f"{names}: same libraries, but other bytes in {', '.join(unlike)}")
    return found


def run() -> None:
    parser = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    parser.add_argument("pythons", nargs="*", default=[sys.executable], metavar="PYTHON")
    parser.add_argument("--job", default="configs/avalanche-centre.yaml")
    options = parser.parse_args()
    builds = []
    for python in options.pythons:
        with tempfile.TemporaryDirectory() as folder:
            builds.append(first_build(python, options.job, Path(folder)))
    rows = [
        (one.python, f"{one.install_s:.0f} s", f"{one.build_s:.0f} s", str(len(one.files)))
        for one in builds
    ]
    print(table(("python", "install", "first build", "files"), rows))
    wrong = amiss(builds)
    print("\n".join(wrong) or "All builds are well.")
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    run()
