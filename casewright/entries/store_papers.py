"""The papers for the store, as PDF."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.entries.built import Built
from casewright.entries.entry import Rendered
from casewright.stages.store.checks_by_piece import checks_by_piece
from casewright.stages.store.measuring_stage import measuring_sheets
from export.papers.pdf import pdf_bytes
from export.store.measuring import measuring_source
from export.store.packing import packing_source
from export.store.sign_off import SignOff, sign_off_source
from parametric.sets.standing_plan import stands_in_plan
from parametric.stock.lengths import Units


def measuring(built: Built) -> Iterator[Rendered]:
    """Yield a sheet for each room to measure it, with what is known so far."""
    job = built.job
    sheets = tuple(measuring_sheets(job))
    unit = {Units.INCH: "inches", Units.MM: "millimetres"}[job.units]
    source = measuring_source(job.name, sheets, unit, built.paper)
    yield Rendered(content=pdf_bytes(source))


def sign_off(built: Built) -> Iterator[Rendered]:
    """Yield a page for each room that can be put up, to look it through and sign."""
    site = built.site
    checks = {
        each.key: checks_by_piece(each.model.room_set.assembly, each.steps) for each in site.sets
    }
    stands = {each.key: stands_in_plan(each.model.room_set) for each in site.sets}
    pages = (
        SignOff(
            room=room.number,
            set_name=room.set_name,
            hand=room.hand,
            checks=checks[room.set_name, room.hand],
            stands=stands[room.set_name, room.hand],
        )
        for room in site.rooms
    )
    yield Rendered(content=pdf_bytes(sign_off_source(site.job, pages, site.paper)))


def packing_lists(built: Built) -> Iterator[Rendered]:
    """Yield what each room gets, and what goes on each trip."""
    source = packing_source(built.packing, built.job.units, built.paper)
    yield Rendered(content=pdf_bytes(source))
