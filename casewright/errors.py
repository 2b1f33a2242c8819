"""Everything that a user can put right.

    CasewrightError
    |-- InputErrors          files of the job say something they may not (all faults at once)
    |-- OptionErrors         options of a command say something they may not (all at once)
    |-- DoesNotFit           what is asked for cannot be cut from the stock that is named
    |-- CannotBeMade         sizes that each are allowed make a part that cannot be machined
    |-- OutputFolderError    the output folder cannot be written or must not be replaced
    `-- NoTemporaryFolder    no folder for temporary files can be written

Anything else that is raised is a bug, and shows as one.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path


class CasewrightError(Exception):
    """Root of all errors of this package.

    >>> CasewrightError("one line\\nand another").lines
    ('one line', 'and another')
    """

    @property
    def lines(self) -> tuple[str, ...]:
        """What is told of it, one line for each thing that is wrong."""
        return tuple(str(self).split("\n"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing wrong in a file of the job; lines and columns count from 1.

    `column` is None where only the line is known, `key_path` is empty where no key is to blame.
    """

    file: str
    line: int
    column: int | None
    key_path: str
    found: str
    allowed: str

    def __str__(self) -> str:
        """Return one line that a person can act on."""
        key = f"{self.key_path}: " if self.key_path else ""
        return f"{self.file}:{self.line}: {key}found {self.found}; allowed: {self.allowed}"


class InputErrors(CasewrightError):
    """The files of a job cannot be used; every fault that could be found is listed.

    >>> fault = Fault(
    ...     file="job.yaml", line=3, column=1, key_path="units", found="'ell'", allowed="'mm'"
    ... )
    >>> print(InputErrors((fault,)))
    job.yaml:3: units: found 'ell'; allowed: 'mm'
    """

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        """Keep the faults in the order of the files and their lines."""
        super().__init__(faults)
        self.faults = faults

    @property
    def lines(self) -> tuple[str, ...]:
        """The faults."""
        return tuple(map(str, self.faults))

    def __str__(self) -> str:
        """Return the faults, one a line."""
        return "\n".join(self.lines)


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionFault:
    """One thing wrong with an option of a command."""

    option: str
    found: str
    allowed: str

    def __str__(self) -> str:
        """Return one line that a person can act on."""
        return f"{self.option}: found {self.found}; allowed: {self.allowed}"


class OptionErrors(CasewrightError):
    """The options of a command cannot be used; every fault is listed."""

    def __init__(self, faults: tuple[OptionFault, ...]) -> None:
        """Keep the faults in the order of the options."""
        super().__init__(faults)
        self.faults = faults

    @property
    def lines(self) -> tuple[str, ...]:
        """The faults."""
        return tuple(map(str, self.faults))

    def __str__(self) -> str:
        """Return the faults, one a line."""
        return "\n".join(self.lines)


class DoesNotFit(CasewrightError):
    """What is asked for cannot be cut from the stock that is named."""


class CannotBeMade(CasewrightError):
    """Sizes that each are allowed together make a part that cannot be machined or named."""


class OutputFolderError(CasewrightError):
    """The output folder cannot be written, or holds what must not be replaced."""

    def __init__(self, folder: Path, reason: str) -> None:
        """Keep the folder and what stands against it."""
        super().__init__(f"{folder}: {reason}")
        self.folder = folder
        self.reason = reason

    @property
    def lines(self) -> tuple[str, ...]:
        """The folder, whatever its name holds, and the reason."""
        return (str(self),)


class NoTemporaryFolder(CasewrightError):
    """No folder for temporary files can be written."""

    def __init__(self, tried: str) -> None:
        """Keep what the system says of the folders that were tried."""
        super().__init__(f"{tried}; set TMPDIR to a folder that can be written, with room in it")
        self.tried = tried
