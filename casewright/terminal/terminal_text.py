"""The only door to the terminal: whatever a person reads there is text, never markup or a command.

Names of jobs, stock and files may hold square brackets, which the library that draws tables takes
for styles, and characters that repaint the screen. Here all is printed as it stands; what would be
obeyed is shown as an escape. Nothing else in this package imports that library or writes to the
standard streams; `tests/architecture` looks.
"""

from __future__ import annotations

import io
import sys
import textwrap
import traceback
from collections.abc import Iterable
from enum import Enum
from typing import TextIO

from rich.console import Console
from rich.progress import (
    BarColumn,
    MofNCompleteColumn,
    Progress,
    TaskID,
    TaskProgressColumn,
    TextColumn,
)
from rich.table import Table
from rich.text import Text

from export.json_text import json_text
from export.visible_text import visible

_LEAST_WIDTH = 20  # below that, wrapping helps nobody

Line = TaskID
"""A line of `ShownWork`."""

Words = str | Iterable[str]
"""A text, or several that stand below each other."""


class TextTable:
    """A table without lines; what does not fit is wrapped, never cut off."""

    def __init__(self, title: str = "") -> None:
        """Start without columns and rows."""
        self._table = Table(
            box=None,
            header_style="bold",
            pad_edge=False,
            title=_text(title) if title else None,
            title_justify="left",
        )

    def add_texts(self, *headings: Words) -> None:
        """Add columns of texts."""
        for heading in headings:
            self._table.add_column(_text(heading), overflow="fold")

    def add_numbers(self, *headings: Words) -> None:
        """Add columns of numbers, which stay on one line and stand to the right."""
        for heading in headings:
            self._table.add_column(_text(heading), justify="right", no_wrap=True)

    def add_row(self, *cells: Words) -> None:
        """Add a row of a cell for each column; those left out are blank."""
        self._table.add_row(*map(_text, cells))

    def tell(self) -> None:
        """Print the table."""
        _console(sys.stdout).print(self._table, soft_wrap=False)


class Count(Enum):
    """How far work has come: steps of all steps, or a share of the whole."""

    STEPS = "steps"
    SHARE = "share"


class ShownWork:
    """Lines of a name, a bar, a count and what is at hand, on the error stream, so that output can
    be piped.
    """

    def __init__(self, count: Count) -> None:
        """Prepare the display."""
        self._progress = Progress(
            TextColumn("{task.description:<22}", markup=False),
            BarColumn(bar_width=24),
            MofNCompleteColumn() if count is Count.STEPS else TaskProgressColumn(),
            TextColumn("{task.fields[what]}", markup=False),
            console=_console(sys.stderr),
        )

    def start(self) -> None:
        """Show it."""
        self._progress.start()

    def stop(self) -> None:
        """Leave it as it stands."""
        self._progress.stop()

    def line(self, name: str, steps: float | None, what: str = "") -> Line:
        """Add a line; None where the number of steps is not known."""
        return self._progress.add_task(visible(name), total=steps, what=visible(what))

    def advance(self, line: Line, what: str) -> None:
        """Show one more step of a line."""
        self._progress.update(line, advance=1, what=visible(what))

    def note(self, line: Line, what: str) -> None:
        """Show what a line is at."""
        self._progress.update(line, what=visible(what))

    def tell(self, what: str) -> None:
        """Print a line that stays, above those of the work."""
        self._progress.console.print(_text(what), soft_wrap=True)

    def share(self, line: Line, name: str, done: float, what: str) -> None:
        """Show a line's name anew and how much of it is done, from 0 to 1."""
        self._progress.update(
            line, description=visible(name), total=1.0, completed=done, what=visible(what)
        )


def tell(line: str = "") -> None:
    """Print a line as it stands; a terminal may break it anywhere, so that it can be copied."""
    _console(sys.stdout).print(_text(line), soft_wrap=True)


def tell_words(line: str, *, hanging: int = 0, lead: str = "", style: str = "") -> None:
    """Print a line, in a terminal wrapped between words; further lines hang in by so many columns.

    Where the output goes elsewhere it stays one line. Only the `lead` before it bears the style.
    """
    _print_words(_console(sys.stdout), lead, line, style=style, hanging=hanging)


def warn(line: str) -> None:
    """Print a warning on the error stream, in a terminal wrapped between words."""
    _print_words(_console(sys.stderr), line, "", style="yellow", hanging=0)


def tell_errors(lines: Iterable[str]) -> None:
    """Print lines on the error stream as they stand."""
    console = _console(sys.stderr)
    for line in lines:
        console.print(_text(line), soft_wrap=True)


def tell_trace() -> None:
    """Print where the error that is being handled was raised, for whoever mends the bug."""
    trace = io.StringIO()
    traceback.print_exc(file=trace)
    tell_errors(trace.getvalue().splitlines())


def tell_json(content: object) -> None:
    """Print data for other programs."""
    sys.stdout.write(json_text(content, indent=2, sort_keys=True) + "\n")


def _text(words: Words) -> Text:
    lines = (words,) if isinstance(words, str) else words
    return Text("\n".join(map(visible, lines)))


def _print_words(console: Console, lead: str, line: str, *, style: str, hanging: int) -> None:
    start, whole = visible(lead), visible(lead) + visible(line)
    lines = [whole]
    if console.is_terminal:
        # A word longer than the line, such as a path, is left to the terminal: it can be copied.
        lines = textwrap.wrap(
            whole,
            max(console.width, _LEAST_WIDTH),
            subsequent_indent=" " * hanging,
            replace_whitespace=False,
            break_long_words=False,
            break_on_hyphens=False,
        )
    for index, part in enumerate(lines):
        text = Text(part)
        if not index:
            text.stylize(style, 0, len(start))
        console.print(text, soft_wrap=True)


def _console(stream: TextIO) -> Console:
    """Return the stream as a place to print; what its encoding does not have is shown as escapes,
    so that no name can end a command that has done its work.
    """
    if isinstance(stream, io.TextIOWrapper) and stream.errors == "strict":
        stream.reconfigure(errors="backslashreplace")
    return Console(file=stream, markup=False, emoji=False, highlight=False)
