"""The kit of a set, counted from the joints that are made on site, and the hardware of those that
are made in the shop: each joint is in one of the two.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from parametric.geometry.space import Axis, Point
from parametric.joints.assembly import Assembly
from parametric.joints.into_wall import ungiven_fixing
from parametric.joints.joints import Bonded, FixedToWall, Passing, Screwed, made_in, parts_of
from parametric.kit.kit import Kit, KitLine, KitUnit
from parametric.kit.steel import article_of, lies_loose, steel_of
from parametric.kit.supplies import ADHESIVE, BY_ENGINEER, PACKERS, SHIMS, TOUCH_UP, Supplies
from parametric.stock.lengths import Units
from parametric.stock.made_in import MadeIn

Use = tuple[int, ...]
"""Places of joints in the assembly's tuple."""


@dataclass(frozen=True, slots=True)
class Article:
    """What is packed, in the box or loose beside it, before it is counted."""

    key: str
    description: str
    unit: KitUnit
    spare_share: float
    loose: bool = False


def kit_of(assembly: Assembly, supplies: Supplies, units: Units) -> Kit:
    """Return the kit of a set in one hand: hardware first, then fasteners, then the rest.

    Lengths in descriptions are shown in `units`.
    """
    return _counted(
        (
            *_members(assembly, units, MadeIn.SITE),
            *_fasteners(assembly, supplies.spare_screws, supplies.spare_caps, MadeIn.SITE),
            *_adhesive(assembly, supplies),
            *_shims(assembly, supplies),
            *_touch_up(assembly, supplies),
        ),
        supplies,
    )


def shop_hardware_of(assembly: Assembly, supplies: Supplies, units: Units) -> Kit:
    """Return what the shop needs to join the pieces of a set, without spares and glue."""
    lines = *_members(assembly, units, MadeIn.SHOP), *_fasteners(assembly, 0.0, 0.0, MadeIn.SHOP)
    return _counted(lines, supplies)


def _counted(listed: Iterable[tuple[Article, float, Use]], supplies: Supplies) -> Kit:
    counted: dict[Article, tuple[float, Use]] = {}
    for article, quantity, joints in listed:
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
        supplied=article.key not in (*supplies.not_supplied, BY_ENGINEER),
        loose=article.loose,
    )


def _members(
    assembly: Assembly, units: Units, made: MadeIn
) -> Iterator[tuple[Article, float, Use]]:
    """Yield the steel that is put on in the shop, or on site; cleats are cut in the shop, as the
    panels are.
    """
    for member in steel_of(assembly, made):
        article = replace(_piece(*article_of(member, units)), loose=lies_loose(member))
        yield article, 1, _with(assembly, member.name)


def _fasteners(
    assembly: Assembly, spare_screws: float, spare_caps: float, made: MadeIn
) -> Iterator[tuple[Article, float, Use]]:
    joints = [(at, joint) for at, joint in enumerate(assembly.joints) if made_in(joint) is made]
    for at, joint in joints:
        if isinstance(joint, FixedToWall) and joint.by_engineer:
            yield _piece(BY_ENGINEER, ungiven_fixing(joint)), 1, (at,)
        elif isinstance(joint, Screwed | FixedToWall):
            screw = joint.screw
            yield _piece(screw.key, screw.description, spare_screws), 1, (at,)
    for at, joint in joints:
        if isinstance(joint, FixedToWall) and joint.given is not None and joint.given.anchor:
            yield _piece(joint.given.key, joint.given.anchor, spare_screws), 1, (at,)
    for at, joint in joints:
        if isinstance(joint, FixedToWall) and joint.cap is not None:
            yield _piece(joint.cap.key, joint.cap.description, spare_caps), 1, (at,)


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
    """Return how long the beads of a bonded joint are."""
    return math.fsum(math.dist(start, end) for start, end in bead_lines(assembly, joint))


def bead_lines(assembly: Assembly, joint: Bonded) -> Iterator[tuple[Point, Point]]:
    """Yield the beads of a bonded joint: along the middle of each contact, on top of the part."""
    deck = assembly.board(joint.top).box
    for name in joint.on:
        support = assembly.board(name).box
        low, high = (
            [least(a, b) for a, b in zip(*ends, strict=True)]
            for least, ends in (
                (max, (deck.low, support.low)),
                (min, (deck.high, support.high)),
            )
        )
        along = max((Axis.X, Axis.Y), key=lambda axis: high[axis] - low[axis])
        middle = Point(*((a + b) / 2 for a, b in zip(low, high, strict=True)))
        middle = middle.at(Axis.Z, support.high.z)
        yield middle.at(along, low[along]), middle.at(along, high[along])


def _shims(assembly: Assembly, supplies: Supplies) -> Iterator[tuple[Article, float, Use]]:
    plates = {plate.name for plate in assembly.wall_plates}
    for at, joint in enumerate(assembly.joints):
        if isinstance(joint, FixedToWall) and joint.through not in plates:
            article = _piece(SHIMS, "Shims for wall fixings", supplies.spare_shims)
            yield article, supplies.shims_per_fixing, (at,)
    for at, joint in enumerate(assembly.joints):
        if isinstance(joint, Passing) and joint.packing_mm:
            article = _piece(PACKERS, "Hard packers for the steel angle", supplies.spare_shims)
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
