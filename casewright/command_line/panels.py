"""`casewright panels`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from casewright.command_line.options import ReplaceEdited, Wait, asked, output_folder
from casewright.command_line.told_plainly import told_plainly
from casewright.commands.choices import EffortChoice
from casewright.terminal.interrupt import as_the_system_ends

Table = Annotated[
    Path,
    typer.Argument(
        metavar="TABLE",
        help="CSV or XLSX: file (STEP; rack.step#2 is its second solid), quantity; may have name, "
        "material (default: told by thickness), grain (length, width or none), show_face "
        "(machined, plain, both, none, or the way it looks in the file: x+ to z-).",
    ),
]
Materials = Annotated[
    list[Path],
    typer.Argument(metavar="MATERIALS...", help="Library files (YAML) with board materials."),
]
RouterFile = Annotated[
    Path, typer.Option("--machine", metavar="ROUTER", help="The machine file (YAML).")
]
NestEffort = Annotated[EffortChoice, typer.Option(help="How hard to search for the nests.")]
Output = Annotated[
    Path | None,
    typer.Option(help="Output folder, replaced whole. Default: out/ and the table's name."),
]


def panels(
    table: Table,
    materials: Materials,
    machine: RouterFile,
    effort: NestEffort = EffortChoice.NORMAL,
    out: Output = None,
    replace_edited: ReplaceEdited = False,
    wait: Wait = False,
) -> None:
    """Cut flat panels drawn in other programs: cut list, nests, cut files as a build writes them.

    Each STEP file of the table is read for its solids. Anything that is not a flat panel of
    a material in the libraries is named with its place, and then nothing is written.
    """
    with told_plainly() as written:
        with as_the_system_ends():  # the kernel takes seconds to load
            from casewright.commands.panels_command.run import PanelFiles, cut_panels
            from casewright.stages.nest.nest_settings import NestSettings
            from nesting.question.settings import Effort

        files = PanelFiles(table=table, materials=tuple(materials), machine=machine)
        settings = NestSettings(effort=Effort[effort.name])
        request = asked(output_folder(out, table), files.all, 0, replace_edited, wait)
        cut_panels(files, settings, request, written)
