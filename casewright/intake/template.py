"""A commented job to start from. Its texts are data of the package, in the folder `template`."""

from __future__ import annotations

from importlib.resources import files

from parametric.stock.lengths import Units

JOB_FILE = "job.yaml"
SCHEDULE_FILE = "rooms.csv"


def template_text(units: Units) -> str:
    """Return a job file that builds as it is, given the schedule of `template_files`."""
    return _text(f"job-{units}.yaml")


def template_files(units: Units) -> dict[str, str]:
    """Return all files of the starting job: name to text."""
    return {JOB_FILE: template_text(units), SCHEDULE_FILE: _text("rooms.csv")}


def _text(name: str) -> str:
    return (files("casewright") / "template" / name).read_text(encoding="utf-8")
