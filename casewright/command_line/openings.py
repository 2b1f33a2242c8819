"""`casewright openings`."""

from __future__ import annotations

from contextlib import ExitStack
from pathlib import Path
from typing import Annotated

import typer

from casewright.command_line.job_in import job_in
from casewright.command_line.options import JobFile, ReplaceEdited, Wait, asked
from casewright.command_line.told_plainly import told_plainly
from casewright.commands.choices import EffortChoice
from casewright.terminal.interrupt import as_the_system_ends

SetName = Annotated[
    str | None, typer.Option("--set", help="Only this set. Default: every set in use.")
]
NestEffort = Annotated[
    EffortChoice, typer.Option(help="How hard to search for each nest, as in a build.")
]
Output = Annotated[
    Path | None,
    typer.Option(help="Output folder for a table with all of it, room by room."),
]


def openings(
    job: JobFile,
    set_name: SetName = None,
    effort: NestEffort = EffortChoice.NORMAL,
    out: Output = None,
    replace_edited: ReplaceEdited = False,
    wait: Wait = False,
) -> None:
    """Show how few widths of bench fill the measured openings, and what each choice costs.

    For each set: as it is, the fewest widths that scribe and filler allow, one fewer and one more;
    which rooms each fills, the filler that is left, and the sheets of the whole job.
    """
    with told_plainly() as written:
        whole = job_in(job)
        with as_the_system_ends():
            from casewright.commands.openings_command import opening_files, show_opening_sizes
            from casewright.output.folder import claimed
            from casewright.stages.nest.nest_settings import NestSettings
            from casewright.stages.openings.opening_sheets import opening_sizes
            from casewright.terminal.show import shown_progress
            from nesting.question.settings import Effort

        settings = NestSettings(effort=Effort[effort.name])
        with ExitStack() as stack:
            output = None
            if out is not None:
                request = asked(out, whole.files, 0, replace_edited, wait)
                output = stack.enter_context(claimed(request))
            with shown_progress() as progress:
                sizes = opening_sizes(whole, set_name, settings, progress)
            if output is not None:
                with written.writing(output.request.folder):
                    output.write(opening_files(sizes, whole.units))
        show_opening_sizes(sizes, whole, effort.value)
