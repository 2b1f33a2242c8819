"""The kit of a set, counted from its joints.

Boxes travel as loose panels and cleats and are put together in the room, so that every screw is in
the kit. Housed joints are glued in the shop: their glue is not.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from parametric.geometry.space import Axis
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Bonded, FixedToWall, Screwed, parts_of
from parametric.kit.kit import Kit, KitLine, KitUnit
from parametric.kit.supplies import ADHESIVE, SHIMS, TOUCH_UP, Supplies
from parametric.stock.lengths import Units, show_length

Use = tuple[int, ...]
"""Places of joints in the assembly's tuple."""


@dataclass(frozen=True, slots=True)
class Article:
    """What is packed, before it is counted."""

    key: str
    description: str
    unit: KitUnit
    spare_share: float


def kit_of(assembly: Assembly, supplies: Supplies, units: Units) -> Kit:
    """Return the kit of a set in one hand: hardware first, then fasteners, then the rest.

    Lengths in descriptions are shown in `units`.
    """
    counted: dict[Article, tuple[float, Use]] = {}
    for article, quantity, joints in (
        *_members(assembly, units),
        *_fasteners(assembly, supplies),
        *_adhesive(assembly, supplies),
        *_shims(assembly, supplies),
        *_touch_up(assembly, supplies),
    ):
        before, used = counted.get(article, (0.0, ()))
        counted[article] = before + quantity, (*used, *joints)
    return Kit(
        lines=tuple(
            _line(article, quantity, joints, supplies)
            for article, (quantity, joints) in counted.items()
        )
    )


def times(kit: Kit, sets: int) -> Kit:
    """Return what so many boxes of a kit hold, each packed by itself."""
    return Kit(
        lines=tuple(
            replace(line, needed=line.needed * sets, spare=line.spare * sets) for line in kit.lines
        )
    )


def together(kits: Iterable[Kit]) -> Kit:
    """Return one kit with all articles of several. Its lines name no joints: these are of sets."""
    lines: dict[tuple[str, str], KitLine] = {}
    for line in (line for kit in kits for line in kit.lines):
        key = line.key, line.description
        held = lines.get(key)
        lines[key] = replace(
            line,
            needed=line.needed + (held.needed if held else 0.0),
            spare=line.spare + (held.spare if held else 0.0),
            joints=(),
        )
    return Kit(lines=tuple(lines.values()))


def _line(article: Article, quantity: float, joints: Use, supplies: Supplies) -> KitLine:
    spare = quantity * article.spare_share
    if article.unit is KitUnit.PIECES:
        # Less the noise of floats: 10 % of 30 is 3.
        spare = math.ceil(spare - 1e-9)
    return KitLine(
        key=article.key,
        description=article.description,
        unit=article.unit,
        needed=quantity,
        spare=spare,
        joints=joints,
        supplied=article.key not in supplies.not_supplied,
    )


def _members(assembly: Assembly, units: Units) -> Iterator[tuple[Article, float, Use]]:
    """Yield steel angles, legs and wall plates; cleats are cut in the shop, as the panels are."""
    for angle in assembly.angles:
        length_mm = angle.box.size(angle.along)
        words = f"{angle.section.description}, {show_length(length_mm, units)} long"
        yield _piece(angle.section.key, words), 1, _with(assembly, angle.name)
    for leg in assembly.legs:
        article = _piece(leg.hardware.key, leg.hardware.description)
        yield article, 1, _with(assembly, leg.name)
    for plate in assembly.wall_plates:
        article = _piece(plate.hardware.key, plate.hardware.description)
        yield article, 1, _with(assembly, plate.name)


def _fasteners(assembly: Assembly, supplies: Supplies) -> Iterator[tuple[Article, float, Use]]:
    for at, joint in enumerate(assembly.joints):
        if isinstance(joint, Screwed | FixedToWall):
            screw = joint.screw
            yield _piece(screw.key, screw.description, supplies.spare_screws), 1, (at,)
    for at, joint in enumerate(assembly.joints):
        if isinstance(joint, FixedToWall) and joint.cap is not None:
            cap = joint.cap
            yield _piece(cap.key, cap.description, supplies.spare_caps), 1, (at,)


def _adhesive(assembly: Assembly, supplies: Supplies) -> Iterator[tuple[Article, float, Use]]:
    """Yield what bonded joints take: one bead along each board that a deck lies on."""
    article = Article(
        ADHESIVE,
        "Construction adhesive",
        KitUnit.MILLILITRES,
        supplies.spare_adhesive,
    )
    section_mm2 = math.pi / 4 * supplies.adhesive_bead_mm**2
    for at, joint in enumerate(assembly.joints):
        if isinstance(joint, Bonded):
            yield article, bead_mm(assembly, joint) * section_mm2 / 1000, (at,)


def bead_mm(assembly: Assembly, joint: Bonded) -> float:
    """Return how long the beads of a bonded joint are: along the middle of each contact."""
    deck = assembly.board(joint.top).box
    total = 0.0
    for name in joint.on:
        support = assembly.board(name).box
        shared = [
            min(deck.high[axis], support.high[axis]) - max(deck.low[axis], support.low[axis])
            for axis in (Axis.X, Axis.Y)
        ]
        total += max(shared)
    return total


def _shims(assembly: Assembly, supplies: Supplies) -> Iterator[tuple[Article, float, Use]]:
    plates = {plate.name for plate in assembly.wall_plates}
    for at, joint in enumerate(assembly.joints):
        if isinstance(joint, FixedToWall) and joint.through not in plates:
            article = _piece(SHIMS, "Shims for wall fixings", supplies.spare_shims)
            yield article, supplies.shims_per_fixing, (at,)


def _touch_up(assembly: Assembly, supplies: Supplies) -> Iterator[tuple[Article, float, Use]]:
    """Yield touch-up by the set; its joints are those whose screws go in where it is seen."""
    if supplies.touch_up_per_set:
        article = _piece(TOUCH_UP, "Touch-up for edges and faces")
        seen = tuple(
            at
            for at, joint in enumerate(assembly.joints)
            if isinstance(joint, FixedToWall) and joint.cap is not None
        )
        yield article, supplies.touch_up_per_set, seen


def _piece(key: str, description: str, spare_share: float = 0.0) -> Article:
    return Article(key, description, KitUnit.PIECES, spare_share)


def _with(assembly: Assembly, name: str) -> Use:
    """Return the joints that hold or carry a member."""
    return tuple(at for at, joint in enumerate(assembly.joints) if name in parts_of(joint))
