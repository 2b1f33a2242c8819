"""What a change of one size costs a person who looks on: fast findings and meshes, exact findings.

    python -m tests.bench.edit          # all demos, exact findings of the first size of the 65 parts
    python -m tests.bench.edit --few    # every tenth size of the demos

On one core, with one room for each set and hand. Each size in turn is made 2 mm larger, or smaller
where that is refused; the peer is the same of a session that has just been loaded, in the same run,
with its libraries loaded and compiled. Sizes that cannot change alone are counted and left out. The
times that are wanted are shown beside; they are no limits, since no machine is as fast as another.
"""

import os
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from statistics import median

from casewright import CasewrightError, Length, Session
from casewright.stages.set_memory import SetMemory
from parametric.sets.composition import sizes_in
from parametric.units.size import Length as LengthAsked
from tests.bench.comparison import Comparison, show_and_exit
from tests.bench.processes import DEMO_JOB

STEP_MM = 2.0
WANTED = {"fast, median": 0.3, "fast, worst": 0.5, "exact": 1.2}  # seconds
LARGE_SET = "queen"
EVERY = 10


@dataclass(frozen=True)
class Changed:
    """One changed size, and the seconds of the change alone and of what was asked then."""

    keys: tuple[str, ...]
    change_s: float
    asked_s: float


def one_room_each(session: Session, only: str = "") -> Session:
    """The session with the first room of each set and hand alone, of one set if it is named."""
    rooms = {(room.set_name, room.hand): room for room in reversed(session.job.rooms)}
    first = tuple(room for room in session.job.rooms if room in rooms.values())
    job = replace(
        session.job, rooms=tuple(room for room in first if only in ("", room.set_name))
    )
    return replace(session, job=job, _memory=SetMemory(job, session._memory))


def seconds(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def fast(session: Session) -> None:
    session.fast_findings()
    session.meshes()


def lengths(session: Session, set_name: str) -> Iterator[tuple[tuple[str, ...], float]]:
    """The sizes of a set by their keys, with what they are now."""
    for sizes in session.job.sets:
        for each in sizes_in(sizes):
            if sizes.name == set_name and isinstance(each.size.asked, LengthAsked):
                if each.value is not None:
                    yield ("sets", sizes.name, *each.keys), each.value


def changes(session: Session, set_name: str, ask: Callable[[Session], object]) -> Iterator[Changed]:
    """Every size of a set changed, each in the session as it is."""
    for keys, value_mm in lengths(session, set_name):
        for step_mm in (STEP_MM, -STEP_MM):
            try:
                start = time.perf_counter()
                whole = session.changed(keys, Length(value_mm + step_mm))
                change_s = time.perf_counter() - start
                changed = replace(
                    one_room_each(whole, set_name),
                    _memory=SetMemory(one_room_each(whole, set_name).job, session._memory),
                )
                yield Changed(keys, change_s, seconds(lambda: ask(changed)))
            except CasewrightError:
                continue
            break
        else:
            yield Changed(keys, 0.0, 0.0)
