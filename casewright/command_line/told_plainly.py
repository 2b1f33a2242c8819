"""How a command ends that cannot go on: in plain lines, each kind of reason with its exit code."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import typer

from casewright.command_line.exit_codes import ExitCode
from casewright.errors import CannotBeMade, CasewrightError, DoesNotFit
from casewright.progress import Cancelled
from casewright.terminal.interrupt import as_the_system_ends, was_pressed
from casewright.written import Written


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
            raise _interrupted(written) from None
        except (CannotBeMade, DoesNotFit) as error:
            _tell_error(error)
            raise typer.Exit(ExitCode.DOES_NOT_FIT) from None
        except CasewrightError as error:
            _tell_error(error)
            raise typer.Exit(ExitCode.INPUT) from None
        except Exception:
            if was_pressed():
                raise _interrupted(written) from None
            from casewright.terminal.terminal_text import tell_errors, tell_trace

            tell_errors((f"This is a bug in casewright; {written}.",))
            tell_trace()
            raise typer.Exit(ExitCode.BUG) from None


def _tell_error(error: CasewrightError) -> None:
    """Tell what a user can put right."""
    from casewright.terminal.terminal_text import tell_errors

    tell_errors(error.lines)


def _interrupted(written: Written) -> typer.Exit:
    """Tell that Ctrl-C ended the command, and what is written; return what ends the process."""
    from casewright.terminal.terminal_text import tell_errors

    tell_errors((f"Stopped by Ctrl-C; {written}.",))
    return typer.Exit(ExitCode.INTERRUPTED)
