"""The command line. What a command needs is imported when it runs, so that `--help` is quick."""

from __future__ import annotations

import typer

from casewright.command_line.bars import bars
from casewright.command_line.build import build
from casewright.command_line.check import check
from casewright.command_line.compare import compare
from casewright.command_line.exit_codes import EXIT_CODES, ExitCode
from casewright.command_line.kit import kit
from casewright.command_line.nest import nest
from casewright.command_line.new import new
from casewright.command_line.openings import openings
from casewright.command_line.panels import panels
from casewright.command_line.recut import recut
from casewright.command_line.schema import schema
from casewright.command_line.told_plainly import told_plainly
from casewright.own_packages import not_ours
from casewright.terminal.standard_streams import standard_streams, tell_without_packages

app = typer.Typer(
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    epilog=EXIT_CODES,
    help="From sizes, a hand and a room schedule to cut sheets, models and lists for fixed room "
    "furniture.",
)

# As --help lists them.
_COMMANDS = (build, check, compare, recut, kit, openings, nest, bars, panels, schema, new)
for _command in _COMMANDS:
    app.command()(_command)


def main() -> None:
    """Run the command line.

    Raises:
        SystemExit: always; with what the process tells the shell.
    """
    with standard_streams():
        wrong = not_ours()
        if wrong is not None:
            tell_without_packages(wrong)
            raise SystemExit(ExitCode.INPUT)
        app()


@app.callback()
def before_each_command(context: typer.Context) -> None:
    """Give libraries folders to write to, before a command loads any."""
    if context.invoked_subcommand == "schema":
        return
    with told_plainly():
        from casewright.writable_folders import settle_folders

        told = settle_folders()
    if told is not None and context.invoked_subcommand in {
        "build",
        "nest",
        "openings",
        "bars",
        "panels",
        "compare",
        "recut",
    }:
        from casewright.terminal.terminal_text import tell_errors

        tell_errors((told,))


if __name__ == "__main__":
    main()
