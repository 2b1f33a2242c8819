"""What drives the screws of joints: the bits, as the catalogue names them."""

from __future__ import annotations

from collections.abc import Iterable

from parametric.joints.joints import FixedToWall, Joint, Screwed
from parametric.stock.hardware import Screw


def screws_of(joints: Iterable[Joint]) -> tuple[Screw, ...]:
    """Return each screw that the joints take once, in their order; what an engineer has yet to
    specify is none.
    """
    return tuple(
        dict.fromkeys(
            joint.screw
            for joint in joints
            if isinstance(joint, Screwed)
            or (isinstance(joint, FixedToWall) and not joint.by_engineer)
        )
    )


def bits_of(joints: Iterable[Joint]) -> tuple[str, ...]:
    """Return the driver bits for the screws of the joints, each once, in words."""
    return tuple(dict.fromkeys(screw.bit for screw in screws_of(joints)))
