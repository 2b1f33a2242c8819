"""The command from its lists to its output folder."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path, PurePosixPath

from casewright.commands.bar_command.read_lists import BarRow, read_bar_pieces, read_bars
from casewright.commands.nest_command.cells import Reading
from casewright.commands.nest_command.item_types import ItemType, PieceRow, dealt, item_types
from casewright.commands.nest_command.show import further_text, rounded_text, skipped_text
from casewright.errors import DoesNotFit, Fault, InputErrors, OptionErrors, OptionFault
from casewright.intake.document import Place, placed_fault
from casewright.intake.entry import LengthIn
from casewright.output.folder import Request, claimed
from casewright.output.left_file import LeftFile, listed
from casewright.terminal.interrupt import end_plainly
from casewright.terminal.terminal_text import TextTable, tell_words
from casewright.written import Written
from export.manifest import FileRole
from export.tables.bar_cut_table import BarCut, bar_cuts_csv
from export.tables.bar_plan_table import bar_plan_csv
from nesting.answer.solution import Layout, Placement
from nesting.linear.answer import cost, length_yield
from nesting.linear.bar_nest import BarNest
from nesting.linear.errors import NotEnoughBars, PieceTooLong
from nesting.linear.instance import BarInstance, BarPiece, SawRules
from nesting.linear.solve import solve_bars
from nesting.question.errors import InvalidInstance
from nesting.question.ticks import Grid
from parametric.stock.lengths import LengthError, Units

END_TRIM = LengthIn(0, 1000, "Lost at each end.")
REUSABLE = LengthIn(1, 100_000, "Shortest rest that is kept.")
KERF = LengthIn(0, 100, "Width of the cut.")
CUTS = "cuts.csv"
ANY = "bars"
"""What a material is called in the plan where the lists tell of none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BarFiles:
    """The files that ask, and how they are read."""

    pieces: Path
    bars: tuple[Path, ...]
    columns: Mapping[str, str]
    spare_percent: Fraction
    units: Units


@dataclass(frozen=True, slots=True, kw_only=True)
class SawTexts:
    """The saw's options as they are typed."""

    kerf: str
    end_trim: str
    reusable: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """How one material is cut, and whose each piece is."""

    nest: BarNest
    types: tuple[ItemType, ...]


def cut_bars(files: BarFiles, saw: SawTexts, request: Request, written: Written) -> None:
    """Plan how the pieces are cut from the bars, write the output folder and print the table.

    Raises:
        CasewrightError: something that the user can put right; nothing is written then.
        KeyboardInterrupt: Ctrl-C.
    """
    end_plainly()
    reading = Reading(files.units, Grid(), [])
    rules = _saw_rules(saw, reading)
    pieces = read_bar_pieces(files.pieces, reading, files.columns, files.spare_percent)
    bars = read_bars(files.bars, reading)
    shared = _shared(pieces.materials, bars, files, reading.faults)
    if reading.faults:
        raise InputErrors(tuple(reading.faults))
    rounded = rounded_text(reading.grid.rounded_mm)
    for line in (further_text(pieces.further, CUTS), skipped_text(pieces.skipped), rounded):
        if line:
            tell_words(line)
    with claimed(request) as output:
        cuts = tuple(_cuts(pieces.materials, shared, rules, files))
        contents = _contents(cuts, pieces.further, files.units)
        with written.writing(request.folder):
            output.write(contents)
    _table(cuts).tell()
    tell_words(f"Written to {request.folder}; bar-plan.csv is for the saw, cuts.csv for the labels")


def _saw_rules(saw: SawTexts, reading: Reading) -> SawRules:
    faults, ticks = [], []
    for option, text, allowed in (
        ("--kerf", saw.kerf, KERF),
        ("--end-trim", saw.end_trim, END_TRIM),
        ("--reusable", saw.reusable, REUSABLE),
    ):
        try:
            ticks.append(reading.grid.gap(allowed.read_exact(text, reading.units)))
        except LengthError as problem:
            fault = OptionFault(option=option, found=problem.found, allowed=problem.allowed)
            faults.append(fault)
    if faults:
        raise OptionErrors(tuple(faults))
    kerf, end_trim, reusable = ticks
    return SawRules(kerf=kerf, end_trim=end_trim, reusable=reusable)


def _shared(
    materials: Mapping[str, tuple[PieceRow, ...]],
    bars: Iterable[BarRow],
    files: BarFiles,
    faults: list[Fault],
) -> dict[str, tuple[BarRow, ...]]:
    """Return the bars of each material, after adding a fault for each that has none."""
    listed = tuple(bars)
    for row in listed:
        if len(materials) > 1 and not row.material:
            place = Place(row.line, None)
            found = "nothing, where the pieces are of several materials"
            allowed = f"one of {', '.join(name or 'nothing' for name in materials)}"
            faults.append(
                placed_fault(row.file, place, ("material",), found=found, allowed=allowed)
            )
    found_bars = {}
    for material, pieces in materials.items():
        own = tuple(
            row
            for row in listed
            if not material or row.material.casefold() in ("", material.casefold())
        )
        found_bars[material] = own
        if not own and listed:
            place = Place(pieces[0].line, None)
            found = f"{material}, of which there is no bar"
            allowed = f"one of {', '.join(dict.fromkeys(row.material for row in listed))}"
            faults.append(
                placed_fault(files.pieces, place, ("material",), found=found, allowed=allowed)
            )
    return found_bars


