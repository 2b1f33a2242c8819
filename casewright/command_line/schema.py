"""`casewright schema`."""

from __future__ import annotations

from casewright.command_line.told_plainly import told_plainly


def schema() -> None:
    """Print the JSON Schema of job files, for editors and other programs."""
    with told_plainly():
        from casewright.intake.job_schema import job_json_schema
        from casewright.terminal.terminal_text import tell_json

        tell_json(job_json_schema())
