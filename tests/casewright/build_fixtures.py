"""Building the demo jobs once for all tests that look at what was written."""

import functools
from pathlib import Path

from casewright import pipeline
from casewright.entries.built import Built
from casewright.entries.registry import files_of
from casewright.intake.read_job import read_job
from casewright.output.folder import write_folder
from casewright.pipeline import Outcome
from casewright.progress import Progress

CONFIGS = Path(__file__).parents[2] / "configs"
DEMOS = ("avalanche-centre", "survey-ship", "keepers-room", "field-station")


@functools.cache
def built_demo(demo: str) -> Built:
    """The demo job with its sets, nests, cut files and labels, before its files are rendered."""
    return pipeline.built_job(read_job(CONFIGS / f"{demo}.yaml"), Progress())


@functools.cache
def outcome_of(demo: str) -> Outcome:
    """The demo job built in memory: what `build` makes of it."""
    built = built_demo(demo)
    return pipeline.outcome_of(built, files_of(built, Progress()))


def written(demo: str, folder: Path) -> Path:
    """The demo job's output folder, written below `folder`."""
    out = folder / demo
    write_folder(out, outcome_of(demo).files)
    return out
