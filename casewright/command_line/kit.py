"""`casewright kit`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from casewright.command_line.exit_codes import ExitCode
from casewright.command_line.job_in import job_in
from casewright.command_line.options import JobFile
from casewright.command_line.told_plainly import told_plainly
from casewright.commands.choices import HandChoice
from casewright.terminal.interrupt import as_the_system_ends

SetName = Annotated[
    str | None, typer.Option("--set", help="For one room with this set. Default: the job.")
]
SetHand = Annotated[HandChoice | None, typer.Option(help="Of the set.")]
Compared = Annotated[
    Path | None,
    typer.Option(metavar="LIST", help="CSV: article, quantity. Shows what is short and over."),
]


def kit(
    job: JobFile,
    set_name: SetName = None,
    hand: SetHand = None,
    compare: Compared = None,
) -> None:
    """Show what is packed for a room or the whole job, counted from the joints.

    With --compare a list is compared with what the joints need, spares left out; the exit code is 1
    when the list is short.
    """
    with told_plainly():
        whole = job_in(job)
        with as_the_system_ends():
            from casewright.commands.kit_command import show_kit
            from casewright.intake.read_kit_list import read_kit_list
            from parametric.geometry.hand import Hand

        listed = None if compare is None else read_kit_list(compare)
        if show_kit(whole, set_name, None if hand is None else Hand(hand.value), listed):
            raise typer.Exit(ExitCode.FINDING_FAILED)
