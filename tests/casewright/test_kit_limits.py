"""What a job may say about spares: from none to as many again as are needed."""

import pytest
from pydantic import ValidationError

from casewright.intake.entry import length_context
from casewright.intake.kit_schema import KitEntry
from parametric.stock.lengths import Units

KEYS = [f"spare_{what}_percent" for what in ("screws", "caps", "adhesive", "shims")]


@pytest.mark.parametrize("key", KEYS)
def test_spares_go_from_none_to_twice_of_all(key: str) -> None:
    def read(percent: float) -> KitEntry:
        return KitEntry.model_validate({key: percent}, context=length_context(Units.MM))

    for percent in (0.0, 100.0):
        assert getattr(read(percent), key) == percent
    for percent in (-0.01, 100.01):
        with pytest.raises(ValidationError, match=key):
            read(percent)
