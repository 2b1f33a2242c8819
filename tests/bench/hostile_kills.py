"""Real builds killed at random moments: the folder is the old output or the new one, and nothing is
left of the killed after the next build.

Two jobs that differ in their name alone, a bench in one room, are built by turns into one folder,
each in a process of its own. Half of the kills come at any moment of a build, half within the
moments of writing.
"""

import json
import os
import random
import shutil
import signal
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

from export.manifest import listed_files, sha256_of
from tests.bench.temporary_room import temporary_room

ROOT = Path(__file__).parents[2]
CONFIGS = ROOT / "configs"
MARKS = ("first", "second")
WHOLE_EVERY = 25
"""After so many kills a build is let through, and nothing may be left beside its folder."""
WRITING_SECONDS = 0.25


@dataclass
class KillCounts:
    """What came of the kills."""

    kills: int = 0
    while_writing: int = 0
    ended_first: int = 0
    mixtures: int = 0
    left_over: int = 0
    old: int = 0
    new: int = 0


def killed_builds(count: int, seed: int) -> KillCounts:
    """Kill so many builds in a fresh temporary folder."""
    counts = KillCounts()
    chance = random.Random(seed)
    with temporary_room("killed") as room:
        jobs = [_job(room / mark, mark) for mark in MARKS]
        out = room / "outputs" / "out"
        started = time.monotonic()
        _build(jobs[0], out)
        whole_s = time.monotonic() - started
        for number in range(count):
            before = _mark(out)
            job = jobs[(MARKS.index(before) + 1) % 2] if before in MARKS else jobs[0]
            _kill(job, out, chance, whole_s, counts)
            after = _mark(out)
            counts.mixtures += after is None
            counts.old += after == before
            counts.new += after != before
            if number % WHOLE_EVERY == WHOLE_EVERY - 1 or number == count - 1:
                _build(job, out)
                counts.left_over += os.listdir(out.parent) != ["out"]
                counts.mixtures += _mark(out) is None
                print(counts, flush=True)  # a long run that is cut off has told how far it came
    return counts


def _job(folder: Path, mark: str) -> Path:
    shutil.copytree(CONFIGS, folder)
    job = folder / "keepers-room.yaml"
    lines = job.read_text(encoding="utf-8").partition("    table:\n")[0].splitlines()
    named = [f"job: {mark}" if line.startswith("job:") else line for line in lines]
    job.write_text("\n".join(named) + "\n", encoding="utf-8")
    return job


def _command(job: Path, out: Path) -> list[str]:
    build = (sys.executable, "-m", "casewright.cli", "build", str(job), "--effort", "quick")
    return [*build, "--out", str(out)]


def _build(job: Path, out: Path) -> None:
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    done = subprocess.run(_command(job, out), cwd=ROOT, check=False, **quiet)
    if done.returncode != 0:
        raise SystemExit(f"a build that nobody killed ended with {done.returncode}")


def _kill(job: Path, out: Path, chance: random.Random, whole_s: float, counts: KillCounts) -> None:
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    new = out.parent / f".{out.name}.unfinished" / "new"
    with subprocess.Popen(_command(job, out), cwd=ROOT, **quiet) as process:
        # What was left by the one before has the same name until this one has cleared it away.
        stale = new.stat().st_ino if new.is_dir() else None
        if chance.random() < 0.5:
            while process.poll() is None and not _begun(new, stale):
                time.sleep(0.0005)
            time.sleep(chance.random() * WRITING_SECONDS)
            counts.while_writing += process.poll() is None
        else:
            time.sleep(chance.random() * whole_s)
        counts.ended_first += process.poll() is not None
        process.send_signal(signal.SIGKILL)
        counts.kills += 1


def _begun(new: Path, stale: int | None) -> bool:
    try:
        return new.stat().st_ino != stale
    except OSError:
        return False


def _mark(out: Path) -> str | None:
    """Return whose output stands there; None if it is not one output, whole and unchanged."""
    listed = listed_files((out / "manifest.json").read_bytes())
    if listed is None:
        return None
    present = {
        path.relative_to(out).as_posix(): sha256_of(path.read_bytes())
        for path in out.rglob("*")
        if path.is_file()
    }
    del present["manifest.json"]
    if present != listed:
        return None
    job = json.loads((out / "manifest.json").read_text(encoding="utf-8"))["job"]
    return job if job in MARKS else None
