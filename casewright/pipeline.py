"""The way of the data: from a job to all files of its output folder, in memory."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import PurePosixPath

from casewright.errors import CannotBeMade
from casewright.job import Job
from casewright.progress import BuildProgress, QuietBuild
from casewright.stages.bar_stage import bar_entries
from casewright.stages.kit_stage import kits_of
from casewright.stages.model_stage import SetFiles, set_files, set_pictures
from casewright.stages.nest_settings import NestSettings
from casewright.stages.nest_stage import Nest
from casewright.stages.nested_stage import HINT, Nested, OnShortage, nest_job
from casewright.stages.set_stage import SetsOfJob, model_sets
from casewright.stages.sheet_stage import ShopFiles, reusable_size, shop_files
from casewright.stages.site_stage import site_papers
from casewright.stages.stock_check import CODES, StockCheck, board_checks, missed, refuse_missed
from export.errors import LayerNameFault, UnfitDrawing
from export.file_paths import safe_names
from export.layer_table import LayerTable
from export.manifest import (
    FileEntry,
    FileRole,
    FindingCount,
    LeftOutEntry,
    Manifest,
    PartCount,
    bands_used,
    manifest_json,
    sha256_of,
)
from export.summary.content import RoomCount, SetPictures, SummaryContent
from export.summary.page import summary_html
from export.tables.bar_plan_table import BarNest, bar_plan_csv
from export.tables.cutlist_table import cutlist_csv
from export.tables.edge_bore_table import edge_bores_csv
from export.tables.findings_table import findings_csv
from export.tables.kit_table import kits_csv, pick_list_csv
from export.tables.linear_hole_table import linear_holes_csv
from export.tables.linear_table import linear_csv
from export.tables.offcut_table import offcuts_csv
from export.tables.rooms_table import HandedFit, room_fixings_csv, rooms_csv
from export.tables.yield_table import MaterialNest, yield_csv, yield_rows
from parametric.findings.finding import Finding, Severity
from parametric.findings.not_checked import NotChecked

MANIFEST = PurePosixPath("manifest.json")
AS_USUAL = NestSettings()
NO_LAYERS = LayerTable(layers=(), largest_drill_mm=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """A built job: its files by path, and what the closing table shows."""

    files: dict[PurePosixPath, bytes]
    findings: tuple[Finding, ...]
    rooms: int
    parts: PartCount
    nests: tuple[Nest, ...]
    bar_nests: tuple[BarNest, ...]
    left_out: tuple[LeftOutEntry, ...]
    cut_files_written: bool
    not_checked: tuple[NotChecked, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Piece:
    """A file with what the manifest says of it."""

    content: bytes
    entry: FileEntry


def check(job: Job, progress: BuildProgress | None = None) -> SetsOfJob:
    """Return the sets of the job with their findings; nothing is nested or written.

    Sheets on hand that are proven too few are told at once.

    Raises:
        DoesNotFit: a deck cannot be cut from the stock, even in pieces.
        CannotBeMade: a part cannot be built, or its cuts run into each other.
    """
    progress = progress or QuietBuild()
    tell_missed(board_checks(job), progress)
    return model_sets(job, progress)


def tell_missed(checks: Iterable[StockCheck], progress: BuildProgress) -> None:
    """Tell what does not suffice."""
    for each in missed(checks):
        progress.tell(str(each))


def build(
    job: Job,
    progress: BuildProgress | None = None,
    settings: NestSettings = AS_USUAL,
    *,
    despite_failures: bool = False,
    on_shortage: OnShortage = OnShortage.STOP,
) -> Outcome:
    """Return all files of the job. With failed findings there are no cut files, unless asked for.

    Stock that does not suffice stops it, as soon as that is known; or else its material has no cut
    sheets or bars, and all files that count them say so.

    Raises:
        DoesNotFit: parts cannot be cut from the stock that the job names, or from so few sheets.
        CannotBeMade: a part cannot be built, or the machine's layer names clash for this job.
    """
    progress = progress or QuietBuild()
    from_sizes = board_checks(job)
    if on_shortage is OnShortage.STOP:
        refuse_missed(from_sizes, HINT)
    tell_missed(from_sizes, progress)
    sets = model_sets(job, progress)
    failed = any(f.severity is Severity.FAIL and f.code not in CODES for f in sets.findings)
    cut = despite_failures or not failed
    nested = Nested(stock=sets.stock)
    if cut:
        nested = nest_job(job, sets, settings, progress, on_shortage)
    sets = replace(sets, stock=nested.stock)
    shop = cut_sheets(job, sets, nested.nests, settings, progress) if cut else None
    progress.stage("models and pictures", 2 * len(sets.sets))
    models, pictures = [], []
    names = safe_names(f"{e.used.sizes.name}-{e.used.hand}" for e in sets.sets)
    for each in sets.sets:
        pictures.append(set_pictures(each, job.units))
        progress.step(f"pictures of {each.used.sizes.name}, {each.used.hand} hand")
        name = names[f"{each.used.sizes.name}-{each.used.hand}"]
        models.append(set_files(each, sets, name))
        progress.step(f"models of {each.used.sizes.name}, {each.used.hand} hand")
    progress.stage("papers for the site", len(sets.sets))
    papers = site_papers(job, sets, progress)
    return assembled(job, sets, nested, shop, tuple(models), tuple(pictures), papers)


def cut_sheets(
    job: Job,
    sets: SetsOfJob,
    nests: tuple[Nest, ...],
    settings: NestSettings,
    progress: BuildProgress,
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


def assembled(
    job: Job,
    sets: SetsOfJob,
    nested: Nested,
    shop: ShopFiles | None,
    models: tuple[SetFiles, ...],
    pictures: tuple[SetPictures, ...],
    papers: Mapping[PurePosixPath, bytes],
) -> Outcome:
    """Return the outcome with every file and the manifest that lists them."""
    pieces = [
        *table_files(job, sets, nested),
        *bar_files(job, nested.bar_nests),
        *kit_files(job),
        *room_files(job, sets.fits),
        *paper_files(papers),
        *(cut_files(shop) if shop is not None else ()),
        *model_files(models),
        summary_file(job, sets, nested, shop, pictures, papers),
    ]
    parts = sets.cut_list.parts
    count = PartCount(distinct=len(parts), total=sum(part.quantity for part in parts))
    severities = Counter(finding.severity for finding in sets.findings)
    manifest = Manifest(
        job=job.name,
        rooms=len(job.rooms),
        parts=count,
        edge_bands=bands_used(parts),
        pre_mill_mm=job.routing.pre_mill_mm,
        findings=FindingCount(
            ok=severities[Severity.OK],
            warn=severities[Severity.WARN],
            fail=severities[Severity.FAIL],
        ),
        nests=shop.nests if shop is not None else (),
        layers=shop.layers if shop is not None else NO_LAYERS,
        files=tuple(piece.entry for piece in pieces),
        bars=bar_entries(nested.bar_nests),
        left_out=nested.left_out,
    )
    files = {PurePosixPath(piece.entry.path): piece.content for piece in pieces}
    files[MANIFEST] = manifest_json(manifest).encode()
    return Outcome(
        files=files,
        findings=sets.findings,
        rooms=len(job.rooms),
        parts=count,
        nests=nested.nests,
        bar_nests=nested.bar_nests,
        left_out=nested.left_out,
        cut_files_written=shop is not None,
        not_checked=sets.not_checked,
    )


def material_nests(nests: tuple[Nest, ...]) -> tuple[MaterialNest, ...]:
    """Return the nests as the yield table takes them."""
    return tuple(
        MaterialNest(
            material=n.group.material,
            face_up=n.group.face_up,
            instance=n.instance,
            solution=n.solution,
        )
        for n in nests
    )


def plain(path: str, role: FileRole, text: str) -> _Piece:
    """Return a text file that is about the whole job."""
    content = text.encode()
    return _Piece(content=content, entry=FileEntry(path=path, role=role, sha256=sha256_of(content)))


def table_files(job: Job, sets: SetsOfJob, nested: Nested) -> Iterator[_Piece]:
    """Yield the tables."""
    cut_list, nests = sets.cut_list, material_nests(nested.nests)
    yield plain("findings.csv", FileRole.FINDINGS, findings_csv(sets.findings, sets.not_checked))
    yield plain("shop/cutlist.csv", FileRole.CUT_LIST, cutlist_csv(cut_list, job.units))
    yield plain("shop/linear.csv", FileRole.LINEAR_LIST, linear_csv(cut_list, job.units))
    holes = linear_holes_csv(cut_list, job.units)
    yield plain("shop/linear-holes.csv", FileRole.LINEAR_HOLES, holes)
    yield plain("shop/yield.csv", FileRole.YIELD, yield_csv(nests, nested.left_out))
    left_over = offcuts_csv(nests, reusable_size(job.machine))
    yield plain("shop/offcuts.csv", FileRole.OFFCUTS, left_over)
    edge_bores = edge_bores_csv(cut_list)
    if edge_bores is not None:
        yield plain("shop/edge-bores.csv", FileRole.EDGE_BORES, edge_bores)


def bar_files(job: Job, nests: tuple[BarNest, ...]) -> Iterator[_Piece]:
    """Yield the cut plan of the bars, if there are any."""
    if nests:
        yield plain("shop/bars.csv", FileRole.BAR_PLAN, bar_plan_csv(nests, job.units))


def kit_files(job: Job) -> Iterator[_Piece]:
    """Yield what is packed for each set and hand, and for the whole job."""
    kits = kits_of(job)
    yield plain("site/kits.csv", FileRole.KITS, kits_csv(kits))
    yield plain("site/pick-list.csv", FileRole.PICK_LIST, pick_list_csv(kits))


def paper_files(papers: Mapping[PurePosixPath, bytes]) -> Iterator[_Piece]:
    """Yield the papers for the site."""
    roles = {
        "install": FileRole.INSTALLATION,
        "blocking": FileRole.BLOCKING,
        "rooms": FileRole.ROOM_PAGES,
        "pick": FileRole.PICK_SHEET,
    }
    for path, content in papers.items():
        role = roles[path.stem.partition("-")[0]]
        entry = FileEntry(path=str(path), role=role, sha256=sha256_of(content))
        yield _Piece(content=content, entry=entry)


def room_files(job: Job, fits: tuple[HandedFit, ...]) -> Iterator[_Piece]:
    """Yield what each measured room asks for."""
    yield plain("site/rooms.csv", FileRole.ROOMS, rooms_csv(fits, job.fitting, job.units))
    missed = room_fixings_csv(fits, job.units)
    yield plain("site/room-fixings.csv", FileRole.ROOM_FIXINGS, missed)


def cut_files(shop: ShopFiles) -> Iterator[_Piece]:
    """Yield the DXF files."""
    for part in shop.parts:
        yield _Piece(
            content=part.content,
            entry=FileEntry(
                path=str(part.path),
                role=FileRole.PART,
                sha256=sha256_of(part.content),
                part=part.part,
                operation=part.operation,
            ),
        )
    for sheet in shop.sheets:
        digest = sha256_of(sheet.content)
        yield _Piece(
            content=sheet.content,
            entry=FileEntry(path=str(sheet.path), role=FileRole.SHEET, sha256=digest),
        )


def model_files(models: tuple[SetFiles, ...]) -> Iterator[_Piece]:
    """Yield the model files."""
    for model in models:
        for (path, content), role in (
            (model.step, FileRole.SOLIDS),
            (model.glb, FileRole.VIEW),
        ):
            yield _Piece(
                content=content,
                entry=FileEntry(
                    path=str(path),
                    role=role,
                    sha256=sha256_of(content),
                    set_name=model.set_name,
                    hand=model.hand,
                ),
            )


def summary_file(
    job: Job,
    sets: SetsOfJob,
    nested: Nested,
    shop: ShopFiles | None,
    pictures: tuple[SetPictures, ...],
    papers: Iterable[PurePosixPath],
) -> _Piece:
    """Return the summary page."""
    content = SummaryContent(
        job=job.name,
        units=job.units,
        currency=job.currency,
        rooms=tuple(
            RoomCount(set_name=e.used.sizes.name, hand=e.used.hand, rooms=e.used.rooms)
            for e in sets.sets
        ),
        findings=sets.findings,
        sets=pictures,
        sheet_maps=() if shop is None else tuple(sheet.sheet_map for sheet in shop.sheets),
        yield_rows=yield_rows(material_nests(nested.nests)),
        cut_list=sets.cut_list,
        bar_nests=nested.bar_nests,
        papers=tuple(str(path) for path in papers),
        left_out=nested.left_out,
        not_checked=sets.not_checked,
    )
    return plain("summary.html", FileRole.SUMMARY, summary_html(content))
