"""`casewright nest`."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

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
from casewright.commands.choices import EffortChoice, StagesChoice, UnitChoice

if TYPE_CHECKING:
    from casewright.commands.nest_command.question import Files

Pieces = Annotated[
    Path,
    typer.Argument(
        metavar="PIECES",
        help="CSV or XLSX: piece, length, width, quantity, turn (yes or no); may have group, "
        "priority, spare, material, thickness, and further columns.",
    ),
]
Stock = Annotated[
    list[Path],
    typer.Argument(
        metavar="STOCK...",
        help="CSV or XLSX, one or several: stock, length, width, quantity (blank: no limit), "
        "price (blank in all rows: by area); may have kind (sheet or remnant), material, "
        "thickness.",
    ),
]
Defects = Annotated[
    Path | None, typer.Option(help="CSV: stock, x, y, length, width of places not to use.")
]
Gap = Annotated[
    str | None,
    typer.Option(
        help="Kept between pieces: the bit's diameter, or the blade's kerf. 0 without it."
    ),
]
TrimLengths = Annotated[
    str, typer.Option(help="Lost along the edges: one length, or left,right,bottom,top.")
]
RimWidth = Annotated[
    str | None, typer.Option(help="How far small pieces stay from the trimmed edges.")
]
RimSide = Annotated[
    str | None, typer.Option(help="Pieces with no longer side than this are small.")
]
EdgeToEdge = Annotated[
    bool, typer.Option("--edge-to-edge/--free", help="For a panel saw, or for a router.")
]
Stages = Annotated[
    StagesChoice | None,
    typer.Option(help="How often cuts may change direction on the saw. Default: 3."),
]
BookHeight = Annotated[
    str | None, typer.Option(help="Highest pile of sheets that the saw cuts at once.")
]
Thickness = Annotated[str | None, typer.Option(help="Of one sheet, for the pile.")]
FewerLayouts = Annotated[
    float | None,
    typer.Option(metavar="PERCENT", help="How much more than the cheapest fewer layouts may cost."),
]
ReusableSize = Annotated[
    str | None,
    typer.Option(metavar="LENGTHxWIDTH", help="Least offcut to keep. Default: 600 x 200 mm."),
]
NestEffort = Annotated[
    EffortChoice | None, typer.Option(help="How hard to search. Default: normal.")
]
Seconds = Annotated[
    float | None, typer.Option(help="Time limit in seconds; the result is then not reproducible.")
]
Seed = Annotated[int, typer.Option(help="The same seed gives the same answer.")]
Workers = Annotated[
    int | None, typer.Option(help="Threads; the answer does not depend on them. Default: all.")
]
Column = Annotated[
    list[str] | None,
    typer.Option(
        metavar="NAME=HEADER",
        help="What the list of pieces calls one of its columns: --column length=Long. "
        "Any number of times.",
    ),
]
WhatIf = Annotated[
    bool,
    typer.Option(
        "--what-if",
        help="Try other ways too, and show one table: each size of sheet alone, without "
        "remnants, with --other-gap, free and edge to edge.",
    ),
]
OtherGap = Annotated[str | None, typer.Option(help="A second gap, for --what-if.")]


def nest(
    pieces: Pieces,
    stock: Stock,
    defects: Defects = None,
    units: NumberUnits = UnitChoice.MM,
    gap: Gap = None,
    trim: TrimLengths = "0",
    rim: RimWidth = None,
    rim_side: RimSide = None,
    edge_to_edge: EdgeToEdge = False,
    stages: Stages = None,
    book_height: BookHeight = None,
    thickness: Thickness = None,
    fewer_layouts: FewerLayouts = None,
    reusable: ReusableSize = None,
    effort: NestEffort = None,
    seconds: Seconds = None,
    seed: Seed = 1,
    workers: Workers = None,
    column: Column = None,
    spare: Spare = "0",
    what_if: WhatIf = False,
    other_gap: OtherGap = None,
    out: ListOutput = None,
    replace_edited: ReplaceEdited = False,
    wait: Wait = False,
) -> None:
    """Nest any list of rectangles, without a job: tables, nest.json, DXF, maps.

    Ctrl-C ends the search and keeps the best answer so far.
    """
    with told_plainly() as written:
        from casewright.commands.nest_command import run
        from casewright.commands.nest_command.options import OptionTexts
        from parametric.stock.lengths import Units

        files = _files(pieces, stock, defects, column or (), spare)
        texts = OptionTexts(
            units=Units(units.value),
            gap=gap,
            trim=trim,
            rim=rim,
            rim_side=rim_side,
            edge_to_edge=edge_to_edge,
            stages=stages,
            book_height=book_height,
            thickness=thickness,
            fewer_layouts=fewer_layouts,
            reusable=reusable,
            effort=effort,
            seconds=seconds,
            seed=seed,
            workers=workers,
            other_gap=other_gap,
        )
        request = asked(output_folder(out, pieces), files.all, 0, replace_edited, wait)
        work = run.compare if what_if else run.nest
        work(files, texts, request, written)


def _files(
    pieces: Path, stock: Sequence[Path], defects: Path | None, column: Sequence[str], spare: str
) -> Files:
    """Return the files that ask, and how they are read.

    Raises:
        OptionErrors: a column or the percentage cannot be used.
    """
    from casewright.commands.nest_command.columns import column_names, percentage
    from casewright.commands.nest_command.question import Files

    return Files(
        pieces=pieces,
        stock=tuple(stock),
        defects=defects,
        columns=column_names(column),
        spare_percent=percentage(spare),
    )
