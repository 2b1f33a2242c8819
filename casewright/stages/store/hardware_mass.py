"""What hardware, adhesive and glue of a room weigh, beside its boards, bars and steel parts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import fsum

from casewright.job import Job
from parametric.joints.assembly import Assembly
from parametric.kit.count import kit_of, shop_hardware_of
from parametric.kit.glue import DESCRIPTION, glue_ml
from parametric.kit.kit import KitLine
from parametric.kit.supplies import ADHESIVE, GLUE, cartridges_for
from parametric.stock.buying import packed_buying


@dataclass(frozen=True, slots=True, kw_only=True)
class HardwareMass:
    """Kilograms of what is in the box, and of screws and glue that the shop put into the pieces;
    `unweighed` are the articles of both that nobody has given a mass for.
    """

    box_kg: float
    fitted_kg: float
    unweighed: tuple[str, ...]


def hardware_mass(job: Job, assembly: Assembly) -> HardwareMass:
    """Return what the hardware of one room weighs. Angles, legs and wall plates are pieces of their
    own, or in the mass of the piece that they are put on.
    """
    unweighed: dict[str, None] = {}

    def weighed(line: KitLine, count: float) -> float:
        mass_g = packed_buying(job.buying, line.key, line.description).mass_g
        if mass_g is None:
            unweighed.setdefault(line.description)
        return count * (mass_g or 0.0) / 1000

    steel = set(_steel(assembly))
    kit = kit_of(assembly, job.supplies, job.units)
    shop = shop_hardware_of(assembly, job.supplies, job.units)
    box_kg = fsum(
        weighed(line, cartridges_for(line.packed) if line.key == ADHESIVE else line.packed)
        for line in kit.lines
        if line.supplied and line.key not in steel
    )
    fitted = [weighed(line, line.needed) for line in shop.lines if line.key not in steel]
    glue = glue_ml(assembly, job.supplies)
    if glue:
        bottle_g = packed_buying(job.buying, GLUE, DESCRIPTION).mass_g
        if bottle_g is None:
            unweighed.setdefault(DESCRIPTION)
        fitted.append(glue / job.supplies.glue_bottle_ml * (bottle_g or 0.0) / 1000)
    return HardwareMass(box_kg=box_kg, fitted_kg=fsum(fitted), unweighed=tuple(unweighed))


def _steel(assembly: Assembly) -> Iterator[str]:
    yield from (angle.section.key for angle in assembly.angles)
    yield from (leg.hardware.key for leg in assembly.legs)
    yield from (plate.hardware.key for plate in assembly.wall_plates)
