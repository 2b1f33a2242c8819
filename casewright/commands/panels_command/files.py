"""The files of the command's output folder, in memory: as a build leaves them, as far as there is
no room to build for.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import PurePosixPath

from casewright.job import Machine
from casewright.output.left_file import LeftFile, with_manifest
from casewright.stages.nest.nest_stage import Nest, material_nests
from casewright.stages.shop.sheet_stage import ShopFiles, reusable_size
from export.manifest import FileRole, FindingCount, Manifest, PartCount, manifest_json
from export.summary.content import SummaryContent
from export.summary.panels_page import panels_html
from export.tables.cutlist_table import cutlist_csv
from export.tables.edge_bore_table import edge_bores_csv
from export.tables.offcut_table import offcuts_csv
from export.tables.panel_table import PanelSource, panels_csv
from export.tables.yield_table import MaterialNest, yield_csv, yield_rows
from parametric.lists.cut_list import CutList
from parametric.stock.lengths import Units

CURRENCY = "in the currency of the libraries"


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPanels:
    """Panels that were read, nested and drawn."""

    title: str
    machine: Machine
    units: Units
    cut_list: CutList
    sources: tuple[PanelSource, ...]
    nests: tuple[Nest, ...]
    shop: ShopFiles

    @property
    def material_nests(self) -> tuple[MaterialNest, ...]:
        """The nests as the tables of yield and offcuts take them."""
        return material_nests(self.nests)


def panel_files(made: CutPanels) -> dict[PurePosixPath, bytes]:
    """Return all files by path, with the manifest that lists them."""
    files = tuple(_files(made))
    parts = made.cut_list.parts
    manifest = Manifest(
        job=made.title,
        units=made.units,
        rooms=0,
        parts=PartCount(distinct=len(parts), total=sum(part.quantity for part in parts)),
        edge_bands=(),
        pre_mill_mm=0.0,
        findings=FindingCount(ok=0, warn=0, fail=0),
        nests=made.shop.nests,
        layers=made.shop.layers,
        files=tuple(file.entry for file in files),
    )
    return with_manifest(files, manifest_json(manifest))


def _files(made: CutPanels) -> Iterator[LeftFile]:
    for sheet in made.shop.sheets:
        yield LeftFile(path=sheet.path, role=FileRole.SHEET, content=sheet.content)
    for part in made.shop.parts:
        yield LeftFile(
            path=part.path,
            role=FileRole.PART,
            content=part.content,
            part=part.part,
            operation=part.operation,
        )
    nests = made.material_nests
    reusable = reusable_size(made.machine)
    tables = (
        ("shop/cutlist.csv", FileRole.CUT_LIST, cutlist_csv(made.cut_list, made.units)),
        ("shop/panels.csv", FileRole.PANELS, panels_csv(made.sources)),
        ("shop/edge-bores.csv", FileRole.EDGE_BORES, edge_bores_csv(made.cut_list)),
        ("shop/yield.csv", FileRole.YIELD, yield_csv(nests, ())),
        ("shop/offcuts.csv", FileRole.OFFCUTS, offcuts_csv(nests, reusable)),
        ("summary.html", FileRole.SUMMARY, panels_html(_summary(made), made.sources)),
    )
    for path, role, text in tables:
        if text is not None:
            yield LeftFile(path=path, role=role, content=text.encode())


def _summary(made: CutPanels) -> SummaryContent:
    return SummaryContent(
        job=made.title,
        units=made.units,
        currency=CURRENCY,
        rooms=(),
        findings=(),
        sets=(),
        sheet_maps=tuple(sheet.sheet_map for sheet in made.shop.sheets),
        yield_rows=yield_rows(made.material_nests),
        cut_list=made.cut_list,
    )
