"""The page that shows the whole job, and links its papers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from casewright.entries.built import Built
from casewright.entries.entry import Form, Left, Rendered
from casewright.stages.models.turned_stage import sets_of_parts, turned_sets
from export.summary.content import RoomCount, RoomLine, SummaryContent
from export.summary.page import summary_html
from export.tables.yield_table import yield_rows


def summary(built: Built, before: tuple[Left, ...]) -> Iterator[Rendered]:
    """Yield the page."""
    job, sets, nested = built.job, built.sets, built.nested
    sheets = () if built.shop is None else built.shop.sheets
    content = SummaryContent(
        job=job.name,
        units=job.units,
        currency=job.currency,
        rooms=tuple(
            RoomCount(set_name=e.used.sizes.name, hand=e.used.hand, rooms=e.used.rooms)
            for e in sets.sets
        ),
        findings=built.told,
        sets=built.pictures,
        sheet_maps=tuple(sheet.sheet_map for sheet in sheets),
        yield_rows=yield_rows(built.material_nests),
        cut_list=sets.cut_list,
        bar_nests=nested.bar_nests,
        papers=tuple(set_by_set(left for left in before if left.entry.form is Form.PAPER)),
        left_out=nested.left_out,
        not_checked=sets.not_checked,
        schedule=tuple(
            RoomLine(number=room.number, floor=room.floor, set_name=room.set_name, hand=room.hand)
            for room in job.rooms
        ),
        sets_of=sets_of_parts(sets),
        turned=turned_sets(job, sets),
    )
    yield Rendered(content=summary_html(content).encode())


def set_by_set(papers: Iterable[Left]) -> Iterator[str]:
    """Yield the paths of papers: those of each set and hand together, then those of the job."""
    by_name: dict[str, list[str]] = {}
    for left in papers:
        by_name.setdefault(left.name, []).append(left.file.path)
    of_the_job = by_name.pop("", [])
    for paths in by_name.values():
        yield from paths
    yield from of_the_job
