"""Whether the packages beside this one are ours.

`export`, `nesting` and `parametric` are plain words: a script of the same name in a folder that
Python searches first hides them, and another distribution may bring files of the same names.
"""

from __future__ import annotations

from importlib.util import find_spec
from pathlib import Path

PACKAGES = ("export", "nesting", "parametric")
MARK = b"Part of casewright."
"""Stands in the docstring of each package; what another distribution put there lacks it."""
BESIDE = Path(__file__).resolve().parent.parent


def not_ours(beside: Path = BESIDE) -> str | None:
    """Return in a sentence which package Python would not import from the folder `beside`, or was
    replaced there, and what to do; None if all are ours. Nothing is imported.
    """
    for name in PACKAGES:
        spec = find_spec(name)
        own = beside / name / "__init__.py"
        if spec is None or spec.origin is None:
            return f"The package {name} is missing: {str(own)!r}. Install casewright again."
        found = Path(spec.origin)
        if found.resolve() != own:
            return (
                f"{str(found)!r} is found instead of {str(own)!r}. Rename or move it, take its"
                " folder from PYTHONPATH, or start elsewhere."
            )
        if MARK not in own.read_bytes():
            return (
                f"{str(own)!r} was replaced by another program. Install casewright again, in an"
                " environment of its own."
            )
    return None
