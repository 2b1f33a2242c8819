"""The first sheet of a spreadsheet's workbook (XLSX, ISO/IEC 29500) as rows of texts."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable, Iterator
from decimal import Decimal

MOST_UNPACKED_BYTES = 200_000_000
"""Of a workbook: a small file may unpack to any size."""


class NoWorkbook(Exception):
    """What is wrong with the content of a file that should be a workbook."""


def workbook_rows(content: bytes) -> Iterator[tuple[int, list[str]]]:
    """Yield the rows of the first sheet with their numbers, as they are shown without formats.

    Formulas count with the value that the spreadsheet program stored for them.

    Raises:
        NoWorkbook: it is none, it is too large, or it holds a formula without a value.
    """
    import openpyxl  # noqa: PLC0415 - it loads numpy, and few lists are workbooks

    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            unpacked = sum(entry.file_size for entry in packed.infolist())
        if unpacked > MOST_UNPACKED_BYTES:
            raise NoWorkbook(f"{unpacked} bytes when unpacked")
        values = openpyxl.load_workbook(io.BytesIO(content), read_only=True, data_only=True)
        rows = values.worksheets[0].iter_rows(values_only=True)
        for number, cells in enumerate(rows, start=1):
            yield number, list(_texts(cells))
    except NoWorkbook:
        raise
    except Exception as problem:  # whatever a damaged file makes the library stumble over
        raise NoWorkbook(f"no workbook that can be read ({type(problem).__name__})") from problem


def _texts(cells: Iterable[object]) -> Iterator[str]:
    for value in cells:
        if value is None:
            yield ""
        elif isinstance(value, bool):
            yield "yes" if value else "no"
        elif isinstance(value, float):
            # 0.1 + 0.2 was shown as 0.3: spreadsheets keep 15 digits.
            yield f"{Decimal(f'{value:.15g}'):f}"
        else:
            yield str(value)
