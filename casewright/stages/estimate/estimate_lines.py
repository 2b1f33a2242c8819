"""Hours of a job's machine, bench and installers, as lines of the estimate."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import fsum

from casewright.job import Job
from casewright.stages.nest.nest_stage import NestGroup
from casewright.stages.sets.set_stage import SetsOfJob
from casewright.stages.shop.router_stage import RouterStage
from casewright.stages.site.site_stage import SiteWork
from casewright.wording import counted
from export.estimate.estimate import Line, Section, hour_line
from export.estimate.sheet_use import nest_name
from parametric.geometry.hand import Hand
from parametric.joints.delivered import joined_in_shop
from parametric.joints.joints import Screwed, made_in
from parametric.kit.set_kit import SetKit
from parametric.lists.cut_list import PartUse
from parametric.steps.site_time import site_time
from parametric.stock.made_in import MadeIn

_MINUTES = 60.0
SECONDS = 3600.0
Key = tuple[str, Hand]


def machine_lines(job: Job, router: RouterStage) -> Iterator[Line]:
    """Yield the hours of the router for each nest."""
    for each in router.nests:
        yield machine_line(job, each.nest.group, each.seconds / SECONDS)


def machine_line(job: Job, group: NestGroup, hours: float) -> Line:
    """Return the hours of the router for a nest as a line."""
    return hour_line(
        Section.MACHINE,
        nest_name(group.material.key, group.face_up),
        hours,
        job.rates,
        "shop/router-times.csv",
        "cutting, changing bits, handling",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchWork:
    """What the bench does for one room: screws driven, pieces joined, edges banded."""

    screws: int
    pieces: int
    edges: int

    def hours(self, job: Job, rooms: int) -> float:
        """Return the hours for so many rooms."""
        rates = job.bench_rates
        minutes = (
            self.screws * rates.shop_screw_minutes,
            self.pieces * rates.shop_piece_minutes,
            self.edges * rates.shop_edge_minutes,
        )
        return rooms * fsum(minutes) / _MINUTES


def bench_work(kit: SetKit, sets: SetsOfJob) -> BenchWork:
    """Return what the bench does for one room of a set."""
    parts = {part.number: part for part in sets.cut_list.parts}
    used = [parts[use.number] for use in sets.cut_list.uses if key_of(use) == key_of(kit)]
    shop = [each for each in kit.assembly.joints if made_in(each) is MadeIn.SHOP]
    return BenchWork(
        screws=sum(isinstance(joint, Screwed) for joint in shop),
        pieces=sum(1 for _ in joined_in_shop(kit.assembly)),
        edges=sum(len(part.banding) for part in used),
    )


def bench_lines(job: Job, sets: SetsOfJob, kits: Iterable[SetKit]) -> Iterator[Line]:
    """Yield the hours of the bench for each set and hand."""
    for kit in kits:
        work = bench_work(kit, sets)
        yield hour_line(
            Section.BENCH,
            of_rooms(kit),
            work.hours(job, kit.rooms),
            job.rates,
            "shop/pieces.csv, shop/cutlist.csv",
            f"a room: {work.screws} screws, {work.pieces} pieces joined, {work.edges} edges banded",
        )


def install_lines(job: Job, site: SiteWork, kits: Iterable[SetKit]) -> Iterator[Line]:
    """Yield the hours on site for each set and hand that can be put up, of those with kits."""
    rooms = {key_of(kit): kit for kit in kits}
    for each in site.sets:
        kit = rooms.get(each.key)
        if kit is None:
            continue
        time = site_time(each.model.room_set.assembly, each.steps, each.rates)
        yield hour_line(
            Section.INSTALL,
            of_rooms(kit),
            kit.rooms * time.person_minutes / _MINUTES,
            job.rates,
            f"site/install-{site.names[each.key]}.pdf",
            f"a room: {time.screws} screws, {len(each.steps)} steps, all who are needed",
        )


def not_put_up(site: SiteWork, kits: Iterable[SetKit]) -> Iterator[str]:
    """Yield in words the sets that have no order of work, and so no hours on site."""
    known = {each.key for each in site.sets}
    for kit in kits:
        if key_of(kit) not in known:
            yield f"not counted: installation of {called(kit)}, which has no order of work"


def called(kit: SetKit) -> str:
    """Return a set and hand as people call it."""
    return f"{kit.set_name}, {kit.hand} hand"


def of_rooms(kit: SetKit) -> str:
    """Return a set and hand with its rooms, as lines name it."""
    return f"{called(kit)}, {counted(kit.rooms, 'room')}"


def key_of(of: SetKit | PartUse) -> Key:
    """Return the set and hand that something belongs to."""
    return of.set_name, of.hand
