"""How soon Ctrl-C is answered, in every stage of every command; ends with 1 where over a second.

Each command runs once to its end, then again and again, and is interrupted at moments spread over
that time by a seed. It answers by saying so, or by ending; in a search the first one is a wish,
and a second one must end it. Whatever comes, there must be no traceback, but for those of Python's
own start, before any line of ours, and no folder that is half written.
The stage is the last one that the command showed. The program is started anew each time, in a fresh
folder for temporary files.

    python -m tests.bench.cancel_stages [--moments 12] [--seed 1] [--pieces 20000] [--job JOB]
"""

import argparse
import json
import os
import pty
import random
import re
import select
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from tests.bench.limits import Limit, Sense, show_limits_and_exit, table
from tests.bench.processes import DEMO_JOB, ROOT

MOST_SECONDS = 1.0
GIVEN_UP_AFTER = 60.0
ENDS_WELL = (130, -signal.SIGINT)
"""Told plainly; or ended by the system, while modules are loaded."""
WISH, ANSWER = b"Stopping.", b"Stopp"
"""What it says of a wish, and of either."""
STAGE = re.compile(r"([a-z][a-z0-9 ,]*?) *[━╸╺]")


@dataclass(frozen=True)
class Answer:
    """What came of one interrupt: the stage, seconds to answer and end, and what was wrong."""

    stage: str
    seconds: float
    ended_after: float
    wrong: str


class Running:
    """A command in a terminal of its own."""

    def __init__(self, arguments: Sequence[str], folder: Path) -> None:
        ours, theirs = pty.openpty()
        self._terminal = ours
        self.said = b""
        command = [sys.executable, "-m", "casewright.start", *arguments]
        environment = os.environ | {"PYTHONPATH": str(ROOT), "COLUMNS": "100", "TERM": "xterm"}
        self.process = subprocess.Popen(
            command, cwd=folder, stdin=theirs, stdout=theirs, stderr=theirs, env=environment
        )
        os.close(theirs)

    def listened(self, seconds: float, word: bytes | None = None) -> bool:
        """Read what it says until it ends, says the word, or time is up; True for the first two."""
        until = time.perf_counter() + seconds
        while (left := until - time.perf_counter()) > 0:
            if select.select([self._terminal], [], [], min(left, 0.01))[0]:
                with suppress(OSError):  # the other side is closed
                    self.said += os.read(self._terminal, 65536)
            if word is not None and word in self.said:
                return True
            if self.process.poll() is not None:
                return True
        return False

    @property
    def stage(self) -> str:
        """The last stage that was shown."""
        found = STAGE.findall(
            re.sub(rb"\x1b\[[0-9;?]*[a-zA-Z]", b"", self.said).decode(errors="replace")
        )
        return found[-1].strip() if found else "before the first stage"

    def interrupted(self, word: bytes | None) -> float:
        """Press Ctrl-C; return the seconds until it answers."""
        start = time.perf_counter()
        self.process.send_signal(signal.SIGINT)
        self.listened(GIVEN_UP_AFTER, word)
        return time.perf_counter() - start

    def ended(self) -> None:
        """Leave nothing behind."""
        self.process.kill()
        self.process.wait()
        os.close(self._terminal)


def answers(
    arguments: Sequence[str], folder: Path, moments: int, chance: random.Random
) -> Iterator[Answer]:
    start = time.perf_counter()
    with running(arguments, folder) as whole:
        whole.listened(3600)
        if whole.process.returncode not in (0, 1):
            raise RuntimeError(
                f"{arguments} ended with {whole.process.returncode}:\n{whole.said!r}"
            )
    lasts = time.perf_counter() - start
    for number in range(moments):
        moment = lasts * (number + chance.random()) / moments
        with running(arguments, folder) as command:
            if command.listened(moment):
                continue  # it was quicker this time
            stage = command.stage
            seconds = command.interrupted(ANSWER)
            if WISH in command.said and command.process.poll() is None:
                command.said = b""
                seconds = max(seconds, command.interrupted(ANSWER))
            answered = time.perf_counter()
            command.listened(GIVEN_UP_AFTER)
            more = time.perf_counter() - answered
            yield Answer(stage, seconds, seconds + more, wrong_with(command, folder / "out"))


@contextmanager
def running(arguments: Sequence[str], folder: Path) -> Iterator[Running]:
    command = Running(arguments, folder)
    try:
        yield command
    finally:
        command.ended()


def wrong_with(command: Running, out: Path) -> str:
    if b"Traceback" in command.said and b"casewright" in command.said:
        return "a traceback"
    before_ours = b"Traceback" in command.said
    if command.process.returncode not in (0, *ENDS_WELL) and not before_ours:
        return f"ended with {command.process.returncode}"
    if out.exists():
        listed = {each["path"] for each in json.loads((out / "manifest.json").read_text())["files"]}
        there = {p.relative_to(out).as_posix() for p in out.rglob("*") if p.is_file()}
        if there != {*listed, "manifest.json"}:
            return "half a folder"
    return ""


def nest_lists(folder: Path, pieces: int, chance: random.Random) -> None:
    rows = (
        f"p{n},{chance.randint(2000, 15000) / 10},{chance.randint(1000, 8000) / 10},1,yes\n"
        for n in range(pieces)
    )
    (folder / "pieces.csv").write_text("piece,length,width,quantity,turn\n" + "".join(rows))
    (folder / "stock.csv").write_text("stock,length,width,quantity,price\nfull,2440,1220,,\n")


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--moments", type=int, default=12)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--pieces", type=int, default=20_000)
    options.add_argument("--job", type=Path, default=DEMO_JOB)
    options.add_argument("--only", default="", help="one command")
    chosen = options.parse_args()
    chance = random.Random(chosen.seed)
    job = str(chosen.job.resolve())
    with tempfile.TemporaryDirectory(prefix="cancel-stages-") as made:
        folder = Path(made)
        nest_lists(folder, chosen.pieces, chance)
        commands = {
            "nest": ["nest", "pieces.csv", "stock.csv", "--gap", "10", "--out", "out"],
            "build": ["build", job, "--out", "out"],
            "check": ["check", job],
            "kit": ["kit", job],
            "openings": ["openings", job],
        }
        found = [
            (name, answer)
            for name, arguments in commands.items()
            if chosen.only in ("", name)
            for answer in answers(arguments, folder, chosen.moments, chance)
        ]
    places = dict.fromkeys((name, answer.stage) for name, answer in found)
    rows = []
    for place in places:
        here = [answer for name, answer in found if (name, answer.stage) == place]
        wrong = ", ".join(sorted({answer.wrong for answer in here} - {""}))
        longest = max(answer.seconds for answer in here)
        ended = max(answer.ended_after for answer in here)
        rows.append((*place, len(here), longest, ended, wrong or "-"))
    print(table(("command", "stage", "times", "answered s", "ended s", "wrong"), rows))
    slowest = max((answer.seconds for _, answer in found), default=0.0)
    wrongs = float(sum(1 for _, answer in found if answer.wrong))
    show_limits_and_exit(
        [
            Limit("seconds until Ctrl-C is answered", slowest, Sense.AT_MOST, MOST_SECONDS),
            Limit("tracebacks, other codes, half folders", wrongs, Sense.AT_MOST, 0.0),
        ]
    )


if __name__ == "__main__":
    main()
