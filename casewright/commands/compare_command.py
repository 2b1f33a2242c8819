"""The command that compares two outputs of a job by what they mean."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path, PurePosixPath

from casewright.entries.entry import Form
from casewright.entries.registry import ENTRIES
from casewright.intake.read_output import read_issue
from casewright.intake.read_runs_done import read_runs_done
from casewright.output.left_file import LeftFile, listed
from casewright.terminal.terminal_text import TextTable, tell, tell_words
from casewright.wording import counted
from export.changes.changes import Changes, changes_between
from export.changes.paper import changes_source
from export.changes.words import change_lines
from export.manifest import FileRole
from export.papers.blocks import Row
from export.papers.pdf import pdf_bytes
from export.tables.change_table import changes_csv
from parametric.stock.paper import paper_for

TABLE, PAPER = "changes.csv", "changes.pdf"
SHOWN = 12
_TITLES = {
    "part": "parts",
    "bar": "cleats and angles",
    "layout": "layouts",
    "already cut": "already cut",
    "room": "rooms",
    "kit": "kits",
    "finding": "warnings and failures",
    "sheets": "sheets",
}


def compare_folders(old: Path, new: Path, done: Path | None) -> Changes:
    """Return what differs between two output folders; `done` lists the sheets that are cut.

    Raises:
        OptionErrors: one of them is no output of a build.
        InputErrors: the list cannot be used.
    """
    before, after = read_issue(old, "OLD"), read_issue(new, "NEW")
    runs = {layout.file: layout.runs for layout in before.layouts}
    cut = {} if done is None else read_runs_done(done, runs)
    return changes_between(before, after, cut)


def show_changes(changes: Changes) -> None:
    """Print what differs, a table for each kind of thing, and what to issue again."""
    old, new = changes.old, changes.new
    tell_words(f"{new.job}: revision {old.revision} is now {new.revision}")
    if changes.nothing:
        tell("Nothing changed: every file is the same.")
        return
    lines = list(change_lines(changes))
    for about, title in _TITLES.items():
        found = [line for line in lines if line.about == about]
        if not found:
            continue
        table = TextTable(title)
        table.add_texts("change", "which", "was", "now", "what")
        for line in found[:SHOWN]:
            table.add_row(line.kind.value, line.which, line.was, line.now, line.what)
        tell()
        table.tell()
        if len(found) > SHOWN:
            tell(f"  and {len(found) - SHOWN} more")
    tell()
    again = TextTable("issue again")
    again.add_texts("what", "for")
    for row in issued_again(changes):
        again.add_row(*row)
    again.tell()


def change_files(changes: Changes) -> Mapping[PurePosixPath, bytes]:
    """Return the table and the paper of what differs, with the manifest that lists them."""
    lines, again = tuple(change_lines(changes)), tuple(issued_again(changes))
    source = changes_source(changes, lines, again, paper_for(changes.new.units))
    return listed(
        (
            LeftFile(path=TABLE, role=FileRole.CHANGES, content=changes_csv(lines).encode()),
            LeftFile(path=PAPER, role=FileRole.CHANGES_PAPER, content=pdf_bytes(source)),
        )
    )


def issued_again(changes: Changes) -> Iterator[Row]:
    """Yield what has to be issued again, kind by kind, and for whom."""
    roles = {**changes.old.roles, **changes.new.roles}
    counts = Counter(roles[path] for _, path in changes.files)
    for entry in ENTRIES:
        count = counts[entry.role.value]
        if count and entry.form is not Form.PAGE:
            of = f"{entry.title}, {counted(count, 'file')}" if "*" in entry.path else entry.title
            yield of, entry.readers
