"""`casewright recut`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from casewright.command_line.exit_codes import ExitCode
from casewright.command_line.job_in import job_in
from casewright.command_line.options import Fresh, JobFile, ReplaceEdited, Wait, asked
from casewright.command_line.told_plainly import told_plainly
from casewright.terminal.interrupt import as_the_system_ends

Parts = Annotated[
    list[str] | None,
    typer.Argument(metavar="PART...", help="Part numbers; P012x3 is three of them."),
]
Codes = Annotated[
    list[str] | None,
    typer.Option(
        "--code", metavar="TEXT", help="What the code of a part's label says, as it is scanned."
    ),
]
Offcuts = Annotated[
    list[Path] | None,
    typer.Option(
        metavar="LIST",
        help="Offcuts at hand (CSV): material, length (along the grain), width, quantity; may have "
        "label, thickness. The offcuts.csv of a build does as it is.",
    ),
]
OffcutsOnly = Annotated[
    bool, typer.Option("--offcuts-only", help="Take no full sheet; refuse what no offcut holds.")
]
OffcutTrim = Annotated[
    str | None,
    typer.Option(
        metavar="LENGTH", help="Lost along each edge of an offcut. Default: as of a full sheet."
    ),
]
Reason = Annotated[
    str,
    typer.Option(metavar="TEXT", help="Why; kept in a table beside the job file, JOB-recuts.csv."),
]
Day = Annotated[str, typer.Option("--date", metavar="DAY", help="A day to keep with the reason.")]
Build = Annotated[
    Path | None,
    typer.Option(
        help="The output folder whose labels are scanned. Default: out/ and the job file's name."
    ),
]
Output = Annotated[
    Path | None,
    typer.Option(help="Output folder, replaced whole. Default: out/, the job's name and -recut."),
]
DespiteFailures = Annotated[
    bool, typer.Option("--despite-failures", help="Write cut files even if findings fail.")
]


def recut(
    job: JobFile,
    part: Parts = None,
    code: Codes = None,
    offcuts: Offcuts = None,
    offcuts_only: OffcutsOnly = False,
    offcut_trim: OffcutTrim = None,
    reason: Reason = "",
    date: Day = "",
    build: Build = None,
    out: Output = None,
    despite_failures: DespiteFailures = False,
    fresh: Fresh = False,
    replace_edited: ReplaceEdited = False,
    wait: Wait = False,
) -> None:
    """Cut single parts again, on offcuts before full sheets: cut files, a page with maps, labels.

    Parts are those of the job as it is now. What a label's code names must be the same still.
    """
    with told_plainly() as written:
        whole = job_in(job)
        with as_the_system_ends():  # the kernel takes seconds to load
            from casewright.cache_folder import remembering
            from casewright.commands.recut_command.run import Asked, read_asked, recut_job
            from casewright.output.folder import claimed
            from casewright.stages.nested.offcut_stage import FullSheets

        read = read_asked(
            Asked(
                job_file=job,
                parts=tuple(part or ()),
                codes=tuple(code or ()),
                offcuts=tuple(offcuts or ()),
                full_sheets=FullSheets.LEFT if offcuts_only else FullSheets.TAKEN,
                offcut_trim=offcut_trim,
                reason=reason,
                date=date,
                build=build or Path("out") / job.stem,
            ),
            whole,
        )
        request = asked(
            out or Path("out") / f"{job.stem}-recut",
            (*whole.files, *read.asked.offcuts),
            0,
            replace_edited,
            wait,
        )
        with claimed(request) as output, remembering(fresh=fresh):
            done = recut_job(read, whole, output, written, despite_failures=despite_failures)
        if not done:
            raise typer.Exit(ExitCode.FINDING_FAILED)
