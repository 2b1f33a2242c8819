"""The manifest of a build, which lists all files that its entries left."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from casewright.entries.built import Built
from casewright.output.left_file import LeftFile
from casewright.stages.nest.bar_stage import bar_entries
from casewright.stages.shop.router_stage import router_entries
from export.layer_table import LayerTable
from export.manifest import FindingCount, Manifest, PartCount, bands_used, manifest_json
from parametric.findings.finding import Severity

NO_LAYERS = LayerTable(layers=(), largest_drill_mm=0.0)


def manifest_of(built: Built, files: Iterable[LeftFile]) -> str:
    """Return the manifest as sealed JSON.

    Raises:
        ValueError: two files have one path, or a number is not finite.
    """
    job, sets, shop = built.job, built.sets, built.shop
    severities = Counter(each.severity for each in built.told)
    return manifest_json(
        Manifest(
            job=job.name,
            units=job.units,
            rooms=len(job.rooms),
            parts=part_count(built),
            edge_bands=bands_used(sets.cut_list.parts),
            pre_mill_mm=job.routing.pre_mill_mm,
            findings=FindingCount(
                ok=severities[Severity.OK],
                warn=severities[Severity.WARN],
                fail=severities[Severity.FAIL],
            ),
            nests=shop.nests if shop is not None else (),
            layers=shop.layers if shop is not None else NO_LAYERS,
            files=tuple(file.entry for file in files),
            bars=bar_entries(built.nested.bar_nests),
            left_out=built.nested.left_out,
            router=() if built.router is None else router_entries(built.router.files),
        )
    )


def part_count(built: Built) -> PartCount:
    """Return how many parts from sheets there are."""
    parts = built.sets.cut_list.parts
    return PartCount(distinct=len(parts), total=sum(part.quantity for part in parts))
