"""The steel of a set: what its articles are called, what the shop puts on, and what of the rest is
packed in the box of a room or lies loose beside it.
"""

from __future__ import annotations

from collections.abc import Iterator

from parametric.geometry.space import Axis
from parametric.joints.assembly import Assembly
from parametric.joints.joints import made_in, parts_of
from parametric.shapes.mass import mass_kg
from parametric.shapes.members import Leg, Member, SteelAngle, WallPlate
from parametric.stock.lengths import Units, show_length
from parametric.stock.made_in import MadeIn

LONGEST_IN_BOX_MM = 300.0
HEAVIEST_IN_BOX_KG = 1.0
"""What lies among screws in a carton of 400 x 300 x 200 without breaking it. Common practice, no
source."""

Steel = SteelAngle | Leg | WallPlate


def steel_of(assembly: Assembly, made: MadeIn) -> Iterator[Steel]:
    """Yield angles, legs and wall plates, in this order: those that the shop puts on a piece, or
    those that come to the site by themselves.
    """
    in_shop = {
        name
        for joint in assembly.joints
        if made_in(joint) is MadeIn.SHOP
        for name in parts_of(joint)
    }
    listed: tuple[Steel, ...] = (*assembly.angles, *assembly.legs, *assembly.wall_plates)
    for member in listed:
        if (member.name in in_shop) is (made is MadeIn.SHOP):
            yield member


def article_of(member: Steel, units: Units) -> tuple[str, str]:
    """Return key and words of an article of steel; an angle is cut to length."""
    if isinstance(member, SteelAngle):
        length = show_length(member.box.size(member.along), units)
        return member.section.key, f"{member.section.description}, {length} long"
    return member.hardware.key, member.hardware.description


def lies_loose(member: Member) -> bool:
    """Return whether steel is too long or too heavy for the box: it lies loose beside it."""
    longest_mm = max(map(member.box.size, Axis))
    return longest_mm > LONGEST_IN_BOX_MM or mass_kg(member) > HEAVIEST_IN_BOX_KG
