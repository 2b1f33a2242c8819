"""What hardware, adhesive and glue of a room weigh, beside its boards, bars and steel parts."""

from __future__ import annotations

from dataclasses import dataclass
from math import fsum

from casewright.job import Job
from parametric.joints.assembly import Assembly
from parametric.kit.count import kit_of, shop_hardware_of
from parametric.kit.glue import DESCRIPTION, glue_ml
from parametric.kit.kit import KitLine
from parametric.kit.steel import article_of, steel_of
from parametric.kit.supplies import ADHESIVE, GLUE, cartridges_for
from parametric.shapes.mass import mass_kg
from parametric.stock.buying import packed_buying
from parametric.stock.made_in import MadeIn


@dataclass(frozen=True, slots=True, kw_only=True)
class HardwareMass:
    """Kilograms of what is in the box, and of screws and glue that the shop put into the pieces;
    `unweighed` are the articles of both that nobody has given a mass for.
    """

    box_kg: float
    fitted_kg: float
    unweighed: tuple[str, ...]


def hardware_mass(job: Job, assembly: Assembly) -> HardwareMass:
    """Return what the hardware of one room weighs. Steel is told by its sizes: in the box what is
    small enough; loose or put on in the shop it is in the mass of its piece.
    """
    unweighed: dict[str, None] = {}
    steel_kg = {
        article_of(member, job.units): mass_kg(member)
        for made in MadeIn
        for member in steel_of(assembly, made)
    }

    def weighed(line: KitLine, count: float) -> float:
        article = line.key, line.description
        if article in steel_kg:
            return count * steel_kg[article]
        mass_g = packed_buying(job.buying, *article).mass_g
        if mass_g is None:
            unweighed.setdefault(line.description)
        return count * (mass_g or 0.0) / 1000

    kit = kit_of(assembly, job.supplies, job.units)
    shop = shop_hardware_of(assembly, job.supplies, job.units)
    box_kg = fsum(
        weighed(line, cartridges_for(line.packed) if line.key == ADHESIVE else line.packed)
        for line in kit.lines
        if line.in_box
    )
    fitted = [
        weighed(line, line.needed)
        for line in shop.lines
        if (line.key, line.description) not in steel_kg
    ]
    glue = glue_ml(assembly, job.supplies)
    if glue:
        bottle_g = packed_buying(job.buying, GLUE, DESCRIPTION).mass_g
        if bottle_g is None:
            unweighed.setdefault(DESCRIPTION)
        fitted.append(glue / job.supplies.glue_bottle_ml * (bottle_g or 0.0) / 1000)
    return HardwareMass(box_kg=box_kg, fitted_kg=fsum(fitted), unweighed=tuple(unweighed))
