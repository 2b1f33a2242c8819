"""All that a build has made in memory before any of its files is rendered."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from casewright.job import Job
from casewright.stages.labels.label_stage import LabelFiles
from casewright.stages.models.model_stage import SetFiles
from casewright.stages.nest.nest_stage import material_nests
from casewright.stages.nested.nested_stage import Nested
from casewright.stages.sets.set_stage import SetsOfJob
from casewright.stages.shop.router_stage import RouterStage
from casewright.stages.shop.sheet_stage import ShopFiles
from casewright.stages.shop.sorting_stage import sorting_plan
from casewright.stages.site.site_stage import SiteWork
from casewright.stages.store.packing_stage import packing_of
from export.estimate.estimate import Estimate
from export.papers.page_format import page_format
from export.part_drawing.content import PartDrawing
from export.part_drawing.drawing import part_drawing
from export.part_drawing.pages import rooms_on
from export.shop.sorting import SortingPlan
from export.store.content import Packing
from export.summary.content import SetPictures
from export.tables.yield_table import MaterialNest
from parametric.findings.telling import ToldFinding, told_findings
from parametric.kit.set_kit import SetKit
from parametric.lists.piece_catalogue import PieceCatalogue
from parametric.stock.paper import Paper, paper_for


@dataclass(frozen=True, kw_only=True)
class Built:
    """A built job. `shop` is None where failed findings keep the cut files back; models,
    pictures and kits are in the order of the sets. `pieces` are what the shop joins, `router` what
    the cut files ask of the router and `estimate` what the job costs, None without them.

    What several files show is made when the first of them asks for it, and once.
    """

    job: Job
    sets: SetsOfJob
    nested: Nested
    shop: ShopFiles | None
    models: tuple[SetFiles, ...]
    pictures: tuple[SetPictures, ...]
    kits: tuple[SetKit, ...]
    pieces: PieceCatalogue
    site: SiteWork
    labels: LabelFiles
    router: RouterStage | None = None
    estimate: Estimate | None = None

    @property
    def material_nests(self) -> tuple[MaterialNest, ...]:
        """The nests as the tables of yield and offcuts take them."""
        return material_nests(self.nested.nests)

    @property
    def paper(self) -> Paper:
        """The paper that the job is printed on."""
        return paper_for(self.job.units, self.job.paper)

    @cached_property
    def told(self) -> tuple[ToldFinding, ...]:
        """The findings as they are told."""
        return told_findings(self.sets.findings, self.job.units)

    @cached_property
    def packing(self) -> Packing:
        """What is packed for each room, and goes on which trip."""
        return packing_of(self.job, self.sets, self.pieces)

    @cached_property
    def sorting(self) -> SortingPlan:
        """Which part goes on which cart."""
        return sorting_plan(self.job, self.sets, self.pieces, self.nested.nests)

    @cached_property
    def drawings(self) -> tuple[PartDrawing, ...]:
        """The drawing of each part, as it stands on the job's paper."""
        rooms = rooms_on(page_format(self.paper))
        joined: dict[str, list[str]] = {}
        for piece in self.pieces.pieces():
            for number, _, _ in piece.parts:
                joined.setdefault(number, []).append(piece.number)
        return tuple(
            part_drawing(part, self.job.units, rooms, tuple(joined.get(part.number, ())))
            for part in self.sets.cut_list.parts
        )
