"""The command line. What a command needs is imported when it runs, so that `--help` is quick."""

from __future__ import annotations

import json
import sys
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from enum import IntEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from casewright.choices import EffortChoice, HandChoice, StagesChoice, UnitChoice
from casewright.errors import CannotBeMade, CasewrightError, DoesNotFit
from casewright.interrupt import NOTHING_WRITTEN, as_the_system_ends, end_plainly, was_pressed

if TYPE_CHECKING:
    from casewright.job import Job
    from casewright.pipeline import Outcome

EXIT_CODES = (
    "Exit codes: 0 done, warnings included; 1 a finding failed, so no cut files were written, or "
    "a kit list is short; "
    "2 the command, the job's files or the output folder cannot be used; 3 the job cannot be made "
    "or does not fit its stock; 4 a bug in casewright; 130 stopped by Ctrl-C."
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
    INTERRUPTED = 130  # as shells count: 128 and the number of the signal


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
    effort: Annotated[
        EffortChoice, typer.Option(help="How much work the nests may cost.")
    ] = EffortChoice.NORMAL,
    fewer_layouts: Annotated[
        float,
        typer.Option(
            metavar="PERCENT", min=0, max=100, help="What fewer layouts may cost over the cheapest."
        ),
    ] = 0.0,
    extra_minute: Annotated[
        bool,
        typer.Option(
            "--extra-minute",
            help="Search on for up to a minute, keep what is better, and say what that gained. "
            "The clock decides: another build may get another answer.",
        ),
    ] = False,
) -> None:
    """Build everything: cut sheets, part files, lists, models, summary.

    Ctrl-C while it nests ends the search and keeps the best answers until then; a second one ends
    the build.
    """
    with told_plainly():
        from casewright.nest_settings import NestSettings
        from casewright.output_folder import check_replaceable, write_folder
        from casewright.pipeline import build as build_job
        from casewright.terminal import ShownProgress, show_outcome
        from nesting.settings import Effort, Preference

        settings = NestSettings(
            effort=Effort[effort.name],
            preference=Preference(extra_price=fewer_layouts / 100),
            extra_seconds=60.0 if extra_minute else 0.0,
        )
        folder = out if out is not None else Path("out") / job.stem
        whole = job_in(job)
        check_replaceable(folder)
        with ShownProgress() as progress:
            outcome = build_job(whole, progress, settings, despite_failures=despite_failures)
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
def kit(
    job: JobFile,
    set_name: Annotated[
        str | None, typer.Option("--set", help="For one room with this set. Default: the job.")
    ] = None,
    hand: Annotated[HandChoice | None, typer.Option(help="Of the set.")] = None,
    compare: Annotated[
        Path | None,
        typer.Option(metavar="LIST", help="CSV: article, quantity. Shows what is short and over."),
    ] = None,
) -> None:
    """Show what is packed for a room or the whole job, counted from the joints.

    With --compare a list is held against what the joints need, spares left out; the exit code is 1
    when it is short.
    """
    with told_plainly():
        from casewright.intake.read_kit_list import read_kit_list
        from casewright.kit_command import show_kit
        from parametric.hand import Hand

        whole = job_in(job)
        listed = None if compare is None else read_kit_list(compare)
        if show_kit(whole, set_name, None if hand is None else Hand(hand.value), listed):
            raise typer.Exit(ExitCode.FINDING_FAILED)


@app.command()
def openings(
    job: JobFile,
    set_name: Annotated[
        str | None, typer.Option("--set", help="Only this set. Default: every set in use.")
    ] = None,
    effort: Annotated[
        EffortChoice, typer.Option(help="How much work each nest may cost, as of a build.")
    ] = EffortChoice.NORMAL,
    out: Annotated[
        Path | None,
        typer.Option(metavar="TABLE", help="CSV with all of it, room by room; is replaced."),
    ] = None,
) -> None:
    """Show how few widths of bench fill the measured openings, and what each choice costs.

    For each set: as it is, the fewest widths that scribe and filler allow, one fewer and one more;
    which rooms each fills, the filler that is left, and the sheets of the whole job.
    """
    with told_plainly():
        from casewright.nest_settings import NestSettings
        from casewright.opening_sheets import opening_sizes
        from casewright.openings_command import refuse_unwritable, show_opening_sizes, write_table
        from casewright.terminal import ShownProgress
        from nesting.settings import Effort

        if out is not None:
            refuse_unwritable(out)
        whole = job_in(job)
        settings = NestSettings(effort=Effort[effort.name])
        with ShownProgress() as progress:
            sizes = opening_sizes(whole, set_name, settings, progress)
        show_opening_sizes(sizes, whole, effort.value)
        if out is not None:
            write_table(out, sizes, whole.units)


