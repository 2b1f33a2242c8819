"""The command line. What a command needs is imported when it runs, so that `--help` is quick."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from enum import IntEnum
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING, Annotated

import typer

from casewright.commands.choices import EffortChoice, HandChoice, StagesChoice, UnitChoice
from casewright.errors import CannotBeMade, CasewrightError, DoesNotFit
from casewright.progress import Cancelled
from casewright.terminal.interrupt import as_the_system_ends, end_plainly, was_pressed
from casewright.terminal.standard_streams import standard_streams
from casewright.written import Written

if TYPE_CHECKING:
    from casewright.job import Job
    from casewright.output.folder import Request
    from casewright.pipeline import Outcome

EXIT_CODES = (
    "Exit codes: 0 done, warnings included; 1 a finding failed, so no cut files were written, a "
    "material was left out as its stock does not suffice, or a kit list is short; "
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
ReplaceEdited = Annotated[
    bool,
    typer.Option(
        "--replace-edited",
        help="Replace an earlier output even if files in it were edited since; edits are lost.",
    ),
]
Wait = Annotated[
    bool, typer.Option("--wait", help="If another build is writing the folder, wait for its end.")
]
Fresh = Annotated[
    bool,
    typer.Option("--fresh", help="Make all anew: neither use nor keep what earlier runs made."),
]
Verbose = Annotated[
    bool, typer.Option("--verbose", help="Show each warning, not one line for each kind.")
]


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
    despite_shortage: Annotated[
        bool,
        typer.Option(
            "--despite-shortage",
            help="Leave out materials whose stock does not suffice, and build the others.",
        ),
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
    fresh: Fresh = False,
    replace_edited: ReplaceEdited = False,
    wait: Wait = False,
    verbose: Verbose = False,
) -> None:
    """Build everything: cut sheets, part files, lists, models, summary.

    Ctrl-C while it nests ends the search and keeps the best answers until then; a second one ends
    the build.
    """
    with told_plainly() as written:
        whole = job_in(job)
        with as_the_system_ends():  # the kernel takes seconds to load
            from casewright.cache_folder import remembering
            from casewright.output.folder import claimed
            from casewright.output.size import build_bytes
            from casewright.pipeline import build as build_job
            from casewright.stages.nest_settings import NestSettings
            from casewright.stages.nested_stage import OnShortage
            from casewright.terminal.show import detail_of, show_outcome, shown_progress
            from nesting.question.settings import Effort, Preference

        settings = NestSettings(
            effort=Effort[effort.name],
            preference=Preference(extra_price=fewer_layouts / 100),
            extra_seconds=60.0 if extra_minute else 0.0,
        )
        folder = out if out is not None else Path("out") / job.stem
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
        end_with_findings(outcome)


@app.command()
def check(job: JobFile, fresh: Fresh = False, verbose: Verbose = False) -> None:
    """Check a job and show its findings; nothing is written."""
    with told_plainly():
        whole = job_in(job)
        with as_the_system_ends():
            from casewright.cache_folder import remembering
            from casewright.pipeline import check as check_job
            from casewright.terminal.show import detail_of, show_findings, shown_progress

        with remembering(fresh=fresh), shown_progress() as progress:
            sets = check_job(whole, progress)
        detail = detail_of(verbose=verbose)
        if show_findings(sets.findings, detail, unchecked=sets.not_checked):
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
        whole = job_in(job)
        with as_the_system_ends():
            from casewright.commands.kit_command import show_kit
            from casewright.intake.read_kit_list import read_kit_list
            from parametric.geometry.hand import Hand

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
        typer.Option(help="Output folder for a table with all of it, room by room."),
    ] = None,
    replace_edited: ReplaceEdited = False,
    wait: Wait = False,
) -> None:
    """Show how few widths of bench fill the measured openings, and what each choice costs.

    For each set: as it is, the fewest widths that scribe and filler allow, one fewer and one more;
    which rooms each fills, the filler that is left, and the sheets of the whole job.
    """
    with told_plainly() as written:
        whole = job_in(job)
        with as_the_system_ends():
            from casewright.commands.openings_command import opening_files, show_opening_sizes
            from casewright.output.folder import claimed
            from casewright.stages.nest_settings import NestSettings
            from casewright.stages.opening_sheets import opening_sizes
            from casewright.terminal.show import shown_progress
            from nesting.question.settings import Effort

        settings = NestSettings(effort=Effort[effort.name])
        with ExitStack() as stack:
            output = None
            if out is not None:
                request = asked(out, whole.files, 0, replace_edited, wait)
                output = stack.enter_context(claimed(request))
            with shown_progress() as progress:
                sizes = opening_sizes(whole, set_name, settings, progress)
            if output is not None:
                with written.writing(output.request.folder):
                    output.write(opening_files(sizes, whole.units))
        show_opening_sizes(sizes, whole, effort.value)


@app.command()
def nest(
    pieces: Annotated[
        Path,
        typer.Argument(
            metavar="PIECES",
            help="CSV or XLSX: piece, length, width, quantity, turn (yes or no); may have group, "
            "priority, spare, material, thickness, and further columns.",
        ),
    ],
    stock: Annotated[
        list[Path],
        typer.Argument(
            metavar="STOCK...",
            help="CSV or XLSX, one or several: stock, length, width, quantity (blank: no limit), "
            "price (blank in all rows: by area); may have kind (sheet or remnant), material, "
            "thickness.",
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
    column: Annotated[
        list[str] | None,
        typer.Option(
            metavar="NAME=HEADER",
            help="What the list of pieces calls one of its columns: --column length=Long. "
            "Any number of times.",
        ),
    ] = None,
    spare: Annotated[
        str, typer.Option(metavar="PERCENT", help="Cut so many more of each piece, rounded up.")
    ] = "0",
    what_if: Annotated[
        bool,
        typer.Option(
            "--what-if",
            help="Ask in other ways too, and show one table: each size of sheet alone, without "
            "remnants, with --other-gap, free and edge to edge.",
        ),
    ] = False,
    other_gap: Annotated[str | None, typer.Option(help="A second gap, for --what-if.")] = None,
    out: Annotated[
        Path | None,
        typer.Option(help="Output folder, replaced whole. Default: out/ and the pieces' name."),
    ] = None,
    replace_edited: ReplaceEdited = False,
    wait: Wait = False,
) -> None:
    """Nest any list of rectangles, without a job: tables, nest.json, DXF, maps.

    Ctrl-C ends the search and keeps the best answer until then.
    """
    with told_plainly() as written:
        from casewright.commands.nest_command.columns import column_names, percentage
        from casewright.commands.nest_command.options import OptionTexts
        from casewright.commands.nest_command.question import Files
        from casewright.commands.nest_command.run import compare
        from casewright.commands.nest_command.run import nest as run_nest
        from parametric.stock.lengths import Units

        files = Files(
            pieces=pieces,
            stock=tuple(stock),
            defects=defects,
            columns=column_names(column or ()),
            spare_percent=percentage(spare),
        )
        folder = out if out is not None else Path("out") / pieces.stem
        run = compare if what_if else run_nest
        run(
            files,
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
                other_gap=other_gap,
            ),
            asked(folder, files.all, 0, replace_edited, wait),
            written,
        )


@app.command()
def bars(
    pieces: Annotated[
        Path,
        typer.Argument(
            metavar="PIECES",
            help="CSV or XLSX: piece, length, quantity; may have group, spare, material, and "
            "further columns.",
        ),
    ],
    stock: Annotated[
        list[Path],
        typer.Argument(
            metavar="BARS...",
            help="CSV or XLSX, one or several: bar, length, quantity (blank: no limit), price "
            "(blank in all rows: by length); may have kind (bar or remnant), material, kerf.",
        ),
    ],
    units: Annotated[UnitChoice, typer.Option(help="What bare numbers count.")] = UnitChoice.MM,
    kerf: Annotated[
        str, typer.Option(help="Width of the cut, where a bar has none of its own.")
    ] = "3.2 mm",
    end_trim: Annotated[
        str, typer.Option(help="Lost at each end of a bar, its cut included.")
    ] = "5 mm",
    reusable: Annotated[str, typer.Option(help="Shortest rest that is kept.")] = "300 mm",
    column: Annotated[
        list[str] | None,
        typer.Option(
            metavar="NAME=HEADER",
            help="What the list of pieces calls one of its columns. Any number of times.",
        ),
    ] = None,
    spare: Annotated[
        str, typer.Option(metavar="PERCENT", help="Cut so many more of each piece, rounded up.")
    ] = "0",
    out: Annotated[
        Path | None,
        typer.Option(help="Output folder, replaced whole. Default: out/ and the pieces' name."),
    ] = None,
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
        folder = out if out is not None else Path("out") / pieces.stem
        cut_bars(
            files,
            SawTexts(kerf=kerf, end_trim=end_trim, reusable=reusable),
            asked(folder, (pieces, *stock), 0, replace_edited, wait),
            written,
        )


@app.command()
def schema() -> None:
    """Print the JSON Schema of job files, for editors and other programs."""
    with told_plainly():
        from casewright.intake.job_schema import job_json_schema
        from casewright.terminal.terminal_text import tell_json

        tell_json(job_json_schema())


@app.command()
def new(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="A new or empty folder.")],
    units: Annotated[UnitChoice, typer.Option(help="Units of the job.")] = UnitChoice.INCH,
) -> None:
    """Start a new job: a commented job file and a room schedule that build as they are."""
    with told_plainly() as written:
        from casewright.intake.template import JOB_FILE, template_files
        from casewright.output.folder import Replace, Request, claimed
        from casewright.terminal.terminal_text import tell
        from parametric.stock.lengths import Units

        end_plainly()
        texts = template_files(Units(units.value))
        request = Request(folder=folder, replace=Replace.NOTHING)
        with claimed(request) as output, written.writing(folder):
            output.write({PurePosixPath(name): text.encode() for name, text in texts.items()})
        tell(f"Started a job in {folder}. Build it with:")
        tell(f"  casewright build {folder / JOB_FILE}")


def main() -> None:
    """Run the command line."""
    with standard_streams():
        app()


@app.callback()
def before_each_command(context: typer.Context) -> None:
    """Give libraries folders to write to, before a command loads any."""
    if context.invoked_subcommand == "schema":
        return
    with told_plainly():
        from casewright.writable_folders import settle_folders

        told = settle_folders()
    if told is not None and context.invoked_subcommand in {"build", "nest", "openings", "bars"}:
        from casewright.terminal.terminal_text import tell_errors

        tell_errors((told,))


def job_in(file: Path) -> Job:
    """Return the job that the file describes.

    Raises:
        InputErrors: its files cannot be used.
    """
    from casewright.intake.read_job import read_job

    end_plainly()
    return read_job(file)


def asked(
    folder: Path, inputs: tuple[Path, ...], expected_bytes: int, replace_edited: bool, wait: bool
) -> Request:
    """Return the output folder as the options ask for it."""
    from casewright.output.folder import Replace, Request
    from casewright.terminal.terminal_text import tell_errors

    def waiting() -> None:
        tell_errors((f"Another build is writing {folder}; waiting for its end.",))

    return Request(
        folder=folder,
        inputs=inputs,
        expected_bytes=expected_bytes,
        replace=Replace.EDITED if replace_edited else Replace.OUTPUT,
        on_busy=waiting if wait else None,
    )


def end_with_findings(outcome: Outcome) -> None:
    """End the process with the code for failed findings, if there are any.

    Raises:
        Exit: a finding failed.
    """
    from parametric.findings.finding import Severity

    if any(finding.severity is Severity.FAIL for finding in outcome.findings):
        raise typer.Exit(ExitCode.FINDING_FAILED)


def tell_error(error: CasewrightError) -> None:
    """Tell what a user can put right."""
    from casewright.terminal.terminal_text import tell_errors

    tell_errors(error.lines)


@contextmanager
def told_plainly() -> Iterator[Written]:
    """Tell what a user can put right in plain lines, each kind with its exit code, and a bug with
    what was written until then.

    Raises:
        Exit: something was told.
    """
    written = Written()
    with as_the_system_ends():
        try:
            yield written
        except (typer.Exit, typer.Abort):
            raise
        except (KeyboardInterrupt, Cancelled):
            raise interrupted(written) from None
        except (CannotBeMade, DoesNotFit) as error:
            tell_error(error)
            raise typer.Exit(ExitCode.DOES_NOT_FIT) from None
        except CasewrightError as error:
            tell_error(error)
            raise typer.Exit(ExitCode.INPUT) from None
        except Exception:
            if was_pressed():
                raise interrupted(written) from None
            from casewright.terminal.terminal_text import tell_errors, tell_trace

            tell_errors((f"This is a bug in casewright; {written}.",))
            tell_trace()
            raise typer.Exit(ExitCode.BUG) from None


def interrupted(written: Written) -> typer.Exit:
    """Tell that Ctrl-C ended the command, and what is written; return what ends the process."""
    from casewright.terminal.terminal_text import tell_errors

    tell_errors((f"Stopped by Ctrl-C; {written}.",))
    return typer.Exit(ExitCode.INTERRUPTED)


if __name__ == "__main__":
    main()
