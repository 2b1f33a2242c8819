"""The tables of the kit command, cell by cell."""

import pytest

from casewright.commands.kit_command import difference_table, kit_table
from parametric.kit.compare import Difference
from tests.casewright.site_example import KIT
from tests.casewright.table_cells import cells_of


@pytest.fixture(autouse=True)
def wide(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "200")


def test_the_table_of_a_kit(capsys: pytest.CaptureFixture[str]) -> None:
    """By hand: what goes into the box is what is needed and what is spare."""
    kit_table(KIT).tell()
    assert cells_of(capsys.readouterr().out.splitlines()) == [
        ["article", "description", "needed", "spare", "packed", "unit", ""],
        ["screw", "No. 8 screw", "40", "4", "44", "pieces", ""],
        ["glue", "adhesive", "280", "30", "310", "ml", ""],
        ["level", "spirit level", "1", "0", "1", "pieces", "not supplied"],
    ]


def test_the_table_of_differences(capsys: pytest.CaptureFixture[str]) -> None:
    """By hand: a list is short of what the joints need, or over; what nobody needs is all over."""

    def line(key: str, description: str, needed: float, listed: float) -> Difference:
        return Difference(
            key=key, description=description, needed=needed, listed=listed, runs_out_at=""
        )

    difference_table(
        (
            line("screw", "No. 8 screw", 40.0, 36.0),
            line("glue", "adhesive", 280.25, 300.0),
            line("cap", "cap", 6.0, 6.0),
            line("washer", "", 0.0, 9.0),
        )
    ).tell()
    assert cells_of(capsys.readouterr().out.splitlines()) == [
        ["article", "description", "needed", "listed", "short", "over"],
        ["screw", "No. 8 screw", "40", "36", "4", ""],
        ["glue", "adhesive", "280.2", "300", "", "19.8"],
        ["cap", "cap", "6", "6", "", ""],
        ["washer", "not needed", "0", "9", "", "9"],
    ]
