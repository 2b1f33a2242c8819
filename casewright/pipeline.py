"""The way of the data: from a job to all files of its output folder, in memory."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import PurePosixPath

from casewright.entries.built import Built
from casewright.entries.manifest import manifest_of, part_count
from casewright.entries.registry import files_of
from casewright.errors import CannotBeMade
from casewright.job import Job
from casewright.output.left_file import LeftFile, with_manifest
from casewright.passed_over import passed_over
from casewright.progress import Progress
from casewright.stages.estimate.estimate_stage import estimate_of
from casewright.stages.labels.label_stage import label_files
from casewright.stages.models.model_stage import set_files, set_pictures
from casewright.stages.models.piece_stage import pieces_of
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.nest.nest_stage import Nest
from casewright.stages.nested.nested_stage import HINT, Nested, OnShortage, nest_job
from casewright.stages.sets.check_stage import tell_missed
from casewright.stages.sets.set_memory import SetMemory
from casewright.stages.sets.set_stage import SetsOfJob, model_sets
from casewright.stages.sets.stock_check import CODES, board_checks, refuse_missed
from casewright.stages.shop.router_stage import router_stage
from casewright.stages.shop.sheet_stage import ShopFiles, shop_files
from casewright.stages.site.kit_stage import kits_of
from casewright.stages.site.site_stage import site_work
from export.errors import LayerNameFault, UnfitDrawing
from export.file_paths import safe_names
from export.manifest import PartCount
from nesting.linear.bar_nest import BarNest
from parametric.findings.finding import Finding, Severity
from parametric.findings.not_checked import NotChecked
from parametric.lists.left_out import LeftOut

AS_USUAL = NestSettings()


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """A built job: its files by path, and what the closing table shows."""

    files: dict[PurePosixPath, bytes]
    findings: tuple[Finding, ...]
    rooms: int
    parts: PartCount
    nests: tuple[Nest, ...]
    bar_nests: tuple[BarNest, ...]
    left_out: tuple[LeftOut, ...]
    cut_files_written: bool
    not_checked: tuple[NotChecked, ...] = ()


def build(
    job: Job,
    progress: Progress | None = None,
    settings: NestSettings = AS_USUAL,
    *,
    despite_failures: bool = False,
    on_shortage: OnShortage = OnShortage.STOP,
    memory: SetMemory | None = None,
) -> Outcome:
    """Return all files of the job. With failed findings there are no cut files, unless asked for.

    Stock that does not suffice stops it, as soon as that is known; or else its material has no cut
    sheets or bars, and all files that count them say so. `memory` is as in `check`.

    Raises:
        DoesNotFit: parts cannot be cut from the stock that the job names, or from so few sheets.
        CannotBeMade: a part cannot be built, or the machine's layer names clash for this job.
    """
    progress = progress or Progress()
    built = built_job(
        job,
        progress,
        settings,
        despite_failures=despite_failures,
        on_shortage=on_shortage,
        memory=memory,
    )
    with passed_over():
        return outcome_of(built, files_of(built, progress))


def built_job(
    job: Job,
    progress: Progress,
    settings: NestSettings = AS_USUAL,
    *,
    despite_failures: bool = False,
    on_shortage: OnShortage = OnShortage.STOP,
    memory: SetMemory | None = None,
) -> Built:
    """Return what `build` renders all files from.

    Raises:
        DoesNotFit: as `build`.
        CannotBeMade: as `build`.
    """
    memory = memory or SetMemory(job)
    from_sizes = board_checks(job, memory.placed_sets())
    if on_shortage is OnShortage.STOP:
        refuse_missed(from_sizes, HINT)
    tell_missed(from_sizes, progress)
    sets = model_sets(job, progress, memory)
    failed = any(f.severity is Severity.FAIL and f.code not in CODES for f in sets.findings)
    cut = despite_failures or not failed
    nested = Nested(stock=sets.stock)
    if cut:
        nested = nest_job(job, sets, settings, progress, on_shortage)
    sets = replace(sets, stock=nested.stock)
    shop = cut_sheets(job, sets, nested.nests, settings, progress) if cut else None
    with passed_over():
        return _with_papers(job, sets, nested, shop, progress)


def _with_papers(
    job: Job, sets: SetsOfJob, nested: Nested, shop: ShopFiles | None, progress: Progress
) -> Built:
    """Return the job with models, pictures, steps and labels; `shop` is None without cut files.

    Raises:
        RuntimeError: the typesetter cannot set the labels, which is a bug.
        Cancelled: the work was cancelled.
    """
    progress.stage("models and pictures", 2 * len(sets.sets))
    models, pictures = [], []
    names = safe_names(f"{e.used.sizes.name}-{e.used.hand}" for e in sets.sets)
    for each in sets.sets:
        pictures.append(set_pictures(each, job.units))
        progress.step(f"pictures of {each.used.sizes.name}, {each.used.hand} hand")
        name = names[f"{each.used.sizes.name}-{each.used.hand}"]
        models.append(set_files(each, sets, name))
        progress.step(f"models of {each.used.sizes.name}, {each.used.hand} hand")
    progress.stage("steps of the installation", len(sets.sets))
    kits, pieces = kits_of(job), pieces_of(sets)
    site = site_work(job, sets, pieces, kits, progress)
    router = estimate = None
    if shop is not None:
        router = router_stage(job, shop, nested)
        progress.stage("estimate, with nests at other numbers of rooms", 0)
        estimate = estimate_of(job, sets, nested, router, kits, site, progress)
    return Built(
        job=job,
        sets=sets,
        nested=nested,
        shop=shop,
        models=tuple(models),
        pictures=tuple(pictures),
        kits=kits,
        pieces=pieces,
        site=site,
        router=router,
        estimate=estimate,
        labels=label_files(job, sets, pieces, nested, shop, site, progress),
    )


def cut_sheets(
    job: Job,
    sets: SetsOfJob,
    nests: tuple[Nest, ...],
    settings: NestSettings,
    progress: Progress,
) -> ShopFiles:
    """Return the cut files of the job.

    Raises:
        CannotBeMade: the machine's layer names clash for this job, or two cuts of a part leave a
            piece too short for machine controls.
    """
    try:
        return shop_files(job, sets.cut_list, nests, settings, progress)
    except LayerNameFault as error:
        raise CannotBeMade(f"machine {job.machine.name}: layer_names: {error}") from error
    except UnfitDrawing as error:
        raise CannotBeMade(str(error)) from error


def outcome_of(built: Built, files: tuple[LeftFile, ...]) -> Outcome:
    """Return the outcome: the files with the manifest that lists them."""
    return Outcome(
        files=with_manifest(files, manifest_of(built, files)),
        findings=built.sets.findings,
        rooms=len(built.job.rooms),
        parts=part_count(built),
        nests=built.nested.nests,
        bar_nests=built.nested.bar_nests,
        left_out=built.nested.left_out,
        cut_files_written=built.shop is not None,
        not_checked=built.sets.not_checked,
    )
