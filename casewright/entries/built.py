"""All that a build has made in memory before any of its files is rendered."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.job import Job
from casewright.stages.label_stage import LabelFiles
from casewright.stages.model_stage import SetFiles
from casewright.stages.nest_stage import material_nests
from casewright.stages.nested_stage import Nested
from casewright.stages.router_stage import RouterStage
from casewright.stages.set_stage import SetsOfJob
from casewright.stages.sheet_stage import ShopFiles
from casewright.stages.site_stage import SiteWork
from export.estimate.estimate import Estimate
from export.summary.content import SetPictures
from export.tables.yield_table import MaterialNest
from parametric.kit.set_kit import SetKit
from parametric.lists.piece_catalogue import PieceCatalogue


@dataclass(frozen=True, slots=True, kw_only=True)
class Built:
    """A built job. `shop` is None where failed findings keep the cut files back; models,
    pictures and kits are in the order of the sets. `pieces` are what the shop joins, `router` what
    the cut files ask of the router and `estimate` what the job costs, None without them.
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
