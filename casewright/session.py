"""A job that a page, a test or a script holds: changed value by value, and asked for what it makes.

This is the whole way from Python: text in, a `Job`, and from it findings, meshes, cut list, nests
and files. The modules of solids load when something is asked for that needs them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING

from casewright.errors import Fault, InputErrors
from casewright.intake.changed_text import changed_text
from casewright.intake.read_document import SIZE
from casewright.intake.read_job import job_of
from casewright.intake.text_file import read_text
from casewright.intake.write_value import Value, yaml_text
from casewright.job import Job
from casewright.output.one_file import write_file
from casewright.progress import Progress
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.sets.fast_findings import fast_findings
from casewright.stages.sets.mesh_stage import SetMeshes, meshes_of
from casewright.stages.sets.set_memory import SetMemory
from parametric.findings.finding import Finding
from parametric.findings.telling import ToldFinding, told
from parametric.lists.cut_list import CutList

if TYPE_CHECKING:
    from casewright.stages.nested.nested_stage import Nested
    from casewright.stages.sets.set_stage import SetsOfJob

UNNAMED = "job.yaml"
"""The name in faults of a job that no file holds."""

AS_USUAL = NestSettings()


@dataclass(frozen=True, slots=True, kw_only=True)
class Session:
    """A job as it is now, with its text. A change makes another session and leaves this one.

    What was made of a set is remembered, and taken over by a changed session in which the set is
    the same. Whatever takes a `progress` tells it where it stands; `progress.cancel()`, on any
    thread, lets it raise `Cancelled` with the next set at the latest, and loses nothing that was
    made before.

    >>> from casewright import Length, Session
    >>> session = Session.from_file("configs/keepers-room.yaml")
    >>> overhang = ("sets", "keeper", "head_wall", "bench", "overhang")
    >>> wider = session.changed(overhang, Length(95))
    >>> sorted({finding.severity.value for finding in wider.fast_findings()})
    ['ok', 'warn']
    """

    path: Path
    text: str
    job: Job
    _memory: SetMemory = field(repr=False, compare=False)

    @classmethod
    def from_file(cls, path: str | Path) -> Session:
        """Return the session of a job file.

        Raises:
            InputErrors: anything in any of its files that cannot be used, all faults at once.

        >>> Session.from_file("configs/keepers-room.yaml").job.name
        "Skarvholm Light, keeper's room"
        """
        faults: list[Fault] = []
        text = read_text(Path(path), faults, SIZE)
        if text is None:
            raise InputErrors(tuple(faults))
        return _session(Path(path), text)

    @classmethod
    def from_text(cls, text: str, folder: str | Path) -> Session:
        """Return the session of a job file's text, which names other files relative to `folder`.

        Raises:
            InputErrors: as `from_file` does; the text is told as `job.yaml` in that folder.

        >>> from pathlib import Path
        >>> text = Path("configs/keepers-room.yaml").read_text(encoding="utf-8")
        >>> Session.from_text(text, "configs").text == text
        True
        """
        return _session(Path(folder) / UNNAMED, text)

    @classmethod
    def from_mapping(cls, values: Mapping[str, Value], folder: str | Path) -> Session:
        """Return the session of a job of these values, by the keys of a job file; its text is made
        from them. Other files are named relative to `folder`.

        Raises:
            InputErrors: as `from_text` does.
            ValueError: a number is not finite.
            TypeError: something is not what a job file can hold.

        >>> try:
        ...     Session.from_mapping({"job": "A room", "units": "ell"}, "configs")
        ... except InputErrors as errors:
        ...     print(errors.lines[-1])
        configs/job.yaml:2: units: found 'ell'; allowed: 'inch' or 'mm'
        """
        return _session(Path(folder) / UNNAMED, yaml_text(values))

    def changed(self, keys: Sequence[str | int], value: Value) -> Session:
        """Return the session with one value changed, by its keys as the job file has them.

        A `Length` is in millimetres and written as its neighbours are; a number or text stands as a
        person would write it, bare lengths in the job's units; None removes. What the file does not
        say yet is added. Comments and order of the text stay.

        Raises:
            InputErrors: the job cannot be used with it. This session stays as it is.

        >>> session = Session.from_file("configs/keepers-room.yaml")
        >>> try:
        ...     session.changed(("sets", "keeper", "head_wall", "bench", "overhang"), Length(1e4))
        ... except InputErrors as errors:
        ...     print(errors.faults[0].found, "; allowed:", errors.faults[0].allowed)
        10000 ; allowed: a length from 0 mm to 600 mm
        """
        text = changed_text(self.path, self.text, tuple(keys), value)
        return _session(self.path, text, self._memory)

    def fast_findings(self, progress: Progress | None = None) -> tuple[ToldFinding, ...]:
        """Return what can be found without solids: all but overlaps, stock that only the cut list
        tells, and what would mend a failure. Plates have a coarse mesh. They are told in the job's
        units, each hand of a set on its own.

        Raises:
            DoesNotFit: a deck cannot be cut from the stock, even in pieces.
            Cancelled: the work was cancelled.
        """
        return self._told(fast_findings(self.job, progress or Progress(), self._memory))

    def meshes(self, progress: Progress | None = None) -> SetMeshes:
        """Return the parts of each set as triangles in the room frame, by its name and hand.

        Raises:
            DoesNotFit: a deck cannot be cut from the stock, even in pieces.
            CannotBeMade: cuts of a part run into each other.
            Cancelled: the work was cancelled.

        >>> meshes = Session.from_file("configs/keepers-room.yaml").meshes()
        >>> [(name, hand.value) for name, hand in meshes]
        [('keeper', 'left')]
        """
        return meshes_of(self.job, progress or Progress(), self._memory)

    def exact_findings(self, progress: Progress | None = None) -> tuple[ToldFinding, ...]:
        """Return all that the command `check` finds, told as `fast_findings` are.

        Raises:
            DoesNotFit: a deck cannot be cut from the stock, even in pieces.
            CannotBeMade: a part cannot be built, or its cuts run into each other.
            Cancelled: the work was cancelled.
        """
        return self._told(self._sets(progress or Progress()).findings)

    def cut_list(self, progress: Progress | None = None) -> CutList:
        """Return the parts and bars of all rooms, numbered.

        Raises:
            DoesNotFit, CannotBeMade, Cancelled: as `exact_findings` does.
        """
        return self._sets(progress or Progress()).cut_list

    def nests(self, progress: Progress | None = None, settings: NestSettings = AS_USUAL) -> Nested:
        """Return the parts on sheets and bars, whatever the findings say.

        `progress.enough()` ends the searches with the best that they have.

        Raises:
            DoesNotFit: the stock does not suffice.
            CannotBeMade, Cancelled: as `exact_findings` does.
        """
        from casewright.stages.nested.nested_stage import OnShortage, nest_job

        progress = progress or Progress()
        nested = nest_job(self.job, self._sets(progress), settings, progress, OnShortage.STOP)
        progress.go_on()
        return nested

    def files(
        self, progress: Progress | None = None, settings: NestSettings = AS_USUAL
    ) -> dict[PurePosixPath, bytes]:
        """Return what the command `build` would write, by path in the output folder; with failed
        findings there are no cut files.

        Raises:
            DoesNotFit, CannotBeMade, Cancelled: as `nests` does.
        """
        from casewright.pipeline import build

        return build(self.job, progress or Progress(), settings, memory=self._memory).files

    def write(self, path: str | Path) -> None:
        """Write the job file's text. It still names other files relative to where it stands.

        Raises:
            OutputFolderError: the file cannot be written; one that was there is as it was.
        """
        write_file(Path(path), self.text.encode())

    def _told(self, findings: Iterable[Finding]) -> tuple[ToldFinding, ...]:
        return tuple(told(finding, self.job.units) for finding in findings)

    def _sets(self, progress: Progress) -> SetsOfJob:
        from casewright.stages.sets.set_stage import model_sets

        return model_sets(self.job, progress, self._memory)


def _session(path: Path, text: str, earlier: SetMemory | None = None) -> Session:
    job = job_of(path, text)
    return Session(path=path, text=text, job=job, _memory=SetMemory(job, earlier))
