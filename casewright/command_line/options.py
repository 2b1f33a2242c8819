"""Arguments and options that several commands share, and the output folder that they ask for."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from casewright.commands.choices import UnitChoice

if TYPE_CHECKING:
    from casewright.output.folder import Request

JobFile = Annotated[Path, typer.Argument(metavar="JOB", help="The job file (YAML).")]
NumberUnits = Annotated[UnitChoice, typer.Option(help="Unit of bare numbers.")]
Spare = Annotated[
    str, typer.Option(metavar="PERCENT", help="Cut this much more of each piece, rounded up.")
]
ListOutput = Annotated[
    Path | None,
    typer.Option(help="Output folder, replaced whole. Default: out/ and the pieces' name."),
]
ReplaceEdited = Annotated[
    bool,
    typer.Option(
        "--replace-edited",
        help="Replace an earlier output even if files in it were edited since; edits are lost.",
    ),
]
Wait = Annotated[
    bool, typer.Option("--wait", help="If another build is writing the folder, wait for its end.")
]
Fresh = Annotated[
    bool,
    typer.Option("--fresh", help="Make all anew: neither use nor keep what earlier runs made."),
]
Verbose = Annotated[
    bool, typer.Option("--verbose", help="Show each warning, not one line for each kind.")
]


def output_folder(typed: Path | None, source: Path) -> Path:
    """Return the folder that was typed, else the one in `out` with the name of what is read."""
    return typed if typed is not None else Path("out") / source.stem


def asked(
    folder: Path, inputs: tuple[Path, ...], expected_bytes: int, replace_edited: bool, wait: bool
) -> Request:
    """Return the output folder as the options ask for it."""
    from casewright.output.folder import Replace, Request
    from casewright.terminal.terminal_text import tell_errors

    def waiting() -> None:
        tell_errors((f"Another build is writing {folder}; waiting for its end.",))

    return Request(
        folder=folder,
        inputs=inputs,
        expected_bytes=expected_bytes,
        replace=Replace.EDITED if replace_edited else Replace.OUTPUT,
        on_busy=waiting if wait else None,
    )
