"""The papers for the site, as PDF: one function for each kind."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from casewright.entries.entry import Rendered
from casewright.stages.site.blocking_content import OfJob, blocking_plan
from casewright.stages.site.site_content import cartridges, kit_rows, room_page
from casewright.stages.site.site_stage import SiteSet, SiteWork
from export.papers.pdf import pdf_bytes
from export.site.blocking import blocking_source
from export.site.content import PickList
from export.site.rooms import pick_list_source, rooms_source
from parametric.sets.standing_plan import stands_in_plan


def installation_sheets(site: SiteWork) -> Iterator[Rendered]:
    """Yield for each set and hand its kit, and a page for each step."""
    for key, source in site.sheets.items():
        yield Rendered(name=site.names[key], content=pdf_bytes(source))


def blocking_plans(site: SiteWork) -> Iterator[Rendered]:
    """Yield for each set and hand where walls must hold screws, if any do."""
    for each in site.sets:
        plan = blocking_plan(site.job, each.model.room_set, _of_job(site, each))
        if plan.walls:
            content = pdf_bytes(blocking_source(plan, site.paper))
            yield Rendered(name=site.names[each.key], content=content)


def _of_job(site: SiteWork, of: SiteSet) -> OfJob:
    return OfJob(
        units=site.units,
        rooms=tuple(each.number for each in site.rooms if (each.set_name, each.hand) == of.key),
        loads=site.loads,
        screw_loads=of.screw_loads,
    )


def room_pages(site: SiteWork) -> Iterator[Rendered]:
    """Yield a page for each room, all in one paper."""
    sets = {each.key: each for each in site.sets}
    pages = []
    for room in site.rooms:
        key = room.set_name, room.hand
        fit, revision, each = site.fits.get(room.number), site.sheets[key].revision, sets[key]
        page = room_page(
            site.job,
            room,
            fit,
            each.steps,
            each.kit,
            each.effort,
            revision,
            site.units,
            site.fitting,
        )
        page = replace(page, stands=stands_in_plan(each.model.room_set))
        pages.append(page)
    yield Rendered(content=pdf_bytes(rooms_source(site.job, pages, site.paper)))


def pick_sheet(site: SiteWork) -> Iterator[Rendered]:
    """Yield what the store packs, a box for each room."""
    yield Rendered(content=pdf_bytes(pick_list_source(pick_list(site), site.paper)))


def pick_list(site: SiteWork) -> PickList:
    """Return what the store packs: one box for each room."""
    counts = Counter((room.set_name, room.hand) for room in site.rooms)
    return PickList(
        job=site.job,
        sets=tuple(
            (
                f"{name}, {hand} hand",
                counts[name, hand],
                tuple(
                    (
                        row[0],
                        line.unit.in_words(line.packed * counts[name, hand]),
                        f"{row[2]} in each box" if cartridges(line) else row[2],
                    )
                    for line, row in zip(each.kit.lines, kit_rows(each.kit), strict=True)
                    if line.in_box
                ),
            )
            for each in site.sets
            for name, hand in (each.key,)
            if counts[name, hand]
        ),
    )
