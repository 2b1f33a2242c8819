"""The command line. What a command needs is imported when it runs, so that `--help` is quick."""

from __future__ import annotations

import json
import sys
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from enum import IntEnum, StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from casewright.errors import CannotBeMade, CasewrightError, DoesNotFit

if TYPE_CHECKING:
    from casewright.job import Job
    from casewright.pipeline import Outcome

EXIT_CODES = (
    "Exit codes: 0 done, warnings included; 1 a finding failed, so no cut files were written; "
    "2 the command, the job's files or the output folder cannot be used; 3 the job cannot be made "
    "or does not fit its stock; 4 a bug in casewright."
)

app = typer.Typer(
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    epilog=EXIT_CODES,
    help="From sizes, a hand and a room schedule to cut sheets, models and lists for fixed room "
    "furniture.",
)


class ExitCode(IntEnum):
    """What the process tells the shell; documented in `EXIT_CODES`."""

    DONE = 0
    FINDING_FAILED = 1
    INPUT = 2
    DOES_NOT_FIT = 3
    BUG = 4


class UnitChoice(StrEnum):
    """Units of a new job."""

    INCH = "inch"
    MM = "mm"


JobFile = Annotated[Path, typer.Argument(metavar="JOB", help="The job file (YAML).")]


@app.command()
def build(
    job: JobFile,
    out: Annotated[
        Path | None,
        typer.Option(help="Output folder, replaced whole. Default: out/ and the job file's name."),
    ] = None,
    despite_failures: Annotated[
        bool, typer.Option("--despite-failures", help="Write cut files even if findings fail.")
    ] = False,
) -> None:
    """Build everything: cut sheets, part files, lists, models, summary."""
    with told_plainly():
        from casewright.output_folder import check_replaceable, write_folder
        from casewright.pipeline import build as build_job
        from casewright.terminal import ShownProgress, show_outcome

        folder = out if out is not None else Path("out") / job.stem
        whole = job_in(job)
        check_replaceable(folder)
        with ShownProgress() as progress:
            outcome = build_job(whole, progress, despite_failures=despite_failures)
        write_folder(folder, outcome.files)
        show_outcome(outcome, folder, whole)
        end_with_findings(outcome)


@app.command()
def check(job: JobFile) -> None:
    """Check a job and show its findings; nothing is written."""
    with told_plainly():
        from casewright.pipeline import check as check_job
        from casewright.terminal import ShownProgress, show_findings

        whole = job_in(job)
        with ShownProgress() as progress:
            sets = check_job(whole, progress)
        if show_findings(sets.findings):
            raise typer.Exit(ExitCode.FINDING_FAILED)


@app.command()
def schema() -> None:
    """Print the JSON Schema of job files, for editors and other programs."""
    with told_plainly():
        from casewright.intake.job_schema import job_json_schema

        sys.stdout.write(json.dumps(job_json_schema(), indent=2, sort_keys=True) + "\n")


@app.command()
def new(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="A new or empty folder.")],
    units: Annotated[UnitChoice, typer.Option(help="Units of the job.")] = UnitChoice.INCH,
) -> None:
    """Start a new job: a commented job file and a room schedule that build as they are."""
    with told_plainly():
        from casewright.intake.template import JOB_FILE, template_files
        from casewright.output_folder import write_new_folder
        from parametric.lengths import Units

        texts = template_files(Units(units.value))
        write_new_folder(folder, {name: text.encode() for name, text in texts.items()})
        sys.stdout.write(f"Started a job in {folder}. Build it with:\n")
        sys.stdout.write(f"  casewright build {folder / JOB_FILE}\n")


def main() -> None:
    """Run the command line."""
    app()


def job_in(file: Path) -> Job:
    """Return the job that the file describes.

    Raises:
        InputErrors: its files cannot be used.
    """
    from casewright.intake.read_job import read_job

    return read_job(file)


def end_with_findings(outcome: Outcome) -> None:
    """End the process with the code for failed findings, if there are any.

    Raises:
        Exit: a finding failed.
    """
    from parametric.findings.finding import Severity

    if any(finding.severity is Severity.FAIL for finding in outcome.findings):
        raise typer.Exit(ExitCode.FINDING_FAILED)


@contextmanager
def told_plainly() -> Iterator[None]:
    """Tell what a user can put right in plain lines, each kind with its exit code.

    Raises:
        Exit: something was told.
    """
    try:
        yield
    except (typer.Exit, typer.Abort, KeyboardInterrupt):
        raise
    except (CannotBeMade, DoesNotFit) as error:
        sys.stderr.write(f"{error}\n")
        raise typer.Exit(ExitCode.DOES_NOT_FIT) from None
    except CasewrightError as error:
        sys.stderr.write(f"{error}\n")
        raise typer.Exit(ExitCode.INPUT) from None
    except Exception:
        sys.stderr.write("This is a bug in casewright; nothing was written.\n")
        traceback.print_exc()
        raise typer.Exit(ExitCode.BUG) from None


if __name__ == "__main__":
    main()
