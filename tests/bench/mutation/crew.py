"""Workers side by side, each with its own scratch copy; and the one that asks the type check."""

import json
import shutil
import subprocess
import sys
from collections.abc import Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ThreadPoolExecutor, wait
from dataclasses import dataclass
from queue import SimpleQueue
from types import TracebackType
from typing import Any, Self

from tests.bench.mutation.mutants import Mutant
from tests.bench.mutation.reach import TREE, Chosen
from tests.bench.mutation.scratch import environment, make_scratch, start
from tests.bench.mutation.worker import FAILED, PASSED, TIMED_OUT

__all__ = ("FAILED", "PASSED", "TIMED_OUT", "Crew", "Tried", "TypeCheck")

CHECKED = ("parametric", "nesting", "export", "casewright")


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """What came of a fault: the test that noticed it, or that ran last."""

    mutant: Mutant
    chosen: Chosen
    outcome: str
    by: str


class Crew:
    """Workers that try faults; to be used in a `with`, which removes their folders at the end."""

    def __init__(self, workers: int) -> None:
        self._scratches = [make_scratch() for _ in range(workers)]
        self._pool = ThreadPoolExecutor(workers)
        self._free: SimpleQueue[subprocess.Popen[str]] = SimpleQueue()
        self._all = [start(one, ["-m", "tests.bench.mutation.worker"]) for one in self._scratches]
        for process in self._all:
            self._free.put(process)
        self._workers = workers

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        for process in self._all:
            if error is not None:
                process.kill()
            process.communicate()
        self._pool.shutdown(cancel_futures=True)
        for scratch in self._scratches:
            shutil.rmtree(scratch, ignore_errors=True)

    def tried(self, work: Iterable[tuple[Mutant, Chosen]]) -> Iterator[Tried]:
        """Yield what came of each fault, as they end; more are drawn while the workers are busy."""
        waiting: set[Future[Tried]] = set()
        for number, (mutant, chosen) in enumerate(work, start=1):
            waiting.add(self._pool.submit(self._try, mutant, chosen, number))
            if len(waiting) > 2 * self._workers:
                done, waiting = wait(waiting, return_when=FIRST_COMPLETED)
                yield from (one.result() for one in done)
        for one in waiting:
            yield one.result()

    def _try(self, mutant: Mutant, chosen: Chosen, number: int) -> Tried:
        said = self._asked(
            file=mutant.file,
            code=mutant.code,
            number=number,
            tests=chosen.tests,
            seconds=chosen.seconds,
        )
        return Tried(mutant=mutant, chosen=chosen, outcome=said["outcome"], by=said["by"])

    def passes_unchanged(self, tests: list[str]) -> bool:
        """Return whether the tests pass in a worker's copy as it is."""
        said = self._asked(file="", code="", number=0, tests=tests, seconds=[600.0] * len(tests))
        return bool(said["outcome"] == PASSED)

    def _asked(self, **task: object) -> dict[str, Any]:
        process = self._free.get()
        try:
            assert process.stdin is not None and process.stdout is not None
            process.stdin.write(json.dumps(task) + "\n")
            process.stdin.flush()
            line = process.stdout.readline()
            if not line:
                # The fault took the whole run down with it, which nobody overlooks.
                process.kill()
                process = self._begun()
                return {"outcome": FAILED, "by": "the run of the tests ended"}
            answer: dict[str, Any] = json.loads(line)
            return answer
        finally:
            self._free.put(process)

    def _begun(self) -> "subprocess.Popen[str]":
        scratch = make_scratch()
        self._scratches.append(scratch)
        process = start(scratch, ["-m", "tests.bench.mutation.worker"])
        self._all.append(process)
        return process


class TypeCheck:
    """The gate's type check, kept warm in a scratch copy: does it refuse a fault?

    What it refuses is no question to the tests: such a fault never gets as far.
    """

    def __init__(self) -> None:
        self._scratch = make_scratch()
        self._starts = 0
        self._start()

    def _start(self) -> None:
        self._starts += 1
        if not self._passes("run", "--", *CHECKED):
            self.close()
            raise RuntimeError("the type check refuses the tree as it is")

    def refuses(self, mutant: Mutant) -> bool:
        path = self._scratch / TREE / mutant.file
        kept = path.read_text(encoding="utf-8")
        path.write_text(mutant.code, encoding="utf-8")
        try:
            passes = self._passes("recheck")
        except RuntimeError:
            passes = False  # the checker itself ends at it, as it would in the gate
        finally:
            path.write_text(kept, encoding="utf-8")
        # A server that ended, or holds on to an error that is gone, would refuse all that follow.
        if not passes and not self._sound():
            print(f"  a new server for the type check after {mutant.file}", flush=True)
            self._mypy("kill")
            self._start()
        return not passes

    def _sound(self) -> bool:
        try:
            return self._passes("recheck")
        except RuntimeError:
            return False

    def close(self) -> None:
        self._mypy("stop")
        shutil.rmtree(self._scratch, ignore_errors=True)

    def _passes(self, *arguments: str) -> bool:
        """Return what mypy says.

        Raises:
            RuntimeError: mypy itself failed.
        """
        said = self._mypy(*arguments)
        if said.returncode not in (0, 1):
            raise RuntimeError(
                f"the type check ended with {said.returncode}: {said.stdout}{said.stderr}"
            )
        return said.returncode == 0

    def _mypy(self, *arguments: str) -> subprocess.CompletedProcess[str]:
        status = ["--status-file", str(self._scratch / f"status-{self._starts}.json")]
        return subprocess.run(
            [sys.executable, "-m", "mypy.dmypy", *status, *arguments],
            cwd=self._scratch / TREE,
            env=environment(self._scratch),
            capture_output=True,
            text=True,
            check=False,
        )
