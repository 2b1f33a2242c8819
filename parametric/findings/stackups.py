"""Whether clearances stay open when every size is off as far as its tolerance lets it be.

One finding for each clearance that must not close. Each chain says what it runs through; what is
not in it was left out for a reason that stands there too.
"""

from __future__ import annotations

from collections.abc import Iterator

from parametric.findings.finding import Finding
from parametric.findings.hanging import under
from parametric.findings.slots import slots_of
from parametric.findings.stacked import (
    band_thickness,
    edge_along_wall,
    extent,
    stack_finding,
    thickness,
)
from parametric.geometry.space import SAME_MM, Axis, Direction
from parametric.joints.assembly import Assembly
from parametric.joints.groups import floating_tops
from parametric.joints.joints import Housed, Hung, Passing, Seated
from parametric.joints.machining import Machining
from parametric.shapes.board import Board
from parametric.shapes.features import Cutout
from parametric.shapes.members import SteelAngle, WallPlate
from parametric.shapes.routing import Routing
from parametric.stock.tolerances import Contribution, SettingOut, stack


def stackup_findings(
    where: str,
    assembly: Assembly,
    worked: Machining,
    routing: Routing,
    setting_out: SettingOut,
) -> Iterator[Finding]:
    """Yield the clearances of a set in the room frame, one finding each."""
    for angle in assembly.angles:
        yield from angle_slot_finding(where, assembly, worked, angle, routing, setting_out)
        yield from angle_height_finding(where, assembly, worked, angle, routing)
    yield from deck_table_findings(where, assembly, routing, setting_out)
    for joint in assembly.joints:
        if isinstance(joint, Hung):
            yield from groove_findings(where, assembly, worked, joint, routing, setting_out)
            yield from panel_below_finding(where, assembly, joint, routing, setting_out)
    yield from housing_findings(where, assembly, routing)


def angle_slot_finding(
    where: str,
    assembly: Assembly,
    worked: Machining,
    angle: SteelAngle,
    routing: Routing,
    setting_out: SettingOut,
) -> Iterator[Finding]:
    """Yield the width that all notches of an angle leave in common, over its leg.

    Counted where their bottoms are flat: round corners take nothing else of the angle's play.
    A notch that is a millimetre narrower takes half of that, since it gives way on both sides; one
    that lies off takes all of it, whether it lies off in its panel or its box stands off the
    other. An angle a little askew would go in with less; nobody should have to find out how.
    """
    across, cut = angle.upright.axis, routing.tolerances
    notches = [
        (joint.through, slot.flat(across, routing.bit_radius_mm))
        for joint in assembly.joints
        if isinstance(joint, Passing) and joint.member == angle.name
        for slot in slots_of(angle, assembly.board(joint.through), worked)
    ]
    if not notches:
        return
    common_mm = min(high for _, (_, high) in notches) - max(low for _, (low, _) in notches)
    chain = [
        Contribution(what=f"leg of {angle.section.key}", tolerance=angle.section.leg_tolerance)
    ]
    alone = len(notches) == 1
    for panel, _ in notches:
        width = Contribution(
            what=f"width of the notch in {panel}",
            tolerance=cut.groove,
            times=1.0 if alone else 0.5,
        )
        place = Contribution(what=f"place of the notch in {panel}", tolerance=cut.position)
        chain += [width] if alone else [width, place]
    if not alone:
        chain.append(Contribution(what="boxes set against each other", tolerance=setting_out.place))
    yield stack_finding(
        code="stack-angle-slot",
        where=f"{where}: {angle.name}",
        what="play of the angle in all its notches together",
        stacked=stack(common_mm - angle.box.size(across), chain),
        advice="increase angle_clearance",
    )


def angle_height_finding(
    where: str, assembly: Assembly, worked: Machining, angle: SteelAngle, routing: Routing
) -> Iterator[Finding]:
    """Yield the room under an angle in the shallowest of its notches, which is packed until its top
    is flush: without any a thick leg lifts what lies on it.

    Each box is packed by itself, so that how level they stand with each other does not enter.
    """
    notches = [
        (joint.through, angle.box.low.z - slot.box.low.z)
        for joint in assembly.joints
        if isinstance(joint, Passing) and joint.member == angle.name
        for slot in slots_of(angle, assembly.board(joint.through), worked)
    ]
    if not notches:
        return
    panel, room_mm = min(notches, key=lambda each: each[1])
    yield stack_finding(
        code="stack-angle-height",
        where=f"{where}: {angle.name}",
        what="room for packing under the angle",
        stacked=stack(
            room_mm,
            (
                Contribution(
                    what=f"leg of {angle.section.key}", tolerance=angle.section.leg_tolerance
                ),
                Contribution(
                    what=f"depth of the notch in {panel}", tolerance=routing.tolerances.position
                ),
            ),
        ),
        advice="increase angle_packing",
    )


