"""`casewright build`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from casewright.command_line.exit_codes import ExitCode
from casewright.command_line.job_in import job_in
from casewright.command_line.options import (
    Fresh,
    JobFile,
    ReplaceEdited,
    Verbose,
    Wait,
    asked,
    output_folder,
)
from casewright.command_line.told_plainly import told_plainly
from casewright.commands.choices import EffortChoice
from casewright.terminal.interrupt import as_the_system_ends

if TYPE_CHECKING:
    from casewright.pipeline import Outcome

Output = Annotated[
    Path | None,
    typer.Option(help="Output folder, replaced whole. Default: out/ and the job file's name."),
]
DespiteFailures = Annotated[
    bool, typer.Option("--despite-failures", help="Write cut files even if findings fail.")
]
DespiteShortage = Annotated[
    bool,
    typer.Option(
        "--despite-shortage",
        help="Leave out materials that are short of stock, and build the others.",
    ),
]
NestEffort = Annotated[EffortChoice, typer.Option(help="How hard to search for the nests.")]
FewerLayouts = Annotated[
    float,
    typer.Option(
        metavar="PERCENT",
        min=0,
        max=100,
        help="How much more than the cheapest fewer layouts may cost.",
    ),
]
ExtraMinute = Annotated[
    bool,
    typer.Option(
        "--extra-minute",
        help="Search on for up to a minute, keep what is better, and say what that gained. "
        "The clock decides: another build may get another answer.",
    ),
]


def build(
    job: JobFile,
    out: Output = None,
    despite_failures: DespiteFailures = False,
    despite_shortage: DespiteShortage = False,
    effort: NestEffort = EffortChoice.NORMAL,
    fewer_layouts: FewerLayouts = 0.0,
    extra_minute: ExtraMinute = False,
    fresh: Fresh = False,
    replace_edited: ReplaceEdited = False,
    wait: Wait = False,
    verbose: Verbose = False,
) -> None:
    """Build everything: cut sheets, part files, lists, models, summary.

    Ctrl-C while it nests ends the search and keeps the best answers so far; a second one ends the
    build.
    """
    with told_plainly() as written:
        whole = job_in(job)
        with as_the_system_ends():  # the kernel takes seconds to load
            from casewright.cache_folder import remembering
            from casewright.output.folder import claimed
            from casewright.output.size import build_bytes
            from casewright.pipeline import build as build_job
            from casewright.stages.nest.nest_settings import NestSettings
            from casewright.stages.nested.nested_stage import OnShortage
            from casewright.terminal.show import detail_of, show_outcome, shown_progress
            from nesting.question.settings import Effort, Preference

        settings = NestSettings(
            effort=Effort[effort.name],
            preference=Preference(extra_price=fewer_layouts / 100),
            extra_seconds=60.0 if extra_minute else 0.0,
        )
        folder = output_folder(out, job)
        request = asked(folder, whole.files, build_bytes(whole), replace_edited, wait)
        with claimed(request) as output:
            with remembering(fresh=fresh), shown_progress() as progress:
                outcome = build_job(
                    whole,
                    progress,
                    settings,
                    despite_failures=despite_failures,
                    on_shortage=OnShortage.LEAVE_OUT if despite_shortage else OnShortage.STOP,
                )
            with written.writing(folder):
                output.write(outcome.files)
        show_outcome(outcome, folder, whole, detail_of(verbose=verbose))
        _end_with_findings(outcome)


def _end_with_findings(outcome: Outcome) -> None:
    """End the process with the code for failed findings, if there are any.

    Raises:
        Exit: a finding failed.
    """
    from parametric.findings.finding import Severity

    if any(finding.severity is Severity.FAIL for finding in outcome.findings):
        raise typer.Exit(ExitCode.FINDING_FAILED)
