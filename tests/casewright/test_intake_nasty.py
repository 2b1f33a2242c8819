"""Texts that a library stumbles over, and sizes beyond their limits: told with file and line."""

import csv
import re
from pathlib import Path

import pytest

from casewright.commands.nest_command import read_pieces
from casewright.commands.nest_command.cells import Reading
from casewright.commands.nest_command.material_name import MaterialName
from casewright.commands.nest_command.read_stock import Prices, StockList, StockRow, with_defects
from casewright.errors import Fault, InputErrors
from casewright.intake import csv_table, read_document
from casewright.intake.document import MOST_FAULTS, Document
from casewright.intake.nearest import one_of
from casewright.intake.read_job import read_job
from casewright.intake.read_kit_list import read_kit_list
from nesting.question.instance import Stock
from nesting.question.ticks import Grid
from parametric.stock.lengths import Units
from tests.casewright.intake_folder import KEEPER, JobFolder, place

HEAD = "piece,length,width,quantity,turn\n"


@pytest.fixture
def folder(tmp_path: Path) -> JobFolder:
    return JobFolder(tmp_path)


def document(tmp_path: Path, text: str) -> tuple[Document | None, list[Fault]]:
    path = tmp_path / "file.yaml"
    path.write_text(text, encoding="utf-8")
    faults: list[Fault] = []
    return read_document.read_document(path, faults), faults


# The last code point is U+10FFFF (The Unicode Standard, chapter 2.4); YAML 1.2.2, chapter 6.8.1,
# lets a reader refuse versions other than its own.
@pytest.mark.parametrize(
    ("text", "line"),
    [
        ('a: 1\nb: "\\UFFFFFFFF"\n', 2),
        ('a: 1\nb: "\\U00110000"\n', 2),
        ('a: 1\nb:\n  c: 1\n  d: "x\\UFFFFFFFF"\ne: 1\n', 4),
        ("%YAML 1.999999999999\n---\na: 1\n", 1),
        ("%YAML 999999999999.1\n---\na: 1\n", 1),
        (f"%YAML {'9' * 5000}.1\n---\na: 1\n", 1),
        ("%YAML 1.0\n---\na: 1\n", 1),
        ("%YAML 1.3\n---\na: 1\n", 1),
        ("# our\n# boards\n%YAML 1.3\n---\na: 1\n", 3),
    ],
)
def test_what_the_yaml_library_stumbles_over_is_told_in_its_line(
    tmp_path: Path, text: str, line: int
) -> None:
    read, (fault,) = document(tmp_path, text)
    assert read is None
    assert fault.line == line
    assert "YAML" in fault.allowed


@pytest.mark.parametrize(
    "number",
    ["9" * 41, "0x" + "f" * 20_000, "-0x" + "f" * 20_000, "0b" + "1" * 90_000, "9" * 100_000,
     "1." + "1" * 5000],
)  # fmt: skip
def test_a_number_too_long_to_be_written_again_is_told(folder: JobFolder, number: str) -> None:
    line = folder.replace(f"{KEEPER}.yaml", "base_height: 340", f"base_height: {number}")
    fault = folder.fault(KEEPER)
    assert place(fault) == (f"{KEEPER}.yaml", line, "sets.keeper.base_height")
    assert number[:20] in fault.found
    assert len(str(fault)) < 500


def test_sixtieths_without_end_are_told(folder: JobFolder) -> None:
    folder.replace(f"{KEEPER}.yaml", "base_height: 340", f"base_height: {'1:' * 9000}1")
    folder.replace(f"{KEEPER}.yaml", "", "%YAML 1.1\n---\n")
    assert folder.fault(KEEPER).key_path == "sets.keeper.base_height"


@pytest.mark.parametrize("key", ["[key]", "machine by file", "machine in place"])
def test_keys_that_look_like_the_validators_own_words_are_unknown_keys(
    folder: JobFolder, key: str
) -> None:
    folder.replace(f"{KEEPER}.yaml", "units: mm", f'units: mm\n"{key}": 1')
    fault = folder.fault(KEEPER)
    assert (fault.key_path, fault.found) == (key, "an unknown key")


def test_a_set_may_not_be_called_key(folder: JobFolder) -> None:
    line = folder.replace(f"{KEEPER}.yaml", "\nsets:\n", '\nsets:\n  "[key]": 5\n')
    told = {(f.line, f.key_path, f.found) for f in folder.faults(KEEPER)}
    assert (line + 2, "sets.[key]", "the name '[key]'") in told
    assert (line + 2, "sets.[key]", "5") in told


