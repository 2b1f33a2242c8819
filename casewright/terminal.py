"""What a build shows in the terminal: progress while it runs, tables when it is done."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from math import fsum
from pathlib import Path
from types import TracebackType
from typing import Self

from rich.console import Console
from rich.progress import MofNCompleteColumn, TaskID
from rich.table import Table

from casewright.job import Job
from casewright.nest_stage import Nest
from casewright.pipeline import Outcome
from casewright.progress_line import progress_line
from casewright.wording import counted
from nesting.instance import Instance
from nesting.linear.answer import length_yield
from nesting.solution import Layout, Solution, StopReason, solution_yield
from nesting.ticks import to_mm
from parametric.findings.finding import AID_ONLY, Finding, Severity
from parametric.lengths import Units, show_length

SHOWN_FINDINGS = 20


class ShownProgress:
    """Shows one line for each stage, on the error stream, so that output can be piped."""

    def __init__(self) -> None:
        """Prepare the display."""
        self._progress = progress_line(MofNCompleteColumn())
        self._task: TaskID | None = None

    def __enter__(self) -> Self:
        """Start the display."""
        self._progress.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Stop the display."""
        self._progress.stop()

    def stage(self, name: str, steps: int) -> None:
        """Show a new stage."""
        self._task = self._progress.add_task(name, total=steps or None, what="")

    def step(self, what: str) -> None:
        """Show one more step of the stage."""
        if self._task is not None:
            self._progress.update(self._task, advance=1, what=what)

    def note(self, what: str) -> None:
        """Show what the stage is at."""
        if self._task is not None:
            self._progress.update(self._task, what=what)


def show_outcome(outcome: Outcome, folder: Path, job: Job) -> None:
    """Print what was built: rooms, parts, sheets, yield, bound and findings."""
    console = Console()
    show_findings(outcome.findings)
    console.print(
        f"{job.name}: {counted(outcome.rooms, 'room')}, "
        f"{counted(outcome.parts.distinct, 'different part')}, "
        f"{outcome.parts.total} in all"
    )
    if outcome.cut_files_written:
        console.print(nest_table(outcome))
        if any(nest.solution.stop is StopReason.CANCELLED for nest in outcome.nests):
            console.print("The nests were stopped; the best answers until then are kept.")
        if outcome.bar_nests:
            console.print(bar_table(outcome, job.units))
        console.print(f"Written to {folder}; open {folder / 'summary.html'}")
    else:
        console.print(
            f"No cut files: findings failed. Findings and models are in {folder}; "
            "--despite-failures writes cut files all the same."
        )


def nest_table(outcome: Outcome) -> Table:
    """Return the table of the nests: sheets beside the least that is possible and what proves it,
    the share of the price that a better nest could save at most, layouts, yield.

    After a further search it says what that gained.
    """
    searched_on = any(nest.before is not None for nest in outcome.nests)
    table = Table(box=None, header_style="bold", pad_edge=False)
    table.add_column("material", overflow="fold")
    for heading in ("pieces", "sheets", "at\nleast"):
        table.add_column(heading, justify="right", no_wrap=True)
    table.add_column("proven by", overflow="fold")
    for heading in ("price\ngap", "layouts", "yield"):
        table.add_column(heading, justify="right", no_wrap=True)
    if searched_on:
        table.add_column("search on", justify="right", overflow="fold")
    for nest in outcome.nests:
        table.add_row(
            nest.group.material.description,
            str(sum(part.quantity for part in nest.group.parts)),
            str(nest.solution.sheets),
            str(nest.solution.lower_bound),
            nest.solution.bound_kind,
            f"{100 * nest.solution.gap:.1f} %",
            str(nest.solution.distinct),
            f"{100 * solution_yield(nest.instance, nest.solution):.1f} %",
            *((gained(nest),) if searched_on else ()),
        )
    if len(outcome.nests) > 1:
        solutions = [nest.solution for nest in outcome.nests]
        table.add_row(
            "all materials",
            str(outcome.parts.total),
            str(sum(solution.sheets for solution in solutions)),
            str(sum(solution.lower_bound for solution in solutions)),
            "",
            f"{100 * whole_gap(solutions):.1f} %",
            str(sum(solution.distinct for solution in solutions)),
            f"{100 * whole_yield(outcome):.1f} %",
        )
    return table


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


def whole_gap(solutions: Iterable[Solution]) -> float:
    """Return the share of the whole price that better nests could save at most."""
    pairs = [(solution.price, solution.price_bound) for solution in solutions]
    price, bound = (fsum(side) for side in zip(*pairs, strict=True))
    return max(0.0, price - bound) / price if price > 0 else 0.0


def bar_table(outcome: Outcome, units: Units) -> Table:
    """Return the table of the bars to buy, beside the least that is possible."""
    table = Table(box=None, header_style="bold", pad_edge=False)
    table.add_column("bars")
    for heading in ("pieces", "length", "to buy", "at least", "patterns", "yield"):
        table.add_column(heading, justify="right")
    for nest in outcome.bar_nests:
        for bar in nest.question.bars:
            table.add_row(
                f"{nest.material}, {nest.profile}",
                str(sum(piece.quantity for piece in nest.question.pieces)),
                show_length(to_mm(bar.length), units),
                str(nest.answer.bars_of(bar.id)),
                f"{nest.answer.lower_bound:.0f}",
                str(nest.answer.distinct),
                f"{100 * length_yield(nest.question, nest.answer):.1f} %",
            )
    return table


def whole_yield(outcome: Outcome) -> float:
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


def show_findings(findings: Iterable[Finding]) -> bool:
    """Print the counts and the first of what is not well; return whether anything failed."""
    console = Console()
    listed = tuple(findings)
    counts = Counter(finding.severity for finding in listed)
    console.print(
        "Findings: " + ", ".join(f"{counts[severity]} {severity}" for severity in Severity)
    )
    amiss = [finding for finding in listed if finding.severity is not Severity.OK]
    amiss.sort(key=lambda finding: finding.severity is not Severity.FAIL)
    for finding in amiss[:SHOWN_FINDINGS]:
        console.print(
            f"  {finding.severity.upper():4} {finding.where}: {finding.message}"
            f" ({finding.source}); {finding.advice}",
            markup=False,
            highlight=False,
        )
    if len(amiss) > SHOWN_FINDINGS:
        console.print(f"  and {len(amiss) - SHOWN_FINDINGS} more, all in summary.html")
    if any(finding.basis for finding in listed):
        console.print(AID_ONLY)
    return counts[Severity.FAIL] > 0
