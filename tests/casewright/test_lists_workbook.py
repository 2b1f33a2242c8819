"""The workbook of lists, read back by openpyxl: it holds what the tables hold."""

import csv
import io

import openpyxl
import pytest

from casewright.entries.list_books import SHEETS
from casewright.entries.registry import ENTRIES
from export.tables.csv_cell import read_cell
from export.tables.csv_text import csv_text
from export.tables.lists_workbook import ListSheet, lists_xlsx
from tests.casewright.build_fixtures import outcome_of


@pytest.fixture(scope="module")
def files() -> dict[str, bytes]:
    return {str(path): content for path, content in outcome_of("keepers-room").files.items()}


def test_every_list_is_a_sheet_and_holds_the_same(files: dict[str, bytes]) -> None:
    book = openpyxl.load_workbook(io.BytesIO(files["shop/lists.xlsx"]))
    paths = {entry.role: entry.path for entry in ENTRIES}
    wanted = {name: paths[role] for role, name in SHEETS.items() if paths[role] in files}
    assert book.sheetnames == list(wanted)
    for name, path in wanted.items():
        rows = list(csv.reader(io.StringIO(files[path].decode())))
        shown = [[cell.value for cell in row] for row in book[name].iter_rows()]
        assert [head.replace("_", " ") for head in rows[0]] == shown[0]
        assert len(rows) == len(shown)
        for row, cells in zip(rows[1:], shown[1:], strict=True):
            for text, cell in zip(row, cells, strict=True):
                if isinstance(cell, int | float):
                    assert float(text) == pytest.approx(cell, abs=1e-9)
                else:
                    assert read_cell(text) == (cell or "")


def test_numbers_are_numbers_and_texts_stay_texts() -> None:
    table = csv_text(("part", "quantity", "length_mm"), [("=1+1", 3, 12.5), ("007", "", "x")])
    book = openpyxl.load_workbook(io.BytesIO(lists_xlsx([ListSheet(name="One", table=table)])))
    rows = [[cell.value for cell in row] for row in book["One"].iter_rows()]
    assert rows[1:] == [["=1+1", 3, 12.5], ["007", None, "x"]]
    assert book["One"]["A2"].data_type == "s"


def test_an_empty_list_is_a_sheet_with_heads() -> None:
    table = csv_text(("part", "quantity"), [])
    made = lists_xlsx([ListSheet(name="None", table=table)])
    assert [c.value for c in openpyxl.load_workbook(io.BytesIO(made))["None"][1]] == [
        "part",
        "quantity",
    ]
    assert made == lists_xlsx([ListSheet(name="None", table=table)])
