import pytest

from parametric.geometry.hand import Hand
from parametric.sets.room_set import build_set
from parametric.solids.set_model import SetModel, model_set
from tests.example_set import CONSTRUCTION, ROUTING, TRIM_MM, set_sizes


@pytest.fixture(scope="session")
def models() -> dict[Hand, SetModel]:
    """The example set in both hands."""
    return {
        hand: model_set(build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM), ROUTING)
        for hand in Hand
    }
