"""Whether what the edge bander mills off suits the bands that it puts on."""

from __future__ import annotations

from collections.abc import Iterator

from parametric.findings.finding import Finding
from parametric.findings.measure import at_most
from parametric.joints.assembly import Assembly
from parametric.shapes.routing import Routing
from parametric.stock.amounts import length

MOST_PRE_MILL_MM = 3.0
"""What the milling unit of an edge bander takes off in one pass; common practice, no source."""


def pre_mill_findings(where: str, assembly: Assembly, routing: Routing) -> Iterator[Finding]:
    """Yield for each material and band that is put on it what is milled off before.

    A warning where that is more than the band puts back: parts then come from the router larger
    than they end up, so that they cannot be tried in their place, and do not go in where one is
    banded without milling. A failure beyond what banders mill: the part would come out too large.
    Nothing where nothing is milled off.
    """
    if not routing.pre_mill_mm:
        return
    pairs = dict.fromkeys(
        (board.material.key, band.band) for board in assembly.boards for band in board.bands
    )
    for material, band in pairs:
        yield at_most(
            code="pre-mill",
            where=f"{where}: {band.key} on {material}",
            what=("milled off before the ", length(band.thickness_mm), " band goes on:"),
            measured=routing.pre_mill_mm,
            warn_above=min(band.thickness_mm, MOST_PRE_MILL_MM),
            fail_above=MOST_PRE_MILL_MM,
            advice="mill off no more than the band is thick, or use a thicker band",
        )
