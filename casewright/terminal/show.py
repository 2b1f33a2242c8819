"""What a build shows in the terminal: progress while it runs, tables when it is done."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from enum import Enum
from math import fsum
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Protocol, Self

from casewright.job import Job
from casewright.progress import Progress
from casewright.stages.nest.nest_stage import Nest
from casewright.terminal.finding_lines import KindLine, in_full, kind_lines, told_failures
from casewright.terminal.interrupt import heard_by
from casewright.terminal.terminal_text import Count, Line, ShownWork, TextTable, tell, tell_words
from casewright.wording import counted
from export.tables.profile_words import profile_shown
from nesting.answer.solution import Layout, Solution, StopReason, solution_yield
from nesting.linear.answer import length_yield
from nesting.question.instance import Instance
from nesting.question.ticks import to_mm
from parametric.findings.finding import AID_ONLY, Severity
from parametric.findings.not_checked import NotChecked
from parametric.findings.telling import ToldFinding, told_findings
from parametric.stock.lengths import Units, show_length

if TYPE_CHECKING:  # it loads the CAD kernel
    from casewright.pipeline import Outcome


class HasNests(Protocol):
    """What was cut from sheets."""

    @property
    def nests(self) -> tuple[Nest, ...]:
        """The nests of all materials."""


class ShownProgress:
    """Shows one line for each stage, on the error stream, so that output can be piped."""

    def __init__(self) -> None:
        """Prepare the display."""
        self._work = ShownWork(Count.STEPS)
        self._line: Line | None = None

    def __enter__(self) -> Self:
        """Start the display."""
        self._work.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Stop the display."""
        self._work.stop()

    def stage(self, name: str, steps: int) -> None:
        """Show a new stage."""
        self._line = self._work.line(name, steps or None)

    def step(self, what: str) -> None:
        """Show one more step of the stage."""
        if self._line is not None:
            self._work.advance(self._line, what)

    def note(self, what: str) -> None:
        """Show what the stage is at."""
        if self._line is not None:
            self._work.note(self._line, what)

    def tell(self, what: str) -> None:
        """Show a line that stays, above the stages."""
        self._work.tell(what)


@contextmanager
def shown_progress() -> Iterator[Progress]:
    """Yield the progress of a command: it is shown, and Ctrl-C is heard by it."""
    with ShownProgress() as shown:
        progress = Progress(shown)
        with heard_by(progress):
            yield progress


class Detail(Enum):
    """How much is told of findings that are not well."""

    KINDS = "a line for each kind of warning"
    EACH = "each of them"


def detail_of(*, verbose: bool) -> Detail:
    """Return how much the option of that name asks for."""
    return Detail.EACH if verbose else Detail.KINDS


def show_outcome(outcome: Outcome, folder: Path, job: Job, detail: Detail) -> None:
    """Print what was built: findings, rooms and parts, sheets with yield and bound, the folder."""
    unchecked = outcome.not_checked
    told = told_findings(outcome.findings, job.units)
    show_findings(told, detail, unchecked=unchecked, all_in="findings.csv")
    tell_words(
        f"{job.name}: {counted(outcome.rooms, 'room')}, "
        f"{counted(outcome.parts.distinct, 'different part')}, "
        f"{outcome.parts.total} in all"
    )
    if not outcome.cut_files_written:
        tell_words("No cut files: findings failed; --despite-failures writes them all the same.")
        tell(f"Findings and models are in {folder}; open {folder / 'summary.html'}")
        return
    if any(nest.solution.stop is StopReason.CANCELLED for nest in outcome.nests):
        tell_words("The nests were stopped; the best answers so far are kept.")
    nest_table(outcome).tell()
    if outcome.bar_nests:
        bar_table(outcome, job.units).tell()
    for left_out in outcome.left_out:
        tell_words(f"Not complete, {left_out.material} is left out: {left_out.why}")
    tell(f"Written to {folder}; open {folder / 'summary.html'}")


def nest_table(outcome: HasNests) -> TextTable:
    """Return the table of the nests: sheets beside the least that is possible and what proves it,
    how much of the price a better nest could save at most, layouts, yield.

    After a further search it says what that gained.
    """
    searched_on = any(nest.before is not None for nest in outcome.nests)
    table = TextTable()
    table.add_texts("material")
    table.add_numbers("pieces", "sheets", ("at", "least"))
    table.add_texts("proven by")
    table.add_numbers(("could", "save"), "layouts", "yield")
    if searched_on:
        table.add_texts("search on")
    for nest in outcome.nests:
        table.add_row(
            nest.group.material.description,
            str(sum(part.quantity for part in nest.group.parts)),
            str(nest.solution.sheets),
            str(nest.solution.mix_bound),
            bound_text(nest.solution),
            saving_text(nest.solution.could_save),
            str(nest.solution.distinct),
            f"{100 * solution_yield(nest.instance, nest.solution):.1f} %",
            *((gained(nest),) if searched_on else ()),
        )
    if len(outcome.nests) > 1:
        solutions = [nest.solution for nest in outcome.nests]
        table.add_row(
            "all materials",
            str(sum(part.quantity for nest in outcome.nests for part in nest.group.parts)),
            str(sum(solution.sheets for solution in solutions)),
            str(sum(solution.mix_bound for solution in solutions)),
            "",
            saving_text(fsum(solution.could_save for solution in solutions)),
            str(sum(solution.distinct for solution in solutions)),
            f"{100 * whole_yield(outcome):.1f} %",
        )
    return table


