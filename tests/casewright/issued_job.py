"""The files of a build that tell what is issued, without papers, pictures and models."""

from collections.abc import Mapping

from casewright import Session
from casewright.entries.built import Built
from casewright.entries.manifest import manifest_of
from casewright.entries.registry import ENTRIES, files_of
from casewright.job import Job
from casewright.output.left_file import with_manifest
from casewright.pipeline import cut_sheets
from casewright.progress import Progress
from casewright.stages.labels.label_stage import LabelFiles
from casewright.stages.models.piece_stage import pieces_of
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.nested.nested_stage import OnShortage, nest_job
from casewright.stages.sets.set_stage import SetsOfJob
from casewright.stages.site.kit_stage import kits_of
from casewright.stages.site.site_stage import work_for
from export.changes.issue import Issue
from export.changes.read_issue import TABLES, issue_of
from export.file_paths import PART_FILES, SHEET_FILES
from export.labels.content import LabelBook
from nesting.question.settings import Effort
from parametric.stock.paper import Paper

QUICK = NestSettings(effort=Effort.QUICK)
_NEEDED = {*TABLES, "shop/edge-bores.csv", PART_FILES, SHEET_FILES}


def issued(session: Session) -> tuple[SetsOfJob, Issue]:
    """The sets of a job, and what its files say."""
    sets = session._sets(Progress())
    return sets, issue_of(issued_files(session.job, sets))


def issued_files(job: Job, sets: SetsOfJob) -> Mapping[str, bytes]:
    progress = Progress()
    nested = nest_job(job, sets, QUICK, progress, OnShortage.STOP)
    built = Built(
        job=job,
        sets=sets,
        nested=nested,
        shop=cut_sheets(job, sets, nested.nests, QUICK, progress),
        models=(),
        pictures=(),
        kits=kits_of(job),
        pieces=pieces_of(sets),
        site=work_for(job.name, (), (), (), job.units, Paper.A4),
        labels=LabelFiles(book=LabelBook(), materials=(), bars=None),
    )
    entries = [entry for entry in ENTRIES if entry.path in _NEEDED]
    files = files_of(built, progress, entries)
    written = with_manifest(files, manifest_of(built, files))
    return {str(path): content for path, content in written.items()}
