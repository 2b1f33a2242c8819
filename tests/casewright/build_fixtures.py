"""Building the demo jobs once for all tests that look at what was written."""

import functools
from pathlib import Path

from casewright.intake.read_job import read_job
from casewright.output.folder import write_folder
from casewright.pipeline import Outcome, build

CONFIGS = Path(__file__).parents[2] / "configs"
DEMOS = ("avalanche-centre", "survey-ship", "keepers-room", "field-station")


@functools.cache
def outcome_of(demo: str) -> Outcome:
    """The demo job built in memory."""
    return build(read_job(CONFIGS / f"{demo}.yaml"))


def written(demo: str, folder: Path) -> Path:
    """The demo job's output folder, written below `folder`."""
    out = folder / demo
    write_folder(out, outcome_of(demo).files)
    return out
