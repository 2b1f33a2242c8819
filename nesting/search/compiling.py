"""Kernels compiled at the first use after an installation: side by side, and a cancel is answered.

The compiler listens to nobody while it works, so it works in processes of its own; what it makes is
kept on disk, where this process then finds it. Where nothing can be kept, kernels are compiled here
one by one, and a cancel is answered in between; where no process can be started, each when it is
first called.
"""

import os
import subprocess
import sys
import threading
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ThreadPoolExecutor, wait
from contextlib import ExitStack, contextmanager, suppress
from queue import SimpleQueue

from nesting.bounds.stopping import Ask
from nesting.kernels.entries import (
    COMPILED,
    ENTRIES,
    SELDOM_CALLED,
    calls,
    compile_entry,
    kept,
    loaded,
)

Tell = Callable[[int, int], object]
"""Takes how many kernels are compiled, and of how many."""

USUAL = tuple(name for name in ENTRIES if name not in SELDOM_CALLED)
"""What nearly every nest calls."""

SERVE = "import sys; sys.path = sys.argv[1:]; from nesting.kernels.entries import serve; serve()"
LOOK_SECONDS = 0.05
"""How often it is asked whether to go on."""
MOST_PROCESSES = 4
"""More would wait for one another."""

_lock = threading.Lock()
_ready: set[str] = set()


def get_ready(names: Iterable[str], ask: Ask, tell: Tell = lambda done, of: None) -> None:
    """Return once these kernels can be called without a wait, as far as that can be had.

    Raises:
        Stopped: `ask` did; whatever is compiled by then is kept.
    """
    wanted = [name for name in names if name not in _ready]
    if not wanted or not COMPILED:
        return
    with _alone(ask):
        missing = [name for name in wanted if not loaded(name)]
        if not kept():
            _compile_here(missing, ask, tell)
        # The program of a bundled application is the application itself, not Python.
        elif missing and sys.executable and not getattr(sys, "frozen", False):
            with suppress(OSError):  # no more processes may be started
                _compile_elsewhere(missing, ask, tell)
        _ready.update(wanted)


@contextmanager
def _alone(ask: Ask) -> Iterator[None]:
    while not _lock.acquire(timeout=LOOK_SECONDS):
        ask()
    try:
        yield
    finally:
        _lock.release()


def _compile_here(names: list[str], ask: Ask, tell: Tell) -> None:
    for done, name in enumerate(names):
        tell(done, len(names))
        ask()
        compile_entry(name)


def _compile_elsewhere(names: list[str], ask: Ask, tell: Tell) -> None:
    """Compile on all cores; a kernel waits for those that it calls, as it takes them in."""
    waiting, running, done = list(names), dict[Future[None], str](), set[str]()
    processes = SimpleQueue[subprocess.Popen[bytes]]()
    count = min(MOST_PROCESSES, _cores(), len(names))
    with ExitStack() as stack:
        threads = stack.enter_context(ThreadPoolExecutor(count))
        for _ in range(count):
            processes.put(stack.enter_context(_process()))
        while waiting or running:
            ready = [name for name in waiting if not calls(name) & {*names} - done]
            for name in ready[: count - len(running)]:
                waiting.remove(name)
                running[threads.submit(_compile_in_one_of, processes, name)] = name
            ended = wait(running, timeout=LOOK_SECONDS, return_when=FIRST_COMPLETED).done
            done.update(running.pop(future) for future in ended)
            tell(len(done), len(names))
            ask()


def _cores() -> int:
    """Return how many cores this process may use, as far as the system tells."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@contextmanager
def _process() -> Iterator[subprocess.Popen[bytes]]:
    """Start a process that compiles; it ends with the block, whatever it does.

    It takes the same files as this one, whatever stands in the working folder.
    """
    with subprocess.Popen(
        [sys.executable, "-c", SERVE, *sys.path],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        bufsize=0,
    ) as process:
        try:
            yield process
        finally:
            process.kill()


def _compile_in_one_of(processes: SimpleQueue[subprocess.Popen[bytes]], name: str) -> None:
    """Wait until the kernel is compiled, or its process has come to an end."""
    process = processes.get()
    with suppress(OSError):
        assert process.stdin is not None
        assert process.stdout is not None
        process.stdin.write(f"{name}\n".encode())
        process.stdout.readline()
    processes.put(process)
