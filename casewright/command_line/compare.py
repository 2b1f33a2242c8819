"""`casewright compare`."""

from __future__ import annotations

from contextlib import ExitStack
from pathlib import Path
from typing import Annotated

import typer

from casewright.command_line.options import ReplaceEdited, Wait, asked
from casewright.command_line.told_plainly import told_plainly
from casewright.terminal.interrupt import as_the_system_ends

OldFolder = Annotated[
    Path, typer.Argument(metavar="OLD", help="Output folder of the earlier build.")
]
NewFolder = Annotated[Path, typer.Argument(metavar="NEW", help="Output folder of the later build.")]
Done = Annotated[
    Path | None,
    typer.Option(
        "--cut",
        metavar="LIST",
        help="CSV: layout (its file in OLD), runs. Sheets that are cut already.",
    ),
]
Output = Annotated[
    Path | None, typer.Option(help="Output folder for a table and a paper of all changes.")
]


def compare(
    old: OldFolder,
    new: NewFolder,
    cut: Done = None,
    out: Output = None,
    replace_edited: ReplaceEdited = False,
    wait: Wait = False,
) -> None:
    """Show what changed between two builds of a job, and what to issue again.

    Parts are told by what they are, not by their numbers: added, gone, changed; then layouts,
    rooms, kits, warnings and papers. With --cut, what sheets cut already are still good for.
    """
    with told_plainly() as written:
        with as_the_system_ends():
            from casewright.commands.compare_command import (
                change_files,
                compare_folders,
                show_changes,
            )
            from casewright.output.folder import claimed

        with ExitStack() as stack:
            output = None
            if out is not None:
                inputs = (old, new) if cut is None else (old, new, cut)
                request = asked(out, inputs, 0, replace_edited, wait)
                output = stack.enter_context(claimed(request))
            changes = compare_folders(old, new, cut)
            if output is not None:
                with written.writing(output.request.folder):
                    output.write(change_files(changes))
        show_changes(changes)
