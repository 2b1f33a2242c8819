"""The job: files in, pipeline, output folder, command line. From Python it is a `Session`."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from casewright.errors import CasewrightError, InputErrors
    from casewright.intake.write_value import Length
    from casewright.progress import Cancelled, Progress
    from casewright.session import Session

__all__ = ["Cancelled", "CasewrightError", "InputErrors", "Length", "Progress", "Session"]

_HOMES = {
    "Cancelled": "casewright.progress",
    "CasewrightError": "casewright.errors",
    "InputErrors": "casewright.errors",
    "Length": "casewright.intake.write_value",
    "Progress": "casewright.progress",
    "Session": "casewright.session",
}


def __getattr__(name: str) -> object:
    """Load a public name when it is first asked for: the command line must start at once."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)


def __dir__() -> list[str]:
    """Return the public names beside what is loaded."""
    return sorted({*globals(), *__all__})