@app.command()
def nest(
    pieces: Annotated[
        Path,
        typer.Argument(
            metavar="PIECES",
            help="CSV: piece, length, width, quantity, turn (yes or no); may have group, priority.",
        ),
    ],
    stock: Annotated[
        Path,
        typer.Argument(
            metavar="STOCK",
            help="CSV: stock, length, width, quantity (blank: no limit), price (blank in all rows: "
            "by area); may have kind (sheet or remnant).",
        ),
    ],
    defects: Annotated[
        Path | None, typer.Option(help="CSV: stock, x, y, length, width of places not to use.")
    ] = None,
    units: Annotated[UnitChoice, typer.Option(help="What bare numbers count.")] = UnitChoice.MM,
    gap: Annotated[
        str | None,
        typer.Option(
            help="Kept between pieces: the bit's diameter, or the blade's kerf. 0 without it."
        ),
    ] = None,
    trim: Annotated[
        str, typer.Option(help="Lost along the edges: one length, or left,right,bottom,top.")
    ] = "0",
    rim: Annotated[
        str | None, typer.Option(help="How far small pieces stay from the trimmed edges.")
    ] = None,
    rim_side: Annotated[
        str | None, typer.Option(help="Pieces with no longer side than this are small.")
    ] = None,
    edge_to_edge: Annotated[
        bool, typer.Option("--edge-to-edge/--free", help="For a panel saw, or for a router.")
    ] = False,
    stages: Annotated[
        StagesChoice | None,
        typer.Option(help="How often cuts may change direction on the saw. Default: 3."),
    ] = None,
    book_height: Annotated[
        str | None, typer.Option(help="Highest pile of sheets that the saw cuts at once.")
    ] = None,
    thickness: Annotated[str | None, typer.Option(help="Of one sheet, for the pile.")] = None,
    fewer_layouts: Annotated[
        float | None,
        typer.Option(metavar="PERCENT", help="What fewer layouts may cost over the cheapest."),
    ] = None,
    reusable: Annotated[
        str | None,
        typer.Option(metavar="LENGTHxWIDTH", help="Least offcut to keep. Default: 600 x 200 mm."),
    ] = None,
    effort: Annotated[
        EffortChoice | None, typer.Option(help="How much work to do. Default: normal.")
    ] = None,
    seconds: Annotated[
        float | None,
        typer.Option(help="Search so long instead; answers can then not be repeated."),
    ] = None,
    seed: Annotated[int, typer.Option(help="The same seed gives the same answer.")] = 1,
    workers: Annotated[
        int | None, typer.Option(help="Threads; the answer does not depend on them. Default: all.")
    ] = None,
    out: Annotated[
        Path | None,
        typer.Option(help="Output folder, replaced whole. Default: out/ and the pieces' name."),
    ] = None,
) -> None:
    """Nest any list of rectangles, without a job: tables, nest.json, DXF, maps.

    Ctrl-C ends the search and keeps the best answer until then.
    """
    with told_plainly():
        from casewright.nest_command.options import OptionTexts
        from casewright.nest_command.question import Files
        from casewright.nest_command.run import nest as run_nest
        from parametric.lengths import Units

        run_nest(
            Files(pieces=pieces, stock=stock, defects=defects),
            OptionTexts(
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
            ),
            out if out is not None else Path("out") / pieces.stem,
        )


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

    end_plainly()
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
    with as_the_system_ends():
        try:
            yield
        except (typer.Exit, typer.Abort):
            raise
        except KeyboardInterrupt as interrupt:
            raise interrupted(*interrupt.args) from None
        except (CannotBeMade, DoesNotFit) as error:
            sys.stderr.write(f"{error}\n")
            raise typer.Exit(ExitCode.DOES_NOT_FIT) from None
        except CasewrightError as error:
            sys.stderr.write(f"{error}\n")
            raise typer.Exit(ExitCode.INPUT) from None
        except Exception:
            if was_pressed():
                raise interrupted() from None
            sys.stderr.write("This is a bug in casewright; nothing was written.\n")
            traceback.print_exc()
            raise typer.Exit(ExitCode.BUG) from None


def interrupted(said: str = NOTHING_WRITTEN) -> typer.Exit:
    """Tell that Ctrl-C ended the command, and what is written; return what ends the process."""
    sys.stderr.write(f"Stopped by Ctrl-C; {said}.\n")
    return typer.Exit(ExitCode.INTERRUPTED)


if __name__ == "__main__":
    main()