def _cuts(
    materials: Mapping[str, tuple[PieceRow, ...]],
    shared: Mapping[str, tuple[BarRow, ...]],
    rules: SawRules,
    files: BarFiles,
) -> Iterator[Cut]:
    """Yield how each material is cut.

    Raises:
        DoesNotFit: the bars of some materials do not suffice; all of them are told.
        InputErrors: the bars of a material do not agree in their kerf, or are lost in their trim.
    """
    short = []
    for material, rows in materials.items():
        types, bars = item_types(rows), shared[material]
        try:
            question = _question(types, bars, rules)
            answer = solve_bars(question)
        except (PieceTooLong, NotEnoughBars) as error:
            place = f"{files.pieces.as_posix()}:{rows[0].line}"
            short += [f"{place}: {line}" for line in str(error).splitlines()]
            continue
        except InvalidInstance as error:
            short += [str(fault) for fault in error.faults]
            continue
        nest = BarNest(material=material or ANY, profile="", question=question, answer=answer)
        yield Cut(nest=nest, types=types)
    if short:
        raise DoesNotFit("\n".join(short))


def _question(types: Iterable[ItemType], bars: Iterable[BarRow], rules: SawRules) -> BarInstance:
    rows = tuple(bars)
    kerfs = {rules.kerf if row.kerf is None else row.kerf for row in rows}
    if len(kerfs) > 1:
        row = next(row for row in rows if row.kerf is not None)
        raise InputErrors(
            (
                placed_fault(
                    row.file,
                    Place(row.line, None),
                    ("kerf",),
                    found="another kerf than for other bars of the material",
                    allowed="one blade for each material",
                ),
            )
        )
    (kerf,) = kerfs
    return BarInstance(
        pieces=tuple(
            BarPiece(id=kind.piece.id, length=kind.piece.length, quantity=kind.piece.quantity)
            for kind in types
        ),
        bars=tuple(row.bar for row in rows),
        rules=SawRules(kerf=kerf, end_trim=rules.end_trim, reusable=rules.reusable),
    )


def _contents(
    cuts: tuple[Cut, ...], further: tuple[str, ...], units: Units
) -> dict[PurePosixPath, bytes]:
    nests = tuple(cut.nest for cut in cuts)
    files = (
        ("bar-plan.csv", FileRole.BAR_PLAN, bar_plan_csv(nests, units)),
        (CUTS, FileRole.PLACEMENTS, bar_cuts_csv(_bar_cuts(cuts), units, further)),
    )
    return listed(
        LeftFile(path=path, role=role, content=text.encode()) for path, role, text in files
    )


def _bar_cuts(cuts: Iterable[Cut]) -> Iterator[BarCut]:
    """Yield whose each cut is, in the order of the plan: patterns count from 1 over all bars."""
    number = 0
    for cut in cuts:
        lengths = {kind.piece.id: kind.piece.length for kind in cut.types}
        patterns = cut.nest.answer.patterns
        # Places along a bar, so that pieces are dealt out as on sheets.
        laid = [
            Layout(
                stock=pattern.bar,
                placements=tuple(
                    Placement(piece=name, x=place, y=0, turned=False)
                    for place, name in enumerate(pattern.cuts)
                ),
                runs=pattern.runs,
            )
            for pattern in patterns
        ]
        for pattern, whose in zip(patterns, dealt(cut.types, laid), strict=True):
            number += 1
            for place, (name, shares) in enumerate(zip(pattern.cuts, whose, strict=True), start=1):
                for share in shares:
                    yield BarCut(
                        pattern=number,
                        material=cut.nest.material,
                        bar=pattern.bar,
                        place=place,
                        length=lengths[name],
                        dealt=share,
                    )


def _table(cuts: tuple[Cut, ...]) -> TextTable:
    table = TextTable()
    table.add_texts("material", "bar")
    table.add_numbers("bars", "patterns", "yield", "price", ("at", "least"))
    for cut in cuts:
        question, answer = cut.nest.question, cut.nest.answer
        for bar in question.bars:
            patterns = [each for each in answer.patterns if each.bar == bar.id]
            if patterns:
                bars = str(sum(each.runs for each in patterns))
                table.add_row(cut.nest.material, bar.id, bars, str(len(patterns)), "", "", "")
        table.add_row(
            cut.nest.material,
            "all",
            str(answer.bars),
            str(answer.distinct),
            f"{100 * length_yield(question, answer):.1f} %",
            f"{cost(question, answer):.2f}",
            f"{answer.lower_bound:.2f}",
        )
    return table
