"""Running a command in a process of its own, and what it cost."""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
DEMO_JOB = ROOT / "configs" / "avalanche-centre.yaml"


@dataclass(frozen=True)
class Cost:
    """Wall clock and processor time of one process, and the most memory it held."""

    wall_s: float
    cpu_s: float
    peak_mib: float


def cost_of_python(arguments: Sequence[str]) -> Cost:
    """Run this Python with the arguments; what it prints is shown only if it fails.

    The measuring process must stay small: a child's peak never reads less than its parent's size.

    Raises:
        RuntimeError: the process failed.
    """
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    command = [sys.executable, *arguments]
    with tempfile.TemporaryFile() as printed:
        into_file = [(os.POSIX_SPAWN_DUP2, printed.fileno(), stream) for stream in (1, 2)]
        start = time.perf_counter()
        pid = os.posix_spawn(sys.executable, command, environment, file_actions=into_file)
        # Unlike the figures of all children together, these are of this child alone.
        _, status, used = os.wait4(pid, 0)
        wall = time.perf_counter() - start
        if status:
            printed.seek(0)
            code, said = os.waitstatus_to_exitcode(status), printed.read().decode()
            raise RuntimeError(f"{arguments} ended with {code}:\n{said}")
    return Cost(
        wall_s=wall,
        cpu_s=used.ru_utime + used.ru_stime,
        peak_mib=used.ru_maxrss / 1024,  # Linux counts kibibytes
    )


def said_by_python(arguments: Sequence[str], environment: dict[str, str]) -> str:
    """Run this Python with the arguments and more in its environment; return what it printed.

    Raises:
        RuntimeError: the process failed.
    """
    command = [sys.executable, *arguments]
    whole = os.environ | {"PYTHONPATH": str(ROOT)} | environment
    done = subprocess.run(command, env=whole, capture_output=True, text=True, check=False)
    if done.returncode:
        raise RuntimeError(f"{arguments} ended with {done.returncode}:\n{done.stderr}")
    return done.stdout


def medians(commands: Sequence[Sequence[str]], runs: int) -> list[Cost]:
    """Return the median cost of each command, run in turns so that all meet the same load.

    One more run of each goes first and is not counted: it fills caches.
    """
    costs: list[list[Cost]] = [[] for _ in commands]
    for turn in range(runs + 1):
        for command, kept in zip(commands, costs, strict=True):
            cost = cost_of_python(command)
            if turn:
                kept.append(cost)
    return [
        Cost(
            wall_s=statistics.median(cost.wall_s for cost in kept),
            cpu_s=statistics.median(cost.cpu_s for cost in kept),
            peak_mib=statistics.median(cost.peak_mib for cost in kept),
        )
        for kept in costs
    ]


def build_command(out: Path) -> list[str]:
    """Return the arguments that build the demo of 48 rooms into `out`."""
    return ["-m", "casewright.cli", "build", str(DEMO_JOB), "--out", str(out)]


IMPORT_KERNEL = ("-c", "import cadquery")
