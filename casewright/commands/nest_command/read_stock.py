"""The file of stock: what the pieces are cut from; and the file of its defects.

Stock has the columns `stock`, `length`, `width`, `quantity` (blank: as many as are needed) and
`price` for one sheet; `kind` (sheet or remnant), `material` and
`thickness` may be left out. Prices stand in every row of a
sheet or in none: then sheets count by their area, 1 for each square metre. Remnants are paid for,
so they need no price, but a quantity.

Defects have the columns `stock`, `x`, `y`, `length` and `width`: a rectangle that no piece may
touch, from the lower left corner of each sheet of that stock.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from enum import StrEnum
from fractions import Fraction
from itertools import chain
from pathlib import Path
from typing import NamedTuple

from casewright.commands.nest_command.cells import Cells, Reading
from casewright.commands.nest_command.material_name import MaterialName, read_material
from casewright.intake.csv_table import Columns, CsvFile, Row, read_rows
from casewright.intake.document import shown
from casewright.intake.entry import LengthIn
from casewright.intake.nearest import one_of
from nesting.question.instance import Defect, Stock, StockKind
from nesting.question.ticks import to_mm
from parametric.stock.lengths import show_length

COLUMNS = Columns(
    needed=("stock", "length", "width", "quantity", "price"),
    optional=("kind", "material", "thickness"),
    texts=("stock", "material"),
    known_as={
        "length": ("length_mm", "length_in"),
        "width": ("width_mm", "width_in"),
        "thickness": ("thickness_mm", "thickness_in"),
    },
)
DEFECT_COLUMNS = Columns(needed=("stock", "x", "y", "length", "width"), texts=("stock",))
SIDE = LengthIn(1, 100_000, "A side of a sheet.")
PLACE = LengthIn(0, 100_000, "A distance from the sheet's lower left corner.")
DEFECT_SIDE = LengthIn(0.1, 100_000, "A side of a defect.")
MOST_SHEETS = 1_000_000
_SQUARE_METRE_MM2 = 1_000_000


class Prices(StrEnum):
    """What the prices of an answer are."""

    GIVEN = "as given"
    AREA = "by area, 1 for each square metre"


class StockRow(NamedTuple):
    """A stock, the file and line it stands in, and of which material it is."""

    file: Path
    line: int
    stock: Stock
    material: MaterialName


class StockList(NamedTuple):
    """All stock, and what its prices are."""

    rows: tuple[StockRow, ...]
    prices: Prices


def read_stock(paths: Iterable[Path], reading: Reading) -> StockList:
    """Return the stock of all files in their order, after telling their faults to `reading`.

    A stock is named once in all of them, and priced in all or in none.
    """
    files = [CsvFile(path, reading.faults) for path in paths]
    listed = [(file, read_rows(file, COLUMNS)) for file in files]
    given = any(row.cells["price"] for _, rows in listed for row in rows)
    prices = Prices.GIVEN if given else Prices.AREA
    lines: dict[str, tuple[Path, int]] = {}
    stocks = (_stocks(rows, prices, reading, file, lines) for file, rows in listed)
    return StockList(tuple(chain.from_iterable(stocks)), prices)


def with_defects(path: Path, stock: StockList, reading: Reading) -> tuple[StockRow, ...]:
    """Return the stock with the defects of the file, after telling its faults to `reading`."""
    file = CsvFile(path, reading.faults)
    stocks = {row.stock.id: row.stock for row in stock.rows}
    defects: defaultdict[str, list[Defect]] = defaultdict(list)
    for row in read_rows(file, DEFECT_COLUMNS):
        if file.given_up:
            break
        name = row.cells["stock"]
        if name not in stocks:
            file.fault(row.line, "stock", shown(name), one_of(stocks, name, what="stock"))
            continue
        defect = _defect(Cells(row, file), stocks[name], reading)
        if defect is not None:
            defects[name].append(defect)
    return tuple(
        row._replace(stock=replace(row.stock, defects=tuple(defects[row.stock.id])))
        for row in stock.rows
    )


def _stocks(
    rows: Iterable[Row],
    prices: Prices,
    reading: Reading,
    file: CsvFile,
    lines: dict[str, tuple[Path, int]],
) -> Iterator[StockRow]:
    for row in rows:
        if file.given_up:
            return
        cells = Cells(row, file)
        name = cells.name("stock", lines)
        length = cells.length_mm("length", SIDE, reading.units)
        width = cells.length_mm("width", SIDE, reading.units)
        kind = cells.word("kind", tuple(StockKind), blank=StockKind.SHEET)
        quantity = _quantity(cells, kind)
        price = _price(cells, kind, prices)
        material = read_material(cells, reading)
        if name is None or length is None or width is None or kind is None:
            continue
        if quantity is None or price is None or material is None:
            continue
        if prices is Prices.AREA:
            price = float(length * width / _SQUARE_METRE_MM2)
        stock = Stock(
            id=name,
            length=reading.grid.sheet(length),
            width=reading.grid.sheet(width),
            price=price,
            on_hand=int(row.cells["quantity"]) if row.cells["quantity"] else None,
            kind=StockKind(kind),
        )
        yield StockRow(file.path, row.line, stock, material)


def _quantity(cells: Cells, kind: str | None) -> int | None:
    if kind == StockKind.REMNANT:
        return cells.whole("quantity", 0, MOST_SHEETS)
    return cells.whole("quantity", 0, MOST_SHEETS, blank="as many as are needed")


def _price(cells: Cells, kind: str | None, prices: Prices) -> float | None:
    if cells.row.cells["price"]:
        return cells.price("price")
    if prices is Prices.GIVEN and kind == StockKind.SHEET:
        cells.fault("price", "nothing", "a price in every row of a sheet, or in none")
        return None
    return 0.0


def _defect(cells: Cells, stock: Stock, reading: Reading) -> Defect | None:
    """Return the defect in whole ticks, never smaller than it is."""
    sides = {"x": PLACE, "y": PLACE, "length": DEFECT_SIDE, "width": DEFECT_SIDE}
    lengths = {
        name: cells.length_mm(name, allowed, reading.units) for name, allowed in sides.items()
    }
    known = {name: length for name, length in lengths.items() if length is not None}
    if len(known) < len(lengths):
        return None
    found = len(cells.file.faults)
    x0, x1 = _reach(cells, known, ("x", "length"), stock.length, reading)
    y0, y1 = _reach(cells, known, ("y", "width"), stock.width, reading)
    if len(cells.file.faults) > found:
        return None
    return Defect(x=x0, y=y0, length=x1 - x0, width=y1 - y0)


def _reach(
    cells: Cells,
    lengths: Mapping[str, Fraction],
    names: tuple[str, str],
    side: int,
    reading: Reading,
) -> tuple[int, int]:
    start, size = (lengths[name] for name in names)
    end = reading.grid.gap(start + size)
    # A sheet is rounded down, so a defect up to its very edge may seem to go beyond.
    if end > side + 1:
        found = f"{show_length(float(start + size), reading.units)} from {names[0]} to the far side"
        cells.fault(
            names[1], found, f"at most the sheet's {show_length(to_mm(side), reading.units)}"
        )
    return reading.grid.sheet(start), min(end, side)
