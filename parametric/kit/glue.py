"""The glue of the shop: what it spreads on the joints that it makes.

Glued is what the assembly sheets say: each cleat on its whole face where it lies against a board
that it is screwed to, and every groove on its bottom and both cheeks. Steel is not glued.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from parametric.geometry.space import SAME_MM, Axis, Box
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Housed, Screwed, made_in
from parametric.kit.kit import Kit, KitLine, KitUnit
from parametric.kit.set_kit import SetKit, whole_shop_hardware
from parametric.kit.supplies import GLUE, Supplies
from parametric.shapes.members import Cleat
from parametric.stock.made_in import MadeIn

DESCRIPTION = "Wood glue"
_MM2_PER_M2 = 1e6


def glue_ml(assembly: Assembly, supplies: Supplies) -> float:
    """Return the millilitres that the shop needs for one set, without spare."""
    return math.fsum(glued_mm2(assembly)) / _MM2_PER_M2 * supplies.glue_ml_m2


def glued_mm2(assembly: Assembly) -> Iterator[float]:
    """Yield the area of each joint that the shop glues, each two parts once."""
    parts = {part.name: part for part in (*assembly.boards, *assembly.members)}
    seen: set[frozenset[str]] = set()
    for joint in assembly.joints:
        if made_in(joint) is not MadeIn.SHOP:
            continue
        if isinstance(joint, Housed):
            yield _groove_mm2(parts[joint.member].box, parts[joint.into].box)
        elif isinstance(joint, Screwed):
            pair = frozenset((joint.through, joint.into))
            if pair not in seen and any(isinstance(parts[name], Cleat) for name in pair):
                seen.add(pair)
                yield touching_mm2(*(parts[name].box for name in sorted(pair)))


def touching_mm2(one: Box, other: Box) -> float:
    """Return the area on which two boxes touch that share no volume; 0 where they do not."""
    common = sorted(
        min(one.high[axis], other.high[axis]) - max(one.low[axis], other.low[axis]) for axis in Axis
    )
    across, *sides = common
    return math.prod(sides) if abs(across) <= SAME_MM and sides[0] > 0 else 0.0


def _groove_mm2(member: Box, into: Box) -> float:
    """Return bottom and cheeks of the groove that a board stands in."""
    inside = member.overlap(into)
    if inside is None:
        return 0.0
    across = min(Axis, key=member.size)
    depth_mm, along_mm = sorted(inside.size(axis) for axis in Axis if axis is not across)
    return along_mm * (inside.size(across) + 2 * depth_mm)


def whole_glue(kits: Iterable[SetKit], supplies: Supplies) -> KitLine | None:
    """Return the glue for all rooms with its spare; None where nothing is glued."""
    needed = math.fsum(each.rooms * glue_ml(each.assembly, supplies) for each in kits)
    if not needed:
        return None
    return KitLine(
        key=GLUE,
        description=DESCRIPTION,
        unit=KitUnit.MILLILITRES,
        needed=needed,
        spare=needed * supplies.spare_adhesive,
        joints=(),
        supplied=GLUE not in supplies.not_supplied,
    )


def whole_shop_list(kits: Sequence[SetKit], supplies: Supplies) -> Kit:
    """Return hardware and glue that the shop needs for all rooms."""
    glue = whole_glue(kits, supplies)
    hardware = whole_shop_hardware(kits)
    return hardware if glue is None else Kit(lines=(*hardware.lines, glue))
