"""Runs over trees of tempting targets: every byte that no build wrote must still be there.

Each run makes a tree with folders of letters, links, earlier outputs (whole, edited, with letters
in them, of another program), types some path as the output folder, and drops letters while the
output is being written: into the earlier output, where the new one is made, beside both. Each
letter holds its own text, so that it is known wherever it is found afterwards.
"""

import os
import random
import shutil
import threading
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from casewright.errors import OutputFolderError
from casewright.output.folder import Replace, Request, claimed, write_folder
from tests.bench.temporary_room import refuse_unless_fresh, temporary_room
from tests.casewright.output.small_output import files

SHEETS = 30
DROPS = 12


@dataclass
class FolderCounts:
    """What came of the runs; a letter that stands elsewhere was moved with the folder it was in."""

    runs: int = 0
    written: int = 0
    refused: int = 0
    letters: int = 0
    lost: int = 0
    mixtures: int = 0
    gone: int = 0
    left_over: int = 0
    bugs: list[str] = field(default_factory=list)


def tempting_runs(count: int, seed: int) -> FolderCounts:
    """Run so many times, each in a fresh folder below the temporary one."""
    counts = FolderCounts()
    with temporary_room("tempting") as room:
        for run in range(count):
            place = room / str(run)
            place.mkdir()
            refuse_unless_fresh(place)
            _run(place, random.Random(f"{seed}-{run}"), counts)
            shutil.rmtree(place)
    return counts


class _Letters:
    """Files that no build wrote."""

    def __init__(self) -> None:
        self.texts: list[bytes] = []
        self._lock = threading.Lock()

    def put(self, path: Path) -> None:
        """Write one more, unless something has that name or its folder is gone."""
        with self._lock:
            text = f"letter {len(self.texts)}\n".encode()
            try:
                with path.open("xb") as stream:
                    stream.write(text)
            except OSError:
                return
            self.texts.append(text)

    def put_over(self, path: Path) -> None:
        """Edit a file that a build wrote, in place, if it is there."""
        with self._lock:
            text = f"letter {len(self.texts)}\n".encode()
            try:
                handle = os.open(path, os.O_WRONLY | os.O_TRUNC | os.O_NOFOLLOW)
            except OSError:
                return
            with open(handle, "wb") as stream:
                stream.write(text)
            self.texts.append(text)

    def missing(self, room: Path) -> int:
        """Return how many are nowhere below the room."""
        found = Counter(
            path.read_bytes()
            for path in room.rglob("*")
            if path.is_file() and not path.is_symlink()
        )
        return sum(1 for text in self.texts if text not in found)


def _run(room: Path, chance: random.Random, counts: FolderCounts) -> None:
    letters = _Letters()
    _tree(room, chance, letters)
    typed = _typed(room, chance)
    before = {path for path in room.rglob("*") if path.name == "summary.html"}
    stop = threading.Event()
    dropper = threading.Thread(target=_drop, args=(room, chance.randrange(1 << 30), letters, stop))
    counts.runs += 1
    try:
        request = Request(folder=typed, replace=Replace.OUTPUT)
        if chance.random() < 0.7:
            dropper.start()
        with claimed(request) as output:
            output.write(files("new", SHEETS))
        counts.written += 1
    except OutputFolderError:
        counts.refused += 1
    except Exception as error:  # counted and shown: none may come
        counts.bugs.append(f"{typed}: {error!r}")
    finally:
        stop.set()
        if dropper.is_alive():
            dropper.join()
    counts.letters += len(letters.texts)
    counts.lost += letters.missing(room)
    after = {path for path in room.rglob("*") if path.name == "summary.html"}
    counts.mixtures += sum(1 for path in before | after if not _whole(path.parent))
    counts.gone += len(before - after)
    counts.left_over += sum(1 for path in room.rglob(".*.unfinished") if not _has_letter(path))


def _whole(folder: Path) -> bool:
    """Return whether what builds wrote in a folder is all of one build."""
    marks = {path.read_bytes()[:3] for path in folder.glob("shop/sheets/*.txt")}
    return len({mark for mark in marks if mark in (b"new", b"old")}) <= 1


def _has_letter(folder: Path) -> bool:
    return any(
        path.is_file() and path.read_bytes().startswith(b"letter") for path in folder.rglob("*")
    )


def _tree(room: Path, chance: random.Random, letters: _Letters) -> None:
    for name in ("victim", "home", "a", "a/b", "a/b/c"):
        (room / name).mkdir()
        letters.put(room / name / "letters.txt")
    for name in ("out", "a/out", "a/b/out"):
        write_folder(room / name, files("old", SHEETS))
    changes: list[Callable[[Path], object]] = [
        lambda out: letters.put(out / "letters.txt"),
        lambda out: letters.put(out / "shop" / "sheets" / "letters.txt"),
        lambda out: letters.put_over(out / "shop" / "sheets" / "3.txt"),
        lambda out: (out / "empty").mkdir(),
        lambda out: (out / "link").symlink_to(room / "victim"),
        lambda out: (out / "manifest.json").write_text('{"files": [{"path": "letters.txt"}]}'),
        lambda out: (out / "manifest.json").unlink(),
        lambda out: None,
        lambda out: None,
    ]
    for name in ("out", "a/out", "a/b/out"):
        chance.choice(changes)(room / name)
    for name, target in (
        ("to-victim", "victim"),
        ("to-out", "out"),
        ("to-nothing", "nowhere"),
        ("a/up", ".."),
        ("ring", "ring"),
    ):
        (room / name).symlink_to(target)


def _typed(room: Path, chance: random.Random) -> Path:
    """Return some path, by its parts, that mostly ends near a target and never leaves the room."""
    parts = ("a", "b", "nosuch", "..", ".", "to-victim", "to-out", "up", "nosuch2", "ring", "new")
    ends = ("out", "victim", "home", "to-out", "to-victim", "to-nothing", "c", "new", "..", "a")
    while True:
        inner = Path(*chance.choices(parts, k=chance.randrange(4)), chance.choice(ends))
        typed = room / inner
        resolved = Path(os.path.realpath(typed))
        # Typed as the system would read it, missing folders made, it must stay inside, too.
        depth = 0
        for part in inner.parts:
            depth += -1 if part in ("..", "up") else part != "."
            if depth < 0:
                break
        if depth >= 0 and room in resolved.parents:
            return typed


def _drop(room: Path, seed: int, letters: _Letters, stop: threading.Event) -> None:
    chance = random.Random(seed)
    spots = ("out", "a/out", "a/b/out", "a", "a/b", "new", "victim", "nosuch")
    for number in range(DROPS):
        if stop.wait(chance.random() * 0.004):
            return
        spot = room / chance.choice(spots)
        inner = chance.choice(("", "shop", "shop/sheets"))
        if chance.random() < 0.3:
            spot = spot.parent / f".{spot.name}.unfinished" / chance.choice(("", "new", "old"))
        if chance.random() < 0.2:
            letters.put_over(spot / "shop" / "sheets" / f"{chance.randrange(SHEETS)}.txt")
        else:
            letters.put(spot / inner / f"dropped-{number}.txt")