def deck_table_findings(
    where: str, assembly: Assembly, routing: Routing, setting_out: SettingOut
) -> Iterator[Finding]:
    """Yield for each board that only an angle carries its play between the decks beside it, where
    it goes in last, between what already stands; so the two gaps count together. Where one of the
    two decks is laid against it later, nothing can close.
    """
    angles, laid_later = {angle.name: angle for angle in assembly.angles}, floating_tops(assembly)
    for joint in assembly.joints:
        if not isinstance(joint, Seated) or not joint.on or not angles.keys() >= set(joint.on):
            continue
        table, along = assembly.board(joint.top), angles[joint.on[0]].along
        low, high = Direction((along, -1)), Direction((along, 1))
        beside = [board for board in assembly.boards if level_beside(board, table, along)]
        middle = table.box.centre[along]
        before = max(
            (board for board in beside if board.box.side(high) < middle),
            key=lambda board: board.box.side(high),
            default=None,
        )
        after = min(
            (board for board in beside if board.box.side(low) > middle),
            key=lambda board: board.box.side(low),
            default=None,
        )
        if before is None or after is None or laid_later & {before.name, after.name}:
            continue
        # The nearer one to the corner first, as both hands tell it.
        near, far = (before, after) if middle > 0 else (after, before)
        cut = routing.tolerances
        yield stack_finding(
            code="stack-deck-table",
            where=f"{where}: {table.name}",
            what=f"play between {near.name} and {far.name}, both gaps together,",
            stacked=stack(
                after.box.side(low) - before.box.side(high) - table.box.size(along),
                (
                    *edge_along_wall(before, high, cut, setting_out),
                    *edge_along_wall(after, low, cut, setting_out),
                    *extent(table, along, cut),
                ),
            ),
            advice="increase butt_gap",
        )


def level_beside(board: Board, table: Board, along: Axis) -> bool:
    """Return whether a level board lies beside the table along its wall: at its height, and as far
    out.
    """
    return (
        board.unit != table.unit
        and board.facing.axis is Axis.Z
        and all(
            min(board.box.high[axis], table.box.high[axis])
            - max(board.box.low[axis], table.box.low[axis])
            > SAME_MM
            for axis in Axis
            if axis is not along
        )
    )


def groove_findings(
    where: str,
    assembly: Assembly,
    worked: Machining,
    joint: Hung,
    routing: Routing,
    setting_out: SettingOut,
) -> Iterator[Finding]:
    """Yield the play of a hung panel's groove over the lips of its plates.

    The groove must pass the highest lip and the lowest at once, so two plates count with their
    heights. How high they stand together matters only below the panel.
    """
    lowest = min(plates_of(assembly, joint), key=lambda plate: plate.lip.low.z)
    chain = [
        Contribution(what="height of the groove", tolerance=routing.tolerances.groove),
        Contribution(
            what=f"thickness of {lowest.hardware.key}",
            tolerance=lowest.hardware.thickness_tolerance,
        ),
    ]
    if len(joint.plates) > 1:
        chain += [
            Contribution(what=f"height of {which} plate", tolerance=setting_out.level)
            for which in ("the highest", "the lowest")
        ]
    for feature in worked.of(joint.panel):
        if isinstance(feature, Cutout):
            yield stack_finding(
                code="stack-groove",
                where=f"{where}: {joint.panel}",
                what="play of the groove over the lips of all its plates",
                stacked=stack(lowest.lip.low.z - feature.box.low.z, chain),
                advice="make the groove in the back of the panel higher",
            )


def panel_below_finding(
    where: str, assembly: Assembly, joint: Hung, routing: Routing, setting_out: SettingOut
) -> Iterator[Finding]:
    """Yield the space below a hung panel, which must not stand on a deck instead of its plates.

    Its upper end is the plates' level line, its lower end the floor that boxes are levelled on.
    """
    panel, cut = assembly.board(joint.panel), routing.tolerances
    decks = [board for board in assembly.boards if under(board, panel)]
    if not decks:
        return
    deck = max(decks, key=lambda board: board.box.high.z)
    chain = [
        Contribution(what="height of the plates", tolerance=setting_out.level),
        Contribution(what="place of the groove in the panel", tolerance=cut.position),
        thickness(deck),
        Contribution(what=f"cut height of what carries {deck.name}", tolerance=cut.size),
        Contribution(what=f"level of the {deck.unit}", tolerance=setting_out.level),
    ]
    if any(band.edge is Direction.Z_MINUS for band in panel.bands):
        chain.append(band_thickness(panel, Direction.Z_MINUS))
    yield stack_finding(
        code="stack-panel-below",
        where=f"{where}: {panel.name}",
        what=f"gap between the panel and {deck.name}",
        stacked=stack(panel.box.low.z - deck.box.high.z, chain),
        advice="increase gap of the wall panel",
    )


def plates_of(assembly: Assembly, joint: Hung) -> list[WallPlate]:
    """Return the plates that a panel hangs on."""
    return [plate for plate in assembly.wall_plates if plate.name in joint.plates]


def housing_findings(where: str, assembly: Assembly, routing: Routing) -> Iterator[Finding]:
    """Yield for each unit the play of its housed boards in their grooves, the least of them."""
    tightest: dict[tuple[str, str], tuple[float, Board]] = {}
    for joint in assembly.joints:
        if isinstance(joint, Housed):
            board = assembly.board(joint.member)
            key = board.unit, board.material.key
            held = tightest.get(key)
            if held is None or joint.clearance_mm < held[0]:
                tightest[key] = joint.clearance_mm, board
    for (unit, material), (clearance_mm, board) in tightest.items():
        yield stack_finding(
            code="stack-housing",
            where=f"{where}: {unit}",
            what=f"play of {material} in grooves",
            stacked=stack(
                clearance_mm,
                (
                    thickness(board),
                    Contribution(what="width of the groove", tolerance=routing.tolerances.groove),
                ),
            ),
            advice="increase housing_clearance",
        )
