from pathlib import Path

import pytest

from tests.casewright.build_fixtures import written


@pytest.fixture(scope="session")
def ship(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The output folder of the survey ship."""
    return written("survey-ship", tmp_path_factory.mktemp("ship"))


@pytest.fixture(scope="session")
def centre(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The output folder of the avalanche centre."""
    return written("avalanche-centre", tmp_path_factory.mktemp("centre"))


@pytest.fixture(scope="session")
def keeper(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The output folder of the keeper's room."""
    return written("keepers-room", tmp_path_factory.mktemp("keeper"))


@pytest.fixture(scope="session")
def station(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The output folder of the field station: units along two walls, a desk, two beds to a room."""
    return written("field-station", tmp_path_factory.mktemp("station"))
