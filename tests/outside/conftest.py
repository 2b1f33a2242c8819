from pathlib import Path

import pytest

from casewright.job import Job
from tests.casewright.build_fixtures import outcome_of, written
from tests.outside.built_demo import DEMOS, KEEPER, BuiltDemo, built, demo, in_both_hands


@pytest.fixture(scope="session")
def jobs() -> dict[str, Job]:
    """All demo jobs as read, by name."""
    return {name: demo(name) for name in DEMOS}


@pytest.fixture(scope="session")
def keeper(tmp_path_factory: pytest.TempPathFactory) -> BuiltDemo:
    """The smallest demo, built and written as it is; in one process with others that look at it."""
    assert outcome_of(KEEPER).cut_files_written
    return BuiltDemo(job=demo(KEEPER), folder=written(KEEPER, tmp_path_factory.mktemp("keeper")))


@pytest.fixture(scope="session")
def inn(tmp_path_factory: pytest.TempPathFactory) -> BuiltDemo:
    """The smallest demo's set in eight rooms of both hands, so that layouts repeat."""
    folder: Path = tmp_path_factory.mktemp("inn") / "out"
    return built(in_both_hands(demo(KEEPER)), folder)
