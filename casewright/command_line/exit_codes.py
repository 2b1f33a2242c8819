"""What the process tells the shell when it ends."""

from __future__ import annotations

from enum import IntEnum

EXIT_CODES = (
    "Exit codes: 0 done, warnings included; 1 a finding failed (no cut files were written), a "
    "material was left out for lack of stock, or a kit list is short; "
    "2 the command, the job's files or the output folder cannot be used; 3 the job cannot be made "
    "or does not fit its stock; 4 a bug in casewright; 130 stopped by Ctrl-C."
)


class ExitCode(IntEnum):
    """What the process tells the shell; documented in `EXIT_CODES`."""

    DONE = 0
    FINDING_FAILED = 1
    INPUT = 2
    DOES_NOT_FIT = 3
    BUG = 4
    INTERRUPTED = 130  # as shells count: 128 and the number of the signal
