"""Joints, stated once between named parts, in the frame that the parts are placed in.

Every notch, slot, groove and hole of a part is derived from these (see `machining`), and so are the
checks and the fastener counts.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from parametric.geometry.space import Direction, Placing, Point
from parametric.stock.hardware import CapHardware, Screw
from parametric.stock.made_in import MadeIn
from parametric.stock.wall_types import AS_USUAL, GivenFixing, WallType


@dataclass(frozen=True, slots=True, kw_only=True)
class Screwed:
    """One screw: its head flush at `head`, driven in `direction` through one part into another."""

    screw: Screw
    head: Point
    direction: Direction
    through: str
    into: str
    made_in: MadeIn = MadeIn.SITE

    def placed(self, placing: Placing) -> Screwed:
        """Return the joint where `placing` puts it."""
        return replace(
            self, head=self.head.placed(placing), direction=self.direction.placed(placing)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class FixedToWall:
    """One screw through a board, a cleat or a wall plate into the wall.

    With a `cap`, the head sits in a recess of the show face under it; the screw then starts at the
    bottom of the recess. `wall_mm` is where the face of the wall lies on the axis of `direction`,
    `wall` what that is. One that does not carry only keeps what stands by itself where it was set:
    no check counts on it.
    """

    screw: Screw
    head: Point
    direction: Direction
    through: str
    cap: CapHardware | None = None
    wall_mm: float = 0.0
    carries: bool = True
    wall: WallType = AS_USUAL

    @property
    def given(self) -> GivenFixing | None:
        """The fixing in the wall that takes the screw, None where the job gives none."""
        return self.wall.fixing_for(self.screw)

    @property
    def by_engineer(self) -> bool:
        """Whether an engineer specifies what holds here."""
        return self.wall.by_engineer(self.screw)

    @property
    def mouth(self) -> Point:
        """Where the screw enters the wall."""
        return self.head.at(self.direction.axis, self.wall_mm)

    def placed(self, placing: Placing) -> FixedToWall:
        """Return the joint where `placing` puts it."""
        direction = self.direction.placed(placing)
        return replace(
            self,
            head=self.head.placed(placing),
            direction=direction,
            wall_mm=self.mouth.placed(placing)[direction.axis],
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Passing:
    """A steel angle that runs through a board and bears on the bottom of the opening.

    `clearance_mm` is left on each side of the angle; below it the opening is deeper by
    `packing_mm`, which is filled until the angle's top is where it must be: on that it bears.
    """

    member: str
    through: str
    clearance_mm: float
    packing_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Housed:
    """A board whose end or edge stands in a groove of another board.

    The boards are placed as they end up, one reaching into the other. `clearance_mm` is the total
    play across the groove, `bottom_mm` the room left at its bottom for glue.
    """

    member: str
    into: str
    clearance_mm: float
    bottom_mm: float
    made_in: MadeIn = MadeIn.SHOP


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung:
    """A panel hung by a groove in its back on the lips of wall plates.

    The groove's upper side rests on the lips; `lift_mm` is left below them to lift the panel on,
    `bottom_mm` beyond their tips. The groove stops `stop_mm` short of both ends of the panel.
    """

    panel: str
    plates: tuple[str, ...]
    lift_mm: float
    bottom_mm: float
    stop_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Seated:
    """A deck or table that rests on others: all their tops stand at the height of its underside."""

    top: str
    on: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bonded:
    """A deck held by adhesive on the tops of the parts that it rests on."""

    top: str
    on: tuple[str, ...]
    made_in: MadeIn = MadeIn.SITE


Joint = Screwed | FixedToWall | Passing | Housed | Hung | Seated | Bonded


def placed_joint(joint: Joint, placing: Placing) -> Joint:
    """Return the joint where `placing` puts it; most name parts and hold no coordinates."""
    return joint.placed(placing) if isinstance(joint, Screwed | FixedToWall) else joint


def made_in(joint: Joint) -> MadeIn | None:
    """Return where a joint is made; None of one that only says how parts lie. What a wall, a hung
    panel or an angle through panels takes part in is made on site.
    """
    match joint:
        case Screwed() | Housed() | Bonded():
            return joint.made_in
        case Seated():
            return None
        case _:
            return MadeIn.SITE


def parts_of(joint: Joint) -> tuple[str, ...]:
    """Return the names of the parts that a joint holds together, what is held first."""
    match joint:
        case Screwed():
            return (joint.through, joint.into)
        case FixedToWall():
            return (joint.through,)
        case Passing():
            return (joint.member, joint.through)
        case Housed():
            return (joint.member, joint.into)
        case Hung():
            return (joint.panel, *joint.plates)
        case Seated() | Bonded():
            return (joint.top, *joint.on)