def bound_text(solution: Solution) -> str:
    """Return what proves the least number of sheets: of any sizes, or of those in this mix."""
    alone = solution.mix_bound == solution.lower_bound
    return solution.bound_kind if alone else "price of this mix"


def saving_text(money: float) -> str:
    """Return what a better nest could save of the price at most."""
    return f"{money:.2f}" if money else "nothing"


def gained(nest: Nest) -> str:
    """Return what the further search of a nest gained."""
    if nest.before is None:
        return "proven before" if nest.solution.stop is StopReason.PROVEN else "not searched"
    before, after = nest.before, nest.solution
    if after is before:
        return "nothing"
    changes = [
        f"{name} {old} -> {new}"
        for name, old, new in (
            ("sheets", before.sheets, after.sheets),
            ("price", f"{before.price:.2f}", f"{after.price:.2f}"),
            ("layouts", before.distinct, after.distinct),
        )
        if old != new
    ]
    return ", ".join(changes)


def bar_table(outcome: Outcome, units: Units) -> TextTable:
    """Return the table of the bars to buy, beside the least that is possible."""
    table = TextTable()
    table.add_texts("bars")
    table.add_numbers("pieces", "length", "to buy", "at least", "patterns", "yield")
    for nest in outcome.bar_nests:
        profile = f", {profile_shown(nest.profile, units)}" if nest.profile else ""
        for bar in nest.question.bars:
            table.add_row(
                f"{nest.material}{profile}",
                str(sum(piece.quantity for piece in nest.question.pieces)),
                show_length(to_mm(bar.length), units),
                str(nest.answer.bars_of(bar.id)),
                f"{nest.answer.lower_bound:.0f}",
                str(nest.answer.distinct),
                f"{100 * length_yield(nest.question, nest.answer):.1f} %",
            )
    return table


def whole_yield(outcome: HasNests) -> float:
    """Return the share of all sheet area, over all materials, that becomes parts."""
    parts = sheets = 0.0
    for nest in outcome.nests:
        area = sheet_area(nest.instance, nest.solution.layouts)
        sheets += area
        parts += area * solution_yield(nest.instance, nest.solution)
    return parts / sheets if sheets else 1.0


def sheet_area(instance: Instance, layouts: Iterable[Layout]) -> int:
    """Return the area of all sheets cut, in square ticks."""
    areas = {stock.id: stock.length * stock.width for stock in instance.stocks}
    return sum(areas[layout.stock] * layout.runs for layout in layouts)


def show_findings(
    findings: Iterable[ToldFinding],
    detail: Detail,
    *,
    unchecked: Sequence[NotChecked] = (),
    all_in: str = "",
) -> bool:
    """Print what is not well, failures last, how much is not checked, then the counts; return
    whether anything failed.

    `all_in` is the file that lists all findings, blank where none is written.
    """
    listed = tuple(findings)
    each = f"each is in {all_in}; --verbose shows it here" if all_in else "--verbose shows each"
    failed = [finding for finding in listed if finding.severity is Severity.FAIL]
    warnings = [finding for finding in listed if finding.severity is Severity.WARN]
    if detail is Detail.EACH:
        for finding in warnings:
            tell_words(in_full(finding), lead="WARN  ", style="bold yellow", hanging=6)
        show_failures(tuple(map(in_full, failed)))
    else:
        if warnings:
            tell_words(f"Warnings by kind, both hands of a set as one ({each}):")
            show_kinds(kind_lines(warnings))
        told = told_failures(failed)
        show_failures(told.in_full)
        if told.rest:
            number = sum(kind.count for kind in told.rest)
            words = f"{number} more, both hands of a set as one ({each}):"
            tell_words(words, lead="FAIL  ", style="bold red", hanging=6)
            show_kinds(told.rest)
    if any(finding.basis for finding in listed):
        tell_words(AID_ONLY)
    if unchecked:
        show_unchecked(unchecked, detail, each)
    counts = Counter(finding.severity for finding in listed)
    tell("Findings: " + ", ".join(f"{counts[severity]} {severity}" for severity in Severity))
    return bool(failed)


def show_unchecked(unchecked: Sequence[NotChecked], detail: Detail, each: str) -> None:
    """Print how many things are not checked, and where each stands or what it is."""
    number = len(unchecked)
    words = f"{counted(number, 'thing')} {'is' if number == 1 else 'are'} not checked"
    if detail is Detail.KINDS:
        tell_words(f"{words} ({each}).")
        return
    tell_words(f"{words}:")
    for line in unchecked:
        tell_words(f"      {line.where}: {line.what}: {line.why}", hanging=8)


def show_kinds(kinds: Iterable[KindLine]) -> None:
    """Print a line for each kind."""
    for kind in kinds:
        tell_words(f"{kind.count:>5} x {kind.words}", hanging=8)


def show_failures(lines: Iterable[str]) -> None:
    """Print failures, marked as such."""
    for line in lines:
        tell_words(line, lead="FAIL  ", style="bold red", hanging=6)
