"""Thousands of spoilt jobs and tables: each is read, or refused with file and line; nothing else.

The demo jobs and a nest list are spoilt in one to four places, by a seed: bytes, lines, cells, YAML
nodes, numbers, names, encodings, files that are pipes, devices, folders or links. Each is read, and
the kits of a job that can be read are counted. A watchdog ends what takes longer than five seconds.
Everything happens in a fresh folder for temporary files, and nowhere else.

    python -m tests.bench.hostile_jobs [--count 10000] [--seed 1]
"""

import argparse
import random
import shutil
import signal
import sys
import tempfile
import traceback
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from types import FrameType

from casewright.commands.nest_command.options import OptionTexts, read_options
from casewright.commands.nest_command.question import Files, read_questions
from casewright.errors import CasewrightError, InputErrors
from casewright.intake.read_job import read_job
from casewright.intake.read_kit_list import read_kit_list
from casewright.intake.template import template_files
from casewright.stages.site.kit_stage import kits_of
from parametric.stock.lengths import Units
from tests.bench.mutations import OF_TABLES, OF_YAML, put_something_else
from tests.bench.processes import ROOT
from tests.bench.temporary_room import refuse_unless_fresh

COUNT, SEED, SECONDS = 10_000, 1, 5.0
KEPT_EXAMPLES = 20
SOMETHING_ELSE = 0.06
"""How often a file is no file any more."""

PIECES = b"""piece,length,width,quantity,turn,group,priority
deck,1200,600,6,no,room 1,
"side, left",800,27 1/2 in,12,no,room 1,5
back,700.5,420,5,yes,room 2,
\xc3\xa9tag\xc3\xa8re,300,40,20,yes,,
"""
STOCK = b"""stock,length,width,quantity,price,kind
full,2440,1220,,49.90,sheet
rest,1500,900,1,,remnant
"""
DEFECTS = b"stock,x,y,length,width\nfull,100,100,30,20\nrest,0,0,50.5,900\n"
KIT = b"article,quantity,description\n4-0x30,64,screw\n5-0x16,1.5e1,\ntube-leg,2,leg\n"


class Ending(StrEnum):
    """What came of one spoilt input."""

    CLEAN = "clean"
    REFUSED = "refused with file and line"
    NOT_MADE = "read, but cannot be made"
    TRACEBACK = "tracebacks"
    TOO_LONG = "over five seconds"
    UNLOCATED = "refused without file or line"


MUST_NOT = (Ending.TRACEBACK, Ending.TOO_LONG, Ending.UNLOCATED)


@dataclass(frozen=True)
class Counts:
    """How many inputs ended how, and the first of those that must not end so."""

    endings: Mapping[Ending, int]
    examples: tuple[str, ...]

    @property
    def amiss(self) -> int:
        """How many ended as none may."""
        return sum(self.endings[ending] for ending in MUST_NOT)


@dataclass(frozen=True)
class Subject:
    """Files that are spoilt, and how they are read."""

    files: Mapping[str, bytes]
    read: Callable[[Path], None]


class _TookTooLong(BaseException):
    """The watchdog's; nothing that is tried may catch it."""


def mutated_inputs(
    count: int, seed: int, folder: Path | None = None, seconds: float | None = SECONDS
) -> Counts:
    """Spoil, read and count; the same seed spoils the same. No clock watches without `seconds`.

    Raises:
        ValueError: the folder is not a fresh one for temporary files.
    """
    work = folder if folder is not None else Path(tempfile.mkdtemp(prefix="hostile-jobs-"))
    refuse_unless_fresh(work)
    subjects = tuple(_subjects())
    endings: Counter[Ending] = Counter(dict.fromkeys(Ending, 0))
    examples: list[str] = []
    try:
        for number in range(count):
            chance = random.Random(f"{seed} {number}")
            inside = work / "input"
            inside.mkdir()
            ending, said = _ending(chance.choice(subjects), chance, inside, seconds)
            endings[ending] += 1
            if ending in MUST_NOT and len(examples) < KEPT_EXAMPLES:
                examples.append(f"input {number} of seed {seed}: {said}")
            shutil.rmtree(inside)
    finally:
        shutil.rmtree(work)
    return Counts(dict(endings), tuple(examples))


