"""Screws that are left to a room: at most sixty in each set of the demo jobs.

Sixty is what the project asks of its demos: common practice, no source.
"""

import csv
import re
from collections import Counter
from pathlib import Path

import pypdfium2
import pytest

from casewright.intake.read_job import read_job
from casewright.stages.sets.used_sets import placed, used_sets
from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall, Screwed, made_in
from parametric.joints.machining import Machining, machining
from parametric.stock.made_in import MadeIn
from tests.casewright.build_fixtures import CONFIGS
from tests.pdf_pages import text_of

MOST = 60
DEMO_OF = {
    "ship": "survey-ship",
    "centre": "avalanche-centre",
    "keeper": "keepers-room",
    "station": "field-station",
}


def screws_by_shank(assembly: Assembly, made: MadeIn | None = None) -> Counter[float]:
    """The screws of a set that are driven there, or all, by the hole that their shanks pass."""
    return Counter(
        round(joint.screw.clearance_diameter_mm, 6)
        for joint in assembly.joints
        if isinstance(joint, Screwed | FixedToWall) and made in {None, made_in(joint)}
    )


def holes(assembly: Assembly, worked: Machining) -> Counter[float]:
    """The holes right through parts that shanks of screws pass, those of bought parts with them."""
    shanks = set(screws_by_shank(assembly))
    found: Counter[float] = Counter()
    for features in worked.features.values():
        for feature in features:
            diameter = round(getattr(feature, "diameter_mm", 0.0), 6)
            found[diameter] += diameter in shanks and feature.depth_mm is None
    for leg in assembly.legs:
        found[round(leg.hardware.screw.clearance_diameter_mm, 6)] += 4
    for plate in assembly.wall_plates:
        found[round(plate.hardware.screw.clearance_diameter_mm, 6)] += 2
    return +found


@pytest.mark.parametrize("demo", list(DEMO_OF))
def test_no_demo_room_asks_for_more_than_sixty_screws(
    demo: str, request: pytest.FixtureRequest
) -> None:
    """As many as there are holes for, less those that the shop drives; sheet and kit say so too."""
    out: Path = request.getfixturevalue(demo)
    job = read_job(CONFIGS / f"{DEMO_OF[demo]}.yaml")
    with (out / "site" / "kits.csv").open(newline="", encoding="utf-8") as stream:
        kits = list(csv.DictReader(stream))
    for used in used_sets(job):
        name, hand = used.sizes.name, used.hand
        assembly = placed(job, used).assembly
        in_shop = screws_by_shank(assembly, MadeIn.SHOP)
        left = holes(assembly, machining(assembly, job.routing)) - in_shop
        assert left == screws_by_shank(assembly, MadeIn.SITE)
        assert 0 < left.total() <= MOST, (name, left)
        keys = {j.screw.key for j in assembly.joints if isinstance(j, Screwed | FixedToWall)}
        packed = [
            float(row["needed"])
            for row in kits
            if (row["set"], row["hand"]) == (name, hand.value) and row["article"] in keys
        ]
        assert sum(map(int, packed)) == left.total()
        sheets = pypdfium2.PdfDocument(out / "site" / f"install-{name}-{hand.value}.pdf")
        told = re.search(r"(\d+) screws, about ([\d.]+) hours of work", text_of(sheets[0]))
        assert told and int(told[1]) == left.total()
