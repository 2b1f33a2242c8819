"""What a change of one size costs whoever looks on: fast findings and meshes, exact findings.

    python -m tests.bench.edit          # all sizes of all demos
    python -m tests.bench.edit --few    # every tenth

With one room for each set and hand. Each size in turn is made 2 mm larger, or smaller where that is
refused; sizes that cannot change alone are counted and left out. The peer is the same asked of the
job when it was first loaded, in the same run. Seconds are of one process that computes on one core;
what is wanted of them is printed, and is no limit, since no machine is as fast as another.
"""

import csv
import shutil
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from statistics import median

from threadpoolctl import threadpool_limits

from casewright import CasewrightError, Length, Session
from parametric.sets.composition import sizes_in
from parametric.units.size import Length as LengthAsked
from tests.bench.comparison import Comparison, show_and_exit
from tests.bench.processes import DEMO_JOB
from tests.bench.temporary_room import temporary_room

STEP_MM = 2.0
EVERY = 10
LARGE_SET = "queen"  # 65 parts
EXACT = ("sets", LARGE_SET, "head_wall", "bench", "overhang")
WANTED = "wanted: fast 0.3 s median, 0.5 s worst; exact 1.2 s"


def one_room_each(job: Path, only: str = "") -> Session:
    """The session of a job whose schedule is cut down in place to a room for each set and hand."""
    (schedule,) = job.parent.glob(f"{job.stem}-rooms.csv")
    with schedule.open(newline="", encoding="utf-8") as stream:
        header, *rows = csv.reader(stream)
    at = header.index("set"), header.index("hand")
    first = {tuple(row[n] for n in at): row for row in reversed(rows) if only in ("", row[at[0]])}
    with schedule.open("w", newline="", encoding="utf-8") as stream:
        csv.writer(stream).writerows([header, *first.values()])
    return Session.from_file(job)


def fast_s(session: Session) -> float:
    start = time.perf_counter()
    session.fast_findings()
    session.meshes()
    return time.perf_counter() - start


def exact_s(session: Session) -> float:
    start = time.perf_counter()
    session.exact_findings()
    return time.perf_counter() - start


def lengths(session: Session) -> Iterator[tuple[tuple[str, ...], float]]:
    """The lengths of all sets in use by their keys, with what they are now."""
    used = {room.set_name for room in session.job.rooms}
    for sizes in session.job.sets:
        for each in sizes_in(sizes) if sizes.name in used else ():
            if each.value is not None and isinstance(each.size.asked, LengthAsked):
                yield ("sets", sizes.name, *each.keys), each.value


def changed(session: Session, keys: tuple[str, ...], value_mm: float) -> Session | None:
    """The session with a size a little larger, or smaller; None where neither can be."""
    for step_mm in (STEP_MM, -STEP_MM):
        try:
            return session.changed(keys, Length(value_mm + step_mm))
        except CasewrightError:
            continue
    return None


def changes(session: Session, every: int) -> tuple[list[float], list[float]]:
    """The seconds of each change itself, and of findings and meshes after it."""
    changing, asking, left_out = [], [], 0
    for keys, value_mm in list(dict(lengths(session)).items())[::every]:
        start = time.perf_counter()
        after = changed(session, keys, value_mm)
        changing.append(time.perf_counter() - start)
        if after is None:
            left_out += 1
            continue
        try:
            asking.append(fast_s(after))
        except CasewrightError as error:
            print(f"  {'.'.join(keys)}: {error}")
            left_out += 1
    print(f"  {session.job.name}: {len(asking)} sizes, {left_out} that cannot change alone")
    return changing, asking


def rows(folder: Path, every: int) -> Iterator[Comparison]:
    large = one_room_each(folder / DEMO_JOB.name, LARGE_SET)
    first_s = fast_s(large)
    changing, asking = changes(large, every)
    yield Comparison(f"{LARGE_SET}: the change, median", median(changing), first_s, "s")
    yield Comparison(f"{LARGE_SET}: fast, median", median(asking), first_s, "s")
    yield Comparison(f"{LARGE_SET}: fast, worst", max(asking), first_s, "s")
    first_s = exact_s(large)
    value_mm = dict(lengths(large))[EXACT]
    after = changed(large, EXACT, value_mm)
    if after is None:
        raise SystemExit(f"{'.'.join(EXACT)} cannot change any more")
    yield Comparison(f"{LARGE_SET}: exact", exact_s(after), first_s, "s")
    for original in sorted(DEMO_JOB.parent.glob("*-rooms.csv")):
        shutil.copy(original, folder)
        session = one_room_each(folder / f"{original.stem.removesuffix('-rooms')}.yaml")
        first_s = fast_s(session)
        _, asking = changes(session, every)
        name = original.stem.removesuffix("-rooms")
        yield Comparison(f"{name}: median", median(asking), first_s, "s")
        yield Comparison(f"{name}: worst", max(asking), first_s, "s")


def run() -> None:
    every = EVERY if "--few" in sys.argv[1:] else 1
    with temporary_room("edit") as room, threadpool_limits(1):
        shutil.copytree(DEMO_JOB.parent, room / "configs")
        table = list(rows(room / "configs", every))
    print(WANTED)
    title = "One size changed, one room for each set and hand"
    show_and_exit(title, "changed", "first", table, ("numpy", "scipy", "manifold3d"))


if __name__ == "__main__":
    run()
