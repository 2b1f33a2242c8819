"""The estimate of how much is written, held against what is."""

from pathlib import Path

import pytest

from casewright.commands.nest_command.options import OptionTexts, read_options
from casewright.commands.nest_command.question import Files, read_questions
from casewright.output.size import nest_bytes
from parametric.stock.lengths import Units
from tests.casewright.output.small_output import read
from tests.casewright.output.test_commands import run

LISTS = {
    "few kinds, many of each": [(800, 330, 20_000), (500, 300, 30_000)],
    "many kinds, one of each": [(200 + 7 * i, 150 + 3 * i, 1) for i in range(80)],
    "some of each": [(250 + 31 * i, 180 + 11 * i, 40) for i in range(20)],
}


@pytest.mark.parametrize("way", ["--free", "--edge-to-edge"])
@pytest.mark.parametrize("name", LISTS)
def test_a_nest_writes_about_what_is_expected(below_temporary: Path, name: str, way: str) -> None:
    rows = [f"p{i},{a},{b},{count},yes\n" for i, (a, b, count) in enumerate(LISTS[name])]
    files = Files(pieces=Path("pieces.csv"), stock=(Path("stock.csv"),), defects=None)
    files.pieces.write_text("piece,length,width,quantity,turn\n" + "".join(rows))
    files.stock[0].write_text("stock,length,width,quantity,price\nfull,2440,1220,,49.90\n")
    done = run("nest", files.pieces, files.stock[0], "--gap", "10", "--effort", "quick", way)
    assert done.returncode == 0, done.stderr
    written = sum(map(len, read(below_temporary / "out" / "pieces").values()))
    options = read_options(OptionTexts(units=Units.MM, gap="10"), cores=1)
    expected = nest_bytes(read_questions(files, options).questions[0].instance)
    assert written <= expected <= 4 * written
