"""Reckons the few forms of formulas that our workbooks have, in decimals, sharing nothing with what
writes them: sums, products, quotients, ROUND, SUM, IF of an equality, references.
"""

import io
import re
import shutil
import subprocess
from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Decimal, localcontext
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.utils import range_boundaries
from openpyxl.utils.cell import get_column_letter

At = tuple[str, str]
TOKEN = re.compile(
    r"\s*(?:(?P<number>\d+(?:\.\d+)?)"
    r"|(?P<ref>(?:(?:'(?P<quoted>[^']+)'|(?P<sheet>[A-Za-z]+))!)?"
    r"(?P<cells>\$?[A-Z]+\$?\d+(?::\$?[A-Z]+\$?\d+)?))"
    r"|(?P<name>[A-Z]+)(?=\()|(?P<sign>[-+*/(),=]))"
)


class Reckoner:
    def __init__(self, cells: Mapping[At, Any]) -> None:
        self.cells, self.known = cells, dict[At, Decimal]()

    def value(self, at: At) -> Decimal:
        if at not in self.known:
            cell = self.cells.get(at)
            if isinstance(cell, str) and cell.startswith("="):
                self.known[at] = Formula(self, at[0], cell[1:]).whole()
            elif isinstance(cell, str):
                raise ValueError(f"{at} is a text")
            else:
                self.known[at] = Decimal(0) if cell is None else Decimal(repr(cell))
        return self.known[at]


class Formula:
    def __init__(self, reckoner: Reckoner, sheet: str, text: str) -> None:
        self.reckoner, self.sheet = reckoner, sheet
        self.tokens, at = list[re.Match[str]](), 0
        while at < len(text):
            found = TOKEN.match(text, at)
            if found is None:
                raise ValueError(f"cannot read {text[at:]!r}")
            self.tokens.append(found)
            at = found.end()
        self.next = 0

    def sign(self, *signs: str) -> str | None:
        if self.next < len(self.tokens) and self.tokens[self.next]["sign"] in signs:
            self.next += 1
            return self.tokens[self.next - 1]["sign"]
        return None

    def whole(self) -> Decimal:
        value = self.sum()
        if self.next != len(self.tokens):
            raise ValueError("more than a formula")
        return value

    def sum(self) -> Decimal:
        value = self.product()
        while sign := self.sign("+", "-"):
            value = value + self.product() if sign == "+" else value - self.product()
        return value

    def product(self) -> Decimal:
        value = self.single()
        while sign := self.sign("*", "/"):
            value = value * self.single() if sign == "*" else value / self.single()
        return value

    def single(self) -> Decimal:
        if self.sign("("):
            value = self.sum()
            assert self.sign(")")
            return value
        token = self.tokens[self.next]
        self.next += 1
        if token["number"]:
            return Decimal(token["number"])
        if token["ref"]:
            (value,) = self.values(token)
            return value
        return self.call(token["name"])

    def values(self, token: re.Match[str]) -> list[Decimal]:
        sheet = token["quoted"] or token["sheet"] or self.sheet
        left, top, right, bottom = range_boundaries(token["cells"].replace("$", ""))
        return [
            self.reckoner.value((sheet, f"{get_column_letter(column)}{row}"))
            for row in range(top, bottom + 1)
            for column in range(left, right + 1)
        ]

    def call(self, name: str) -> Decimal:
        assert self.sign("(")
        if name == "SUM":
            value = sum(self.values(self.tokens[self.next]), Decimal(0))
            self.next += 1
        elif name == "ROUND":
            value = self.sum()
            assert self.sign(",")
            value = value.quantize(Decimal(1).scaleb(-int(self.single())), ROUND_HALF_UP)
        elif name == "IF":
            return self.choice()
        else:
            raise ValueError(f"no function {name}")
        assert self.sign(")")
        return value

    def choice(self) -> Decimal:
        left = self.sum()
        assert self.sign("=")
        same = left == self.sum()
        assert self.sign(",")
        first = self.sum()
        assert self.sign(",")
        if same:  # the other one may divide by nothing
            self.next = len(self.tokens)
            return first
        second = self.sum()
        assert self.sign(")")
        return second


def recalculated(content: bytes, changed: Mapping[At, Decimal] | None = None) -> dict[At, Decimal]:
    """Return what the formulas of a workbook give, some of its cells changed before."""
    book = openpyxl.load_workbook(io.BytesIO(content))
    found = [(s.title, c) for s in book for row in s.iter_rows() for c in row]
    cells = {(title, cell.coordinate): cell.value for title, cell in found}
    formulas = [(title, cell.coordinate) for title, cell in found if cell.data_type == "f"]
    for at, value in (changed or {}).items():
        cells[at] = float(value)
    reckoner = Reckoner(cells)
    with localcontext() as context:
        context.prec = 50
        return {at: reckoner.value(at) for at in formulas}


def cached(content: bytes) -> dict[At, object]:
    """Return what stands in the cells, of formulas what was reckoned when they were written."""
    book = openpyxl.load_workbook(io.BytesIO(content), data_only=True)
    return {
        (sheet.title, cell.coordinate): cell.value
        for sheet in book
        for row in sheet.iter_rows()
        for cell in row
        if cell.value is not None
    }


needs_libreoffice = pytest.mark.skipif(
    shutil.which("soffice") is None,
    reason="LibreOffice (Debian: libreoffice-calc) is not installed",
)


def through_libreoffice(content: bytes, folder: Path) -> dict[At, object]:
    """What LibreOffice reckons: openpyxl writes formulas without values, so it has to."""
    bare, out = folder / "bare.xlsx", folder / "out"
    openpyxl.load_workbook(io.BytesIO(content)).save(bare)
    left = cached(bare.read_bytes())
    assert not any(at in left for at in recalculated(content))
    home = f"-env:UserInstallation=file://{folder.as_posix()}/home"
    asked = ["--headless", "--convert-to", "xlsx", "--outdir", str(out), str(bare)]
    subprocess.run(["soffice", home, *asked], check=True, capture_output=True, timeout=180)
    return cached((out / "bare.xlsx").read_bytes())
