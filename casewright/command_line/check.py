"""`casewright check`."""

from __future__ import annotations

import typer

from casewright.command_line.exit_codes import ExitCode
from casewright.command_line.job_in import job_in
from casewright.command_line.options import Fresh, JobFile, Verbose
from casewright.command_line.told_plainly import told_plainly
from casewright.terminal.interrupt import as_the_system_ends


def check(job: JobFile, fresh: Fresh = False, verbose: Verbose = False) -> None:
    """Check a job and show its findings; nothing is written."""
    with told_plainly():
        whole = job_in(job)
        with as_the_system_ends():
            from casewright.cache_folder import remembering
            from casewright.stages.sets.check_stage import check as check_job
            from casewright.terminal.show import detail_of, show_findings, shown_progress
            from parametric.findings.telling import told_findings

        with remembering(fresh=fresh), shown_progress() as progress:
            sets = check_job(whole, progress)
        detail = detail_of(verbose=verbose)
        told = told_findings(sets.findings, whole.units)
        if show_findings(told, detail, unchecked=sets.not_checked):
            raise typer.Exit(ExitCode.FINDING_FAILED)
