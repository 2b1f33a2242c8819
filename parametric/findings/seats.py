"""Whether what rests on something really does: equal heights, legs where they belong."""

from __future__ import annotations

from collections.abc import Iterator

from parametric.findings.finding import Finding
from parametric.findings.measure import at_least, at_most
from parametric.geometry.space import Axis
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Housed, Seated

SEAT_MM = 0.05  # a seat out by more rocks or leaves a gap; set-out is far coarser, sizes are not
LEG_CLEARANCE_MM = 10.0
LEG_COVER_MM = 10.0


def seat_findings(where: str, assembly: Assembly) -> Iterator[Finding]:
    """Yield one finding for each seated part: how far its supports' tops differ from it."""
    for joint in assembly.joints:
        if isinstance(joint, Seated):
            underside = assembly.part(joint.top).box.low.z
            grooved = {
                each.into
                for each in assembly.joints
                if isinstance(each, Housed) and each.member == joint.top
            }
            # What it also stands in a groove of carries it at the groove's bottom.
            on = [assembly.part(name).box.high.z for name in joint.on if name not in grooved]
            worst = max((abs(top - underside) for top in on), default=0.0)
            yield at_most(
                code="seat-height",
                where=f"{where}: {joint.top}",
                what="its supports are out of level with its underside by",
                measured=worst,
                fail_above=SEAT_MM,
                advice="bring all bases, legs and the steel angle to one top height (base_height)",
            )


def leg_findings(where: str, assembly: Assembly) -> Iterator[Finding]:
    """Yield two findings for each leg: clear of the base box, and well under the deck."""
    for joint in assembly.joints:
        if not isinstance(joint, Seated):
            continue
        deck = assembly.board(joint.top)
        legs = [leg for leg in assembly.legs if leg.name in joint.on]
        panels = [board for board in assembly.boards if board.unit == deck.unit]
        for leg in legs:
            cover = min(
                min(
                    leg.box.low[axis] - deck.box.low[axis], deck.box.high[axis] - leg.box.high[axis]
                )
                for axis in (Axis.X, Axis.Y)
            )
            yield at_least(
                code="leg-cover",
                where=f"{where}: {leg.name}",
                what="deck past the edge of the leg's plate",
                measured=cover,
                warn_below=LEG_COVER_MM,
                fail_below=0.0,
                advice="increase leg_inset",
            )
            below = [board for board in panels if board.box.high.z < deck.box.high.z]
            if not below:
                continue  # a top on legs alone has nothing that they could stand in the way of
            apart = min(
                max(
                    max(
                        board.box.low[axis] - leg.box.high[axis],
                        leg.box.low[axis] - board.box.high[axis],
                    )
                    for axis in (Axis.X, Axis.Y)
                )
                for board in below
            )
            yield at_least(
                code="leg-clearance",
                where=f"{where}: {leg.name}",
                what="gap between leg and base box",
                measured=apart,
                warn_below=LEG_CLEARANCE_MM,
                fail_below=0.0,
                advice="increase foot_overhang or reduce leg_inset",
            )
