"""Schema of what the walls are, and of the fixings that are allowed in them."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from casewright.intake.entry import Entry, LengthIn, Name, Text
from parametric.stock.wall_types import AS_USUAL, GivenFixing, WallKind

MOST_N = 50_000
"""More than one screw of furniture bears in any wall, so that slips of a digit are caught."""


class FixingEntry(Entry):
    """A fixing in a wall, and what its approval or an engineer allows on it."""

    description: Annotated[Text, Field(description="What it is, as papers call it.")]
    screws: Annotated[
        list[Text],
        Field(min_length=1, description="Names of the screws that it takes."),
    ]
    pull_n: Annotated[
        float,
        Field(
            gt=0,
            le=MOST_N,
            description="Allowed on one screw straight out of this wall, newtons, safety inside.",
        ),
    ]
    shear_n: Annotated[
        float,
        Field(
            gt=0,
            le=MOST_N,
            description="Allowed on one screw along this wall, newtons, safety inside.",
        ),
    ]
    embedment: Annotated[
        float, LengthIn(1, 300, "How far a screw goes in at least, behind the lining.")
    ]
    spacing: Annotated[float, LengthIn(0, 1000, "Least distance between screws.")]
    edge: Annotated[
        float, LengthIn(0, 1000, "Least distance to the edges of what the screws go into.")
    ]
    hole: Annotated[float, LengthIn(1, 60, "Diameter of the hole in the wall.")]
    hole_depth: (
        Annotated[float, LengthIn(1, 500, "Its depth behind the lining; left out: through.")] | None
    ) = None
    bit: Annotated[Text, Field(description="The bit or tap that makes the hole.")]
    source: Annotated[
        Text, Field(description="Approval or engineer that the allowed loads are from.")
    ]
    anchor: Annotated[
        Text | None,
        Field(description="What is packed for each screw: plug, anchor, nut. Left out: nothing."),
    ] = None

    def fixing(self, key: str) -> GivenFixing:
        """Return it in the domain's own type."""
        return GivenFixing(
            key=key,
            description=self.description,
            screws=tuple(self.screws),
            pull_n=self.pull_n,
            shear_n=self.shear_n,
            embedment_mm=self.embedment,
            spacing_mm=self.spacing,
            edge_mm=self.edge,
            hole_mm=self.hole,
            hole_depth_mm=self.hole_depth,
            bit=self.bit,
            source=self.source,
            anchor=self.anchor or "",
        )


class WallEntry(Entry):
    """What a wall is. Without fixings, an engineer specifies them in any that is not of wood."""

    kind: Annotated[
        WallKind,
        Field(
            strict=False,
            description="wood-studs (with blocking), solid-timber, steel-studs, masonry (also"
            " concrete) or bulkhead (steel or composite).",
        ),
    ] = AS_USUAL.kind
    lining: (
        Annotated[float, LengthIn(0, 150, "What is in front of it; that of `loads` if left out.")]
        | None
    ) = None
    thickness: (
        Annotated[float, LengthIn(10, 500, "Of its blocking or timber; `loads` if left out.")]
        | None
    ) = None
    fixings: Annotated[
        dict[Name, FixingEntry],
        Field(default_factory=dict, description="What holds screws in it, by name."),
    ]
    screws: Annotated[
        dict[Name, Text],
        Field(
            default_factory=dict,
            description="Screws that are driven into it, each by the name of the one of the"
            " construction whose place it takes.",
        ),
    ]


_OWN = "A wall that is not like the others."


class WallsEntry(Entry):
    """What the walls of all rooms are. All keys may be left out: wood studs with blocking."""

    every: Annotated[
        WallEntry | None, Field(description="All walls that have no entry of their own.")
    ] = None
    head_wall: Annotated[WallEntry | None, Field(description=_OWN)] = None
    side_wall: Annotated[WallEntry | None, Field(description=_OWN)] = None
    foot_wall: Annotated[WallEntry | None, Field(description=_OWN)] = None
    far_wall: Annotated[WallEntry | None, Field(description=_OWN)] = None
