"""`casewright new`."""

from __future__ import annotations

from pathlib import Path, PurePosixPath
from typing import Annotated

import typer

from casewright.command_line.told_plainly import told_plainly
from casewright.commands.choices import UnitChoice
from casewright.terminal.interrupt import end_plainly

Folder = Annotated[Path, typer.Argument(metavar="FOLDER", help="A new or empty folder.")]
JobUnits = Annotated[UnitChoice, typer.Option(help="Units of the job.")]


def new(folder: Folder, units: JobUnits = UnitChoice.INCH) -> None:
    """Start a new job: a commented job file and a room schedule that build as they are."""
    with told_plainly() as written:
        from casewright.intake.template import JOB_FILE, template_files
        from casewright.output.folder import Replace, Request, claimed
        from casewright.terminal.terminal_text import tell
        from parametric.stock.lengths import Units

        end_plainly()
        texts = template_files(Units(units.value))
        request = Request(folder=folder, replace=Replace.NOTHING)
        with claimed(request) as output, written.writing(folder):
            output.write({PurePosixPath(name): text.encode() for name, text in texts.items()})
        tell(f"Started a job in {folder}. Build it with:")
        tell(f"  casewright build {folder / JOB_FILE}")
