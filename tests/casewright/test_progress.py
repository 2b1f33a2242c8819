"""One progress: it counts on any thread, and any thread may end the work."""

import threading
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest

from casewright.intake.read_job import read_job
from casewright.job import Job
from casewright.pipeline import build
from casewright.progress import Cancelled, Counted, Listener, Progress
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.nested import nest_run
from casewright.stages.nested.nest_run import nest_what_fits
from casewright.stages.openings.opening_sheets import SheetCount
from casewright.stages.sets.check_stage import check
from nesting.answer.solution import Solution, StopReason
from nesting.question.errors import StoppedTooEarly
from nesting.question.instance import Instance
from nesting.question.settings import Effort
from nesting.search.watch import Watcher
from parametric.lists.cut_list import CutList
from tests.casewright.build_fixtures import CONFIGS

QUICK = NestSettings(effort=Effort.QUICK)
SECONDS = 60.0


class Told(Listener):
    """Keeps the names of stages and steps, and does something at each of them."""

    def __init__(self) -> None:
        self.lines: list[str] = []

    def stage(self, name: str, steps: int) -> None:
        self.lines.append(name)

    def step(self, what: str) -> None:
        self.lines.append(what)


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(CONFIGS / "keepers-room.yaml")


@pytest.fixture(scope="module")
def cut_list(job: Job) -> CutList:
    return check(job).cut_list


def test_it_counts_the_steps_of_the_stage_at_hand() -> None:
    progress = Progress()
    assert progress.counted == Counted()
    progress.stage("sets", 2)
    progress.step("one")
    assert progress.counted == Counted(stage="sets", steps=2, done=1, what="one")
    progress.stage("nests", 0)
    assert progress.counted == Counted(stage="nests")


def test_no_step_of_any_thread_is_lost() -> None:
    progress = Progress()
    progress.stage("steps", 4000)
    with ThreadPoolExecutor(8) as pool:
        for _ in range(8):
            pool.submit(lambda: [progress.step("step") for _ in range(500)])
    assert progress.counted.done == 4000


def test_a_listener_hears_what_is_counted() -> None:
    told = Told()
    progress = Progress(told)
    progress.stage("sets", 1)
    progress.step("one")
    progress.note("not counted")
    progress.unheard().stage("a part", 1)
    assert told.lines == ["sets", "one"]


def test_enough_is_not_cancelled_and_cancelled_is_enough() -> None:
    progress = Progress()
    progress.enough()
    assert (progress.has_enough, progress.is_cancelled) == (True, False)
    progress.step("goes on")
    other = Progress()
    other.cancel()
    assert (other.has_enough, other.is_cancelled) == (True, True)


def test_the_next_step_of_cancelled_work_ends_it() -> None:
    progress = Progress()
    progress.stage("sets", 2)
    cancelling = threading.Thread(target=progress.cancel)
    cancelling.start()
    cancelling.join()
    for go_on in (lambda: progress.step("one"), lambda: progress.stage("nests", 1)):
        with pytest.raises(Cancelled):
            go_on()
    with pytest.raises(Cancelled):
        progress.unheard().go_on()


def test_it_knows_whether_it_searches() -> None:
    progress = Progress()
    assert not progress.is_searching
    with pytest.raises(KeyError), progress.searching():
        assert progress.unheard().is_searching
        raise KeyError
    assert not progress.is_searching


def test_a_build_is_cancelled_from_another_thread(job: Job) -> None:
    """The thread that builds waits at its first step until another one has cancelled it."""
    at_work, cancelled = threading.Event(), threading.Event()

    class Waits(Told):
        def step(self, what: str) -> None:
            super().step(what)
            at_work.set()
            assert cancelled.wait(SECONDS)

    told = Waits()
    progress = Progress(told)

    def cancel() -> None:
        assert at_work.wait(SECONDS)
        progress.cancel()
        cancelled.set()

    other = threading.Thread(target=cancel)
    other.start()
    with pytest.raises(Cancelled):
        build(job, progress, QUICK)
    other.join()
    assert len(told.lines) == 2
    assert progress.counted.stage == told.lines[0] == "sets"


def test_nests_end_with_their_best_when_another_thread_has_enough(
    job: Job, cut_list: CutList, monkeypatch: pytest.MonkeyPatch
) -> None:
    searching = threading.Event()
    solve = nest_run.solve

    def watched(instance: Instance, *, watcher: Watcher, **options: object) -> Solution:
        searching.set()
        while not watcher.cancelled():
            pass
        return replace(solve(instance, effort=Effort.QUICK), stop=StopReason.CANCELLED)

    monkeypatch.setattr(nest_run, "solve", watched)
    progress = Progress()
    other = threading.Thread(target=lambda: searching.wait(SECONDS) and progress.enough())
    other.start()
    nests, short = nest_what_fits(cut_list, job.machine, QUICK, progress, job.units)
    other.join()
    assert short == () and {nest.solution.stop for nest in nests} == {StopReason.CANCELLED}
    assert progress.counted.done == progress.counted.steps == len(nests)


def test_cancelled_nests_keep_nothing(
    job: Job, cut_list: CutList, monkeypatch: pytest.MonkeyPatch
) -> None:
    searching = threading.Event()

    def never_done(instance: Instance, *, watcher: Watcher, **options: object) -> Solution:
        searching.set()
        while not watcher.cancelled():
            pass
        raise StoppedTooEarly

    monkeypatch.setattr(nest_run, "solve", never_done)
    progress = Progress()
    other = threading.Thread(target=lambda: searching.wait(SECONDS) and progress.cancel())
    other.start()
    with pytest.raises(Cancelled):
        nest_what_fits(cut_list, job.machine, QUICK, progress, job.units)
    other.join()


def test_sheets_of_openings_heed_the_wishes_of_the_whole(job: Job) -> None:
    progress = Progress()
    progress.cancel()
    with pytest.raises(Cancelled):
        SheetCount(job, QUICK, progress.unheard()).of({})
