"""The door to the terminal: whatever a text holds, all of it is printed and none of it obeyed."""

import io
import re
import sys
from contextlib import redirect_stderr, redirect_stdout

import pytest
from hypothesis import example, given

from casewright.terminal.terminal_text import (
    Count,
    ShownWork,
    TextTable,
    tell,
    tell_errors,
    tell_words,
    warn,
)
from export.visible_text import STEERS, visible
from tests.hostile_texts import HOSTILE

STYLE = re.compile("\x1b\\[[0-9;]*m")


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        return True


def dense(text: str) -> str:
    """The text without the spaces at which a terminal may wrap it."""
    return "".join(text.split())


@pytest.fixture(autouse=True)
def colours(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("COLUMNS", "60")
    monkeypatch.delenv("NO_COLOR", raising=False)


@given(HOSTILE)
@example("A [/red] B")
@example("[bold]x[/bold] :smile:")
def test_a_line_elsewhere_is_printed_whole(text: str) -> None:
    for show in (tell, tell_words):
        with redirect_stdout(io.StringIO()) as out:
            show(text)
        assert out.getvalue() == f"{visible(text)}\n"
    for show in (warn, lambda line: tell_errors((line,))):
        with redirect_stderr(io.StringIO()) as out:
            show(text)
        assert out.getvalue() == f"{visible(text)}\n"


@given(HOSTILE, HOSTILE)
def test_a_line_in_a_terminal_holds_all_of_it(lead: str, text: str) -> None:
    with redirect_stdout(Terminal()) as out:
        tell_words(text, lead=lead, style="bold red", hanging=4)
    shown = STYLE.sub("", out.getvalue())
    assert dense(shown) == dense(visible(lead + text))
    assert STEERS.search(shown.replace("\n", "")) is None


@given(HOSTILE, HOSTILE)
@example("A [/red] B", "[rev a]")
def test_a_table_holds_every_cell_and_heading(first: str, second: str) -> None:
    table = TextTable(first)
    table.add_texts((second, first))
    table.add_texts(second)
    table.add_row(first)
    table.add_row((second, first))
    with redirect_stdout(io.StringIO()) as out:
        table.tell()
    shown = out.getvalue()
    assert STEERS.search(shown.replace("\n", "")) is None
    # Cells beside each other are wrapped in turn, so the characters are counted.
    cells = [first, second, first, second, first, second, first]
    assert sorted(dense(shown)) == sorted(dense("".join(map(visible, cells))))


@given(HOSTILE)
@example("[/red]")
def test_progress_shows_texts_as_they_stand(text: str) -> None:
    for stream in (io.StringIO(), Terminal()):
        with redirect_stderr(stream):
            work = ShownWork(Count.STEPS)
            work.start()
            line = work.line(text, 3, text)
            work.advance(line, text)
            work.note(line, text)
            work.share(line, text, 0.5, text)
            work.stop()
        drawn = re.sub("\x1b\\[[0-9;?]*[a-zA-Z]", "", stream.getvalue())
        assert STEERS.search(drawn.replace("\n", "").replace("\r", "")) is None
    assert visible(text)[:20].rstrip() in drawn


def test_a_narrow_terminal_wraps_between_words_and_leaves_paths_whole() -> None:
    path = "/shop/" + "x" * 70
    with redirect_stdout(Terminal()) as out:
        tell_words("    3 x mass lifted at once of each box, for two people: twin", hanging=8)
        tell(f"Written to {path}")
    lines = out.getvalue().splitlines()
    assert lines == [
        "    3 x mass lifted at once of each box, for two people:",
        "        twin",
        f"Written to {path}",
    ]


def test_what_the_encoding_does_not_have_is_shown_as_an_escape(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    written = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(written, encoding="ascii"))
    tell("Skarvholm, 日本, é")
    sys.stdout.flush()
    assert written.getvalue().decode("ascii").rstrip() == r"Skarvholm, \u65e5\u672c, \xe9"


def test_a_table_begins_with_its_title_if_it_has_one(capsys: pytest.CaptureFixture[str]) -> None:
    for title, first in (("", []), ("Fewer layouts", ["Fewer layouts"])):
        table = TextTable(title)
        table.add_texts("board")
        table.add_numbers("sheets")
        table.add_row("oak", "3")
        table.tell()
        lines = [" ".join(line.split()) for line in capsys.readouterr().out.splitlines()]
        assert lines == [*first, "board sheets", "oak 3"]
    untitled = TextTable()
    untitled.add_texts("board")
    untitled.tell()
    assert capsys.readouterr().out.split() == ["board"]
