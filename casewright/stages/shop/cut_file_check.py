"""What happens when a written cut file does not hold what it must."""

from __future__ import annotations

from export.sheet_problem import SheetProblem


def refuse_broken(path: str, problems: tuple[SheetProblem, ...]) -> None:
    """Raise for a file with problems.

    Raises:
        BrokenCutFile: there are any.
    """
    if problems:
        raise BrokenCutFile(path, problems)


class BrokenCutFile(RuntimeError):
    """A written DXF does not hold what it must: a bug, so nothing is put in place."""

    def __init__(self, path: str, problems: tuple[SheetProblem, ...]) -> None:
        """Keep the file and its problems."""
        first = problems[0]
        super().__init__(f"{path}: {first.where}: {first.fault}: {first.message}")
        self.path = path
        self.problems = problems