def test_an_anchor_set_anew_is_no_noise(tmp_path: Path, recwarn: pytest.WarningsRecorder) -> None:
    read, faults = document(tmp_path, "a: &x 1\nb: &x 2\nc: *x\n")
    assert read is not None
    assert (read.data["c"], faults) == (2, [])
    assert not recwarn.list


@pytest.mark.parametrize(
    ("text", "line", "column", "found"),
    [
        ("# a note\n\n- a list\n", 3, 1, "a list"),
        ("# a note\n  a word\n", 2, 3, "'a word'"),
        ("\n\n", 1, None, "an empty file"),
        ("# a note\n", 1, None, "an empty file"),
        # The library says no place of a version that it does not know.
        ("# a note\n\n%YAML 1.3\n---\na: 1\n", 3, None, "another version of YAML"),
    ],
)
def test_what_is_no_map_is_told_where_it_stands(
    tmp_path: Path, text: str, line: int, column: int | None, found: str
) -> None:
    read, (fault,) = document(tmp_path, text)
    assert read is None
    assert (fault.line, fault.column, fault.found) == (line, column, found)


def test_the_depth_of_a_file_is_limited_where_it_is_too_deep(tmp_path: Path) -> None:
    deepest = read_document.DEEPEST
    fits = "".join(f"{' ' * level}k:\n" for level in range(deepest - 1))
    fits += " " * (deepest - 1) + "k: 1\n"
    assert document(tmp_path, fits)[1] == []
    read, (fault,) = document(tmp_path, fits.replace("k: 1", "k:") + " " * deepest + "l: 1\n")
    assert read is None
    assert fault.line == deepest + 1
    assert fault.found == f"lists or maps nested too deep, {deepest + 1} in each other"
    assert fault.allowed == f"at most {deepest} lists or maps in each other"
    # As many as are allowed, and the one that is too many.
    assert fault.found == f"lists or maps nested too deep, {deepest + 1} in each other"
    assert document(tmp_path, "a: " + "[" * 100_000)[1][0].allowed == fault.allowed


def test_the_values_of_a_file_are_limited_and_the_limit_is_allowed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(read_document, "MOST_VALUES", 10)
    assert document(tmp_path, f"a: [{', '.join('x' * 9)}]")[1] == []
    for text in (f"a: [{', '.join('x' * 10)}]", "a: &a [1, 2, 3, 4]\nb: [*a, *a]\n"):
        _, faults = document(tmp_path, text)
        assert [fault.found for fault in faults] == [f"more than {20_000} values"]


def pieces(tmp_path: Path, text: str) -> tuple[int, list[Fault]]:
    path = tmp_path / "pieces.csv"
    path.write_text(text, encoding="utf-8")
    faults: list[Fault] = []
    listed = read_pieces.read_pieces(path, Reading(Units.MM, Grid(), faults))
    return sum(map(len, listed.materials.values())), faults