def _subjects() -> Iterator[Subject]:
    configs = ROOT / "configs"
    for name, libraries in (
        ("keepers-room", "metric"),
        ("keepers-room", "metric"),
        ("survey-ship", "metric"),
        ("avalanche-centre", "inch"),
    ):
        files = {path.name: path.read_bytes() for path in configs.glob(f"*-{libraries}.yaml")}
        files["rooms.csv"] = (configs / f"{name}-rooms.csv").read_bytes()
        job = (configs / f"{name}.yaml").read_bytes()
        files["job.yaml"] = job.replace(f"{name}-rooms.csv".encode(), b"rooms.csv")
        yield Subject(files, _job_and_kits)
    for units in Units:
        files = {name: text.encode() for name, text in template_files(units).items()}
        yield Subject(files, _job_and_kits)
    lists = {"pieces.csv": PIECES, "stock.csv": STOCK, "defects.csv": DEFECTS}
    yield from (Subject(lists, _question),) * 3
    yield Subject({"kit.csv": KIT}, lambda folder: _ignored(read_kit_list(folder / "kit.csv")))


def _job_and_kits(folder: Path) -> None:
    kits_of(read_job(folder / "job.yaml"))


def _question(folder: Path) -> None:
    files = Files(
        pieces=folder / "pieces.csv",
        stock=(folder / "stock.csv",),
        defects=folder / "defects.csv",
    )
    read_questions(files, read_options(OptionTexts(units=Units.MM), cores=1))


def _ignored(answer: object) -> None:
    """Take an answer that is not looked at."""


def _ending(
    subject: Subject, chance: random.Random, folder: Path, seconds: float | None
) -> tuple[Ending, str]:
    _spoil(subject, chance, folder)
    try:
        with _watchdog(seconds):
            subject.read(folder)
    except InputErrors as told:
        return _located(told, folder)
    except CasewrightError as told:
        return Ending.NOT_MADE, str(told)
    except _TookTooLong:
        return Ending.TOO_LONG, traceback.format_exc()[-2000:]
    except Exception:
        return Ending.TRACEBACK, traceback.format_exc()[-2000:]
    return Ending.CLEAN, ""


def _spoil(subject: Subject, chance: random.Random, folder: Path) -> None:
    files = dict(subject.files)
    for _ in range(chance.choice((1, 1, 1, 2, 2, 3, 4))):
        name = chance.choice(sorted(files))
        ways = OF_YAML if name.endswith(".yaml") else OF_TABLES
        files[name] = chance.choice(ways)(chance, files[name])
    for name, content in files.items():
        (folder / name).write_bytes(content)
    if chance.random() < SOMETHING_ELSE:
        put_something_else(chance, folder / chance.choice(sorted(files)))


def _located(told: InputErrors, folder: Path) -> tuple[Ending, str]:
    """Return whether every fault is one line that names a file of the input, and a line of it."""
    for fault in told.faults:
        line = str(fault)
        named = Path(fault.file).parent == folder and fault.line >= 1
        if not named or len(line.splitlines()) != 1 or not line.isprintable():
            return Ending.UNLOCATED, repr(line)
    return (Ending.REFUSED, "") if told.faults else (Ending.UNLOCATED, "no fault at all")


@contextmanager
def _watchdog(seconds: float | None) -> Iterator[None]:
    if seconds is None:
        yield
        return

    def bark(number: int, frame: FrameType | None) -> None:
        raise _TookTooLong

    before = signal.signal(signal.SIGALRM, bark)
    signal.setitimer(signal.ITIMER_REAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)


def main() -> None:
    """Print the counts; end with 1 if any input ended as none may."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--count", type=int, default=COUNT)
    options.add_argument("--seed", type=int, default=SEED)
    chosen = options.parse_args()
    counts = mutated_inputs(chosen.count, chosen.seed)
    print(f"{chosen.count} spoilt jobs and tables, seed {chosen.seed}")
    for ending, number in counts.endings.items():
        print(f"  {number:6} {ending}")
    for example in counts.examples:
        print(f"\n{example}")
    sys.exit(1 if counts.amiss else 0)


if __name__ == "__main__":
    main()
