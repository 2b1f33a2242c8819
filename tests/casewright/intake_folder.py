"""Job folders for the tests of the intake: copies of the demo jobs, and faults put into them."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from casewright.errors import Fault, InputErrors
from casewright.intake.read_job import read_job

CONFIGS = Path(__file__).parents[2] / "configs"
CENTRE, SHIP, KEEPER = "avalanche-centre", "survey-ship", "keepers-room"
STATION = "field-station"


class JobFolder:
    """A copy of `configs/` that may be broken."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        shutil.copytree(CONFIGS, folder, dirs_exist_ok=True)

    def path(self, name: str) -> Path:
        return self.folder / name

    def replace(self, name: str, old: str, new: str) -> int:
        """Replace the first `old` in a file; return the line, from 1, that it stood in."""
        path = self.path(name)
        text = path.read_text(encoding="utf-8")
        assert old in text, f"{name} has no {old!r}"
        path.write_text(text.replace(old, new, 1), encoding="utf-8")
        return text[: text.index(old)].count("\n") + 1

    def faults(self, job: str) -> tuple[Fault, ...]:
        with pytest.raises(InputErrors) as caught:
            read_job(self.path(f"{job}.yaml"))
        return caught.value.faults

    def fault(self, job: str) -> Fault:
        """Return the only fault of a job."""
        faults = self.faults(job)
        assert len(faults) == 1, "\n".join(map(str, faults))
        return faults[0]


def place(fault: Fault) -> tuple[str, int, str]:
    """Return the name of a fault's file, its line and its key path."""
    return Path(fault.file).name, fault.line, fault.key_path