def test_the_rows_of_a_table_are_limited_and_the_limit_is_allowed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A hundred thousand, which are more than any job has: common practice, no source."""
    assert csv_table.MOST_ROWS == 100_000
    monkeypatch.setattr(csv_table, "MOST_ROWS", 3)
    rows = [f"p{number},500,300,1,no\n" for number in range(4)]
    assert pieces(tmp_path, HEAD + "".join(rows[:3])) == (3, [])
    count, (fault,) = pieces(tmp_path, HEAD + "".join(rows))
    assert (count, fault.line, fault.allowed) == (0, 5, "at most 3 rows")


def test_more_rows_than_a_hundred_thousand_are_refused(tmp_path: Path) -> None:
    """The limit in figures, as it is told: the row after the hundred thousandth is one too many."""
    count, (fault,) = pieces(tmp_path, HEAD + "p,500,300,1,no\n" * 100_001)
    assert (count, fault.line) == (0, 100_002)
    assert (fault.found, fault.allowed) == ("more than 100000 rows", "at most 100000 rows")


def test_the_pieces_of_a_list_are_limited_in_all(tmp_path: Path) -> None:
    rows = [f"p{number},500,300,1000000,no\n" for number in range(10)]
    assert pieces(tmp_path, HEAD + "".join(rows)) == (10, [])
    _, (fault,) = pieces(tmp_path, HEAD + "".join(rows) + "last,500,300,1,no\n")
    assert (fault.line, fault.key_path) == (12, "quantity")
    assert fault.found == "10000001 pieces up to this row"
    assert fault.allowed == "at most 10000000 in a list"


def test_a_quote_that_is_never_closed_is_told_by_its_limit(tmp_path: Path) -> None:
    text = HEAD + 'p,500,300,1,no\n"p2,500,300,1,no\n' + "p,500,300,1,no\n" * 10_000
    _, (fault,) = pieces(tmp_path, text)
    assert (fault.line, fault.found) == (
        3,
        f"a cell of more than {csv.field_size_limit()} characters",
    )
    assert "quotes in pairs" in fault.allowed


@pytest.mark.parametrize("row", [0, 1])
def test_cells_without_end_are_told(tmp_path: Path, row: int) -> None:
    lines = [HEAD.strip(), "p,500,300,1,no"]
    lines[row] += "," * 100_000
    _, (fault,) = pieces(tmp_path, "\n".join(lines))
    assert (fault.line, fault.found) == (row + 1, "100005 cells in a row")
    assert fault.allowed == "at most 100"


def test_faults_are_told_up_to_a_limit_that_is_told(tmp_path: Path) -> None:
    _, faults = pieces(tmp_path, HEAD + "p,500,300,none,no\n" * (MOST_FAULTS + 100))
    assert len(faults) == MOST_FAULTS + 1
    assert faults[-1].found == f"more than {MOST_FAULTS} faults"
    # The header and a row for each that is told; no column alone is to blame.
    assert (faults[-1].line, faults[-1].key_path) == (MOST_FAULTS + 2, "")
    assert faults[-1].allowed == "a file without any"


def test_a_stock_that_is_not_there_is_not_compared_with_thousands(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each of many faults would else be held against each of many names."""
    compared: list[int] = []

    def counted(word: str, names: list[str], **_: object) -> list[str]:
        compared.append(len(names))
        return []

    monkeypatch.setattr("casewright.intake.nearest.get_close_matches", counted)
    rows = tuple(
        StockRow(
            tmp_path / "stock.csv",
            n,
            Stock(id=f"s{n}", length=160_000, width=160_000, price=1.0, on_hand=None),
            MaterialName(),
        )
        for n in range(5000)
    )
    (tmp_path / "defects.csv").write_text("stock,x,y,length,width\n" + "none,1,1,1,1\n" * 500)
    faults: list[Fault] = []
    reading = Reading(Units.MM, Grid(), faults)
    with_defects(tmp_path / "defects.csv", StockList(rows, Prices.AREA), reading)
    assert len(faults) == 500
    assert sum(compared) < 500_000


def test_a_name_is_the_same_however_its_accents_are_written(tmp_path: Path) -> None:
    # Canonical equivalence: Unicode Standard Annex 15.
    _, (fault,) = pieces(tmp_path, f"{HEAD}\u00e9,500,300,1,no\ne\u0301,500,301,1,no\n")
    assert (fault.line, fault.key_path) == (3, "piece")
    assert "a second time" in fault.found


@pytest.mark.parametrize("quantity", ["1_000", "nan", "inf", "1e400", "٣", "1e10", "-1", "0x10"])
def test_a_quantity_that_only_python_reads_is_told(tmp_path: Path, quantity: str) -> None:
    path = tmp_path / "kit.csv"
    path.write_text(f"article,quantity\na,{quantity}\n", encoding="utf-8")
    with pytest.raises(InputErrors) as told:
        read_kit_list(path)
    (fault,) = told.value.faults
    assert (fault.line, fault.key_path, fault.found) == (2, "quantity", repr(quantity))


def test_a_line_separator_does_not_hide_the_semicolons_of_a_header(tmp_path: Path) -> None:
    text = "piece\u2028;length;width;quantity;turn\np;500,5;300;1;no\n"
    assert pieces(tmp_path, text) == (1, [])


@pytest.mark.parametrize("name", ["\u202e", "\x1b[31m", "a\u2028b"])
def test_a_name_that_shows_as_something_else_is_listed_by_its_code(name: str) -> None:
    allowed = one_of([name, "plain"], name, what="names")
    assert repr(name) in allowed
    assert "plain" in allowed
    assert allowed.isprintable()


def test_schema_faults_beyond_a_thousand_are_counted(tmp_path: Path) -> None:
    """1250 keys that no job has, and a few that each job needs and this one lacks."""
    unknown = "".join(f"key{number}: 1\n" for number in range(MOST_FAULTS + 250))
    (tmp_path / "job.yaml").write_text(f"job: x\n{unknown}", encoding="utf-8")
    with pytest.raises(InputErrors) as told:
        read_job(tmp_path / "job.yaml")
    assert len(told.value.faults) == MOST_FAULTS + 1
    more = re.fullmatch(r"([0-9]+) more faults", told.value.faults[-1].found)
    assert more is not None
    assert 250 < int(more[1]) < 270
