"""`casewright bars`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from casewright.command_line.options import (
    ListOutput,
    NumberUnits,
    ReplaceEdited,
    Spare,
    Wait,
    asked,
    output_folder,
)
from casewright.command_line.told_plainly import told_plainly
from casewright.commands.choices import UnitChoice

Pieces = Annotated[
    Path,
    typer.Argument(
        metavar="PIECES",
        help="CSV or XLSX: piece, length, quantity; may have group, spare, material, and "
        "further columns.",
    ),
]
Bars = Annotated[
    list[Path],
    typer.Argument(
        metavar="BARS...",
        help="CSV or XLSX, one or several: bar, length, quantity (blank: no limit), price "
        "(blank in all rows: by length); may have kind (bar or remnant), material, kerf.",
    ),
]
Kerf = Annotated[str, typer.Option(help="Width of the cut, where a bar has none of its own.")]
EndTrim = Annotated[str, typer.Option(help="Lost at each end of a bar, its cut included.")]
ReusableLength = Annotated[str, typer.Option(help="Shortest remnant that is kept.")]
Column = Annotated[
    list[str] | None,
    typer.Option(
        metavar="NAME=HEADER",
        help="What the list of pieces calls one of its columns. Any number of times.",
    ),
]


def bars(
    pieces: Pieces,
    stock: Bars,
    units: NumberUnits = UnitChoice.MM,
    kerf: Kerf = "3.2 mm",
    end_trim: EndTrim = "5 mm",
    reusable: ReusableLength = "300 mm",
    column: Column = None,
    spare: Spare = "0",
    out: ListOutput = None,
    replace_edited: ReplaceEdited = False,
    wait: Wait = False,
) -> None:
    """Plan how pieces are cut from bars, without a job: cleats, edge band, steel."""
    with told_plainly() as written:
        from casewright.commands.bar_command.read_lists import NEEDED, OPTIONAL
        from casewright.commands.bar_command.run import BarFiles, SawTexts, cut_bars
        from casewright.commands.nest_command.columns import column_names, percentage
        from parametric.stock.lengths import Units

        files = BarFiles(
            pieces=pieces,
            bars=tuple(stock),
            columns=column_names(column or (), (*NEEDED, *OPTIONAL)),
            spare_percent=percentage(spare),
            units=Units(units.value),
        )
        cut_bars(
            files,
            SawTexts(kerf=kerf, end_trim=end_trim, reusable=reusable),
            asked(output_folder(out, pieces), (pieces, *stock), 0, replace_edited, wait),
            written,
        )
