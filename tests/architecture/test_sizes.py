"""No file and no function is longer than a reader takes in at once."""

import ast
from collections.abc import Iterator
from pathlib import Path
from textwrap import indent

import pytest

ROOT = Path(__file__).parents[2]
PACKAGES = ("casewright", "export", "parametric", "nesting")
MOST_LINES = 400
MOST_LINES_OF_A_FUNCTION = 60
KERNELS = ROOT / "nesting" / "kernels"  # compiled: a call in a hot loop costs, arrays are lent


def modules() -> list[Path]:
    found = [path for package in PACKAGES for path in (ROOT / package).rglob("*.py")]
    assert len(found) > 300
    return found


def named(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def too_long(text: str) -> Iterator[str]:
    """Yield the functions, methods and inner ones too, that have more lines than allowed, without
    their decorators.
    """
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            lines = (node.end_lineno or 0) - node.lineno + 1
            if lines > MOST_LINES_OF_A_FUNCTION:
                yield f"{node.name}: {lines} lines"


@pytest.mark.parametrize("path", modules(), ids=named)
def test_files_and_functions_are_short(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= MOST_LINES
    assert KERNELS in path.parents or list(too_long(text)) == []


@pytest.mark.parametrize(("lines", "found"), [(60, []), (61, ["work: 61 lines"])])
def test_a_long_function_is_seen_wherever_it_stands(lines: int, found: list[str]) -> None:
    function = "@decorated\ndef work():\n" + "    pass\n" * (lines - 1)
    method = "class Desk:\n" + indent(function, "    ")
    assert list(too_long(function)) == list(too_long(method)) == found
