"""The least and the most that a figure may be: both are taken, and what is beyond is told.

The limits are common practice, no source: a spare of everything that is needed is more than anyone
packs, and nothing is packed less than nothing times.
"""

from pathlib import Path

import pytest

from casewright.errors import Fault
from casewright.intake.entry import Entry
from casewright.intake.kit_schema import KitEntry
from casewright.intake.read_document import read_document
from casewright.intake.schema_faults import schema_faults
from parametric.stock.lengths import Units


def faults_of(folder: Path, schema: type[Entry], text: str) -> list[Fault]:
    path = folder / "figures.yaml"
    path.write_text(text, encoding="utf-8")
    faults: list[Fault] = []
    document = read_document(path, faults)
    assert document is not None
    return [*faults, *schema_faults(document, schema, Units.MM)]


# Key, the least, the most, and what lies beyond each.
KIT = [
    ("adhesive_bead", "1", "30", "0.9", "30.1"),
    ("glue_spread", "20", "1000", "19", "1001"),
    ("glue_bottle", "10", "100000", "9", "100001"),
    ("shims_per_fixing", "0", "20", "-1", "21"),
    ("touch_up_per_set", "0", "20", "-1", "21"),
    ("spare_screws_percent", "0", "100", "-0.1", "100.1"),
    ("spare_caps_percent", "0", "100", "-0.1", "100.1"),
    ("spare_adhesive_percent", "0", "100", "-0.1", "100.1"),
    ("spare_shims_percent", "0", "100", "-0.1", "100.1"),
]


@pytest.mark.parametrize(("key", "least", "most", "below", "above"), KIT)
def test_what_goes_into_a_kit(
    tmp_path: Path, key: str, least: str, most: str, below: str, above: str
) -> None:
    for taken in (least, most):
        assert faults_of(tmp_path, KitEntry, f"{key}: {taken}\n") == []
    for beyond, limit in ((below, least), (above, most)):
        (fault,) = faults_of(tmp_path, KitEntry, f"{key}: {beyond}\n")
        assert (fault.line, fault.key_path, fault.found) == (1, key, beyond)
        assert limit in fault.allowed


def test_each_figure_of_a_kit_is_looked_at() -> None:
    others = {"not_supplied", "bought", "adhesive_set_minutes"}
    assert {key for key, *_ in KIT} | others == set(KitEntry.model_fields)
