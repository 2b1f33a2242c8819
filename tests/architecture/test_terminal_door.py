"""Nothing but one module prints or imports what draws in a terminal; nothing but one writes CSV;
nothing but the command line knows signals.
"""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PACKAGES = ("casewright", "export", "parametric", "nesting")
TERMINAL_DOOR = ROOT / "casewright" / "terminal" / "terminal_text.py"
# What the terminal's door prints to.
STREAMS_DOOR = ROOT / "casewright" / "terminal" / "standard_streams.py"
CHILD = ROOT / "nesting" / "kernels" / "entries.py"  # a process whose output its parent reads
COMMAND_LINE = ROOT / "casewright" / "command_line"
COMMANDS = ROOT / "casewright" / "commands"
TERMINAL = ROOT / "casewright" / "terminal"
SIGNAL_DOORS = {TERMINAL / "interrupt.py", ROOT / "casewright" / "start.py"}
CSV_WRITER = ROOT / "export" / "tables" / "csv_text.py"
CSV_READER = ROOT / "casewright" / "intake" / "csv_table.py"
MARKUP_DOOR = ROOT / "export" / "markup_text.py"
JSON_DOOR = ROOT / "export" / "json_text.py"

PRINTS = {"print", "pprint"}
STREAMS = {"stdout", "stderr", "__stdout__", "__stderr__"}
ECHOES = {"echo", "secho", "echo_via_pager", "print_exc", "print_exception", "print_stack"}


def modules() -> list[Path]:
    found = [path for package in PACKAGES for path in (ROOT / package).rglob("*.py")]
    assert len(found) > 300
    return found


def named(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def imported(tree: ast.AST) -> Iterator[tuple[str, str]]:
    """Yield each module that is imported, and the name that is taken from it."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((name.name, "") for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield from ((node.module or "", name.name) for name in node.names)


def prints(tree: ast.AST) -> Iterator[str]:
    """Yield what in a module reaches the terminal past the door."""
    for module, name in imported(tree):
        if module.partition(".")[0] in {"rich", "pprint", "colorama", "curses"}:
            yield f"import {module}"
        if (module, name) in {("sys", each) for each in STREAMS}:
            yield f"from sys import {name}"
    for node in ast.walk(tree):
        if isinstance(node, ast.Name) and node.id in PRINTS:
            yield node.id
        if isinstance(node, ast.Attribute) and node.attr in ECHOES:
            yield ast.unparse(node)
        if isinstance(node, ast.Attribute) and ast.unparse(node) in {f"sys.{s}" for s in STREAMS}:
            yield ast.unparse(node)
        if isinstance(node, ast.Call) and ast.unparse(node.func) in {"os.write", "open"}:
            yield from (
                ast.unparse(node)
                for first in node.args[:1]
                if isinstance(first, ast.Constant) and first.value in {0, 1, 2, "/dev/tty"}
            )


@pytest.mark.parametrize("path", modules(), ids=named)
def test_only_the_door_reaches_the_terminal(path: Path) -> None:
    found = list(prints(ast.parse(path.read_text(encoding="utf-8"))))
    assert path in {TERMINAL_DOOR, STREAMS_DOOR, CHILD} or found == []


@pytest.mark.parametrize("path", modules(), ids=named)
def test_only_one_module_each_knows_csv_markup_and_json_text(path: Path) -> None:
    of = {module.partition(".")[0] for module, _ in imported(ast.parse(path.read_text("utf-8")))}
    assert "csv" not in of or path in {CSV_WRITER, CSV_READER}
    assert not of & {"html", "xml"} or path == MARKUP_DOOR


@pytest.mark.parametrize("path", modules(), ids=named)
def test_signals_are_known_to_the_command_line_alone(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    of = {module for module, _ in imported(tree)}
    assert "signal" not in of or path in SIGNAL_DOORS
    names = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
    if of & {"casewright.terminal.interrupt"} or "KeyboardInterrupt" in names:
        assert {COMMAND_LINE, COMMANDS, TERMINAL} & set(path.parents)


def test_json_that_is_written_shows_what_steers() -> None:
    writers = [
        path
        for path in modules()
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and ast.unparse(node.func) in {"json.dump", "json.dumps"}
    ]
    assert set(writers) == {JSON_DOOR}


@pytest.mark.parametrize(
    "line",
    [
        "print('x')",
        "from rich.console import Console",
        "import rich.table as t",
        "import sys\nsys.stdout.write('x')",
        "from sys import stderr",
        "import typer\ntyper.echo('x')",
        "import traceback\ntraceback.print_exc()",
        "import os\nos.write(1, b'x')",
    ],
)
def test_every_way_round_the_door_is_seen(line: str) -> None:
    assert list(prints(ast.parse(line)))


def test_the_door_itself_is_seen() -> None:
    assert list(prints(ast.parse(TERMINAL_DOOR.read_text(encoding="utf-8"))))
