"""Independent searches on any executor: the answer does not depend on who runs them."""

import multiprocessing
import pickle
from concurrent.futures import Executor, ProcessPoolExecutor, ThreadPoolExecutor
from contextlib import contextmanager

import pytest
from distributed import Client, LocalCluster
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.answer.solution import Solution, StopReason
from nesting.answer.verify import violations
from nesting.question.instance import Instance
from nesting.search.independent import Elsewhere
from nesting.search.watch import Standing
from nesting.solve import solve
from tests.nesting.random_nests import SAWS, instances
from tests.nesting.room_job import room_job
from tests.nesting.small_efforts import AS_FOUND, SmallEffort


def answer(instance: Instance, seed: int, executor: Executor | None = None) -> Solution:
    return solve(instance, seed=seed, effort=SmallEffort.SEVERAL, executor=executor)


def shown(instance: Instance, seed: int) -> str:
    return repr(answer(instance, seed))


def processes(workers: int) -> ProcessPoolExecutor:
    """Processes started afresh: nothing is inherited but what travels to them."""
    return ProcessPoolExecutor(workers, multiprocessing.get_context("spawn"))


@contextmanager
def dask(workers: int):
    """A local Dask cluster in threads of this process, as an executor."""
    with (
        LocalCluster(
            n_workers=workers,
            threads_per_worker=1,
            processes=False,
            dashboard_address=None,
        ) as cluster,
        Client(cluster) as client,
        client.get_executor() as executor,
    ):
        yield executor


EXECUTORS = {"threads": ThreadPoolExecutor, "processes": processes, "Dask": dask}


@pytest.fixture(scope="module")
def two_processes():
    with processes(2) as executor:
        yield executor


@pytest.mark.parametrize("workers", [1, 2])
@pytest.mark.parametrize("kind", EXECUTORS)
def test_an_executor_of_any_kind_and_size_gives_the_same_answer(kind, workers):
    job = room_job(10)
    with EXECUTORS[kind](workers) as executor:
        assert answer(job, 5, executor) == answer(job, 5)


@given(instances(most_item_types=6, saws=st.none() | SAWS), st.integers(0, 99))
@settings(max_examples=6, phases=AS_FOUND)
def test_random_questions_have_one_answer_on_threads_and_in_other_processes(
    two_processes, instance, seed
):
    alone = answer(instance, seed)
    with ThreadPoolExecutor(2) as threads:
        assert answer(instance, seed, threads) == alone
    assert answer(instance, seed, two_processes) == alone
    assert two_processes.submit(shown, instance, seed).result() == repr(alone)


class Counted(ThreadPoolExecutor):
    """Counts what it is given."""

    def __init__(self) -> None:
        super().__init__(1)
        self.seeds: list[int] = []
        self.watchers: list[Elsewhere] = []

    def submit(self, fn, /, *args, **kwargs):
        self.seeds.append(args[0].seed)
        self.watchers.append(args[1])
        return super().submit(fn, *args, **kwargs)


def test_all_searches_but_the_first_go_to_the_executor_with_seeds_of_their_own():
    with Counted() as executor:
        answer(room_job(4), 5, executor)
    assert len(executor.seeds) == len({5, *executor.seeds}) - 1 == 2


def test_a_cancel_reaches_the_searches_on_threads():
    with Counted() as executor:
        solve(room_job(10), effort=SmallEffort.SEVERAL, watcher=OnceToldOf(), executor=executor)
        assert [watcher.cancelled() for watcher in executor.watchers] == [True, True]


def test_a_search_in_another_process_is_watched_by_nobody():
    watcher = Elsewhere()
    watcher.cancel()
    assert watcher.cancelled()
    assert not pickle.loads(pickle.dumps(watcher)).cancelled()


class OnceToldOf:
    """Cancels as soon as there is an answer."""

    def __init__(self) -> None:
        self.told = False

    def standing(self, standing: Standing) -> None:
        self.told = True

    def cancelled(self) -> bool:
        return self.told


@pytest.mark.parametrize("shared", ["alone", "on an executor"])
def test_a_cancelled_nest_of_several_searches_has_an_answer(shared):
    job = room_job(10)
    with ThreadPoolExecutor(1) as pool:
        solution = solve(
            job,
            effort=SmallEffort.SEVERAL,
            watcher=OnceToldOf(),
            executor=pool if shared == "on an executor" else None,
        )
    assert violations(job, solution) == ()
    assert solution.stop is StopReason.CANCELLED
