"""Whether a hung panel can be put on its plates, and hangs level and clear of what is below."""

from __future__ import annotations

from collections.abc import Iterator
from math import fsum

from parametric.findings.finding import Finding
from parametric.findings.measure import at_least, at_most
from parametric.geometry.space import SAME_MM, Axis
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Hung
from parametric.joints.machining import Machining
from parametric.shapes.board import Board
from parametric.shapes.features import Cutout
from parametric.shapes.members import WallPlate

# All three: common practice, no source.
LIFT_ON_MM = 3.0  # play of the groove below the lips, to lift the panel on
BELOW_MM = 3.0  # from the panel's lower edge to the deck under it
OFF_CENTRE_MM = 1.0  # middle of the plates off the middle of the panel


def hanging_findings(where: str, assembly: Assembly, worked: Machining) -> Iterator[Finding]:
    """Yield for each hung panel its play on the lips, its gap below, and its plates' middle."""
    for joint in assembly.joints:
        if not isinstance(joint, Hung):
            continue
        panel = assembly.board(joint.panel)
        plates = [plate for plate in assembly.wall_plates if plate.name in joint.plates]
        place = f"{where}: {panel.name}"
        for feature in worked.of(panel.name):
            if isinstance(feature, Cutout):
                yield at_least(
                    code="panel-lift",
                    where=place,
                    what="room to lift the panel over the lips of its plates",
                    measured=min(plate.lip.low.z for plate in plates) - feature.box.low.z,
                    warn_below=LIFT_ON_MM,
                    fail_below=1.0,
                    advice="make the groove in the back of the panel higher",
                )
        below = [
            panel.box.low.z - board.box.high.z for board in assembly.boards if under(board, panel)
        ]
        if below:
            yield at_least(
                code="panel-below",
                where=place,
                what="gap between the panel's lower edge and the deck",
                measured=min(below),
                warn_below=BELOW_MM,
                fail_below=0.0,
                advice="increase gap of the wall panel",
            )
        yield at_most(
            code="plates-centred",
            where=place,
            what="wall plates off the middle of the panel by",
            measured=off_centre_mm(panel, plates),
            fail_above=OFF_CENTRE_MM,
            advice="set the plates out evenly about the middle of the panel, or it hangs crooked",
        )


def under(board: Board, panel: Board) -> bool:
    """Return whether the board lies level below the panel's middle, somewhere along its length."""
    along = panel.width_axis if panel.width_axis is not Axis.Z else panel.grain
    shared = min(board.box.high[along], panel.box.high[along]) - max(
        board.box.low[along], panel.box.low[along]
    )
    across = panel.facing.axis
    reaches = (
        min(board.box.high[across], panel.box.high[across])
        - max(board.box.low[across], panel.box.low[across])
        > SAME_MM
    )
    level = board.facing.axis is Axis.Z and board.box.high.z < panel.box.centre.z
    return board is not panel and level and reaches and shared > SAME_MM


def off_centre_mm(panel: Board, plates: list[WallPlate]) -> float:
    """Return how far the mean of the plates' middles lies from the panel's, along the wall."""
    along = panel.width_axis if panel.width_axis is not Axis.Z else panel.grain
    mean = fsum(plate.box.centre[along] for plate in plates) / len(plates)
    return abs(mean - panel.box.centre[along])
