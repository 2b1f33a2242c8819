"""Schema of what sets are built from: for the whole job, and what differs in a set or a unit."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, create_model

from casewright.intake.entry import Entry, LengthIn, Text
from parametric.stock.made_in import MadeIn


class ConstructionEntry(Entry):
    """What every set is built from: a name from the libraries, or from the job, for each role."""

    deck: Annotated[Text, Field(description="Material of decks and of tops of desks.")]
    base_panel: Annotated[Text, Field(description="Material of the finished base panels.")]
    rail: Annotated[Text, Field(description="Material of the raw panels at the walls.")]
    bearer: Annotated[Text, Field(description="Material of boards under the joints of decks.")]
    carcass: Annotated[Text, Field(description="Material of tables and of gables of desks.")]
    wall_panel: Annotated[Text, Field(description="Material of wall panels.")]
    band: Annotated[Text, Field(description="Edge band of all banded edges.")]
    cleat: Annotated[Text, Field(description="Bar of the cleats.")]
    angle: Annotated[Text, Field(description="Steel angle that ties units.")]
    leg: Annotated[Text, Field(description="Leg under the foot end of beds and under desks.")]
    wall_plate: Annotated[Text, Field(description="Plate that carries wall panels.")]
    cap: Annotated[Text, Field(description="Cap over the screws of wall panels.")]
    screw_cleat_thin: Annotated[Text, Field(description="Screw through the thickness of a cleat.")]
    screw_cleat_wide: Annotated[Text, Field(description="Screw through the width of a cleat.")]
    screw_angle: Annotated[Text, Field(description="Screw through the steel angle.")]
    screw_wall: Annotated[Text, Field(description="Screw through a rail or cleat into the wall.")]
    screw_off_wall: Annotated[
        Text | None,
        Field(
            description="Screw through a box into the wall that it stands off; if left out that of"
            " rails."
        ),
    ] = None
    screw_panel: Annotated[
        Text, Field(description="Capped screw through wall panel or table into the wall.")
    ]
    angle_clearance: Annotated[
        float, LengthIn(0, 10, "Play on each side of the steel angle in its notches.")
    ]
    angle_packing: Annotated[
        float,
        LengthIn(0, 10, "Packing under the steel angle in its notches, until its top is flush."),
    ]
    housing_depth: Annotated[float, LengthIn(2, 20, "Depth of the table's grooves.")]
    housing_clearance: Annotated[float, LengthIn(0, 3, "Play of a board in its groove.")]
    rail_screws_apart: Annotated[
        float,
        LengthIn(100, 1000, "Between screws of a rail into its wall at most; three at least."),
    ] = 240.0
    wall_cleat_screws_apart: Annotated[
        float,
        LengthIn(50, 1000, "Between screws of a desk's wall cleat at most; two at least."),
    ] = 90.0
    cleats_made_in: Annotated[
        MadeIn,
        Field(strict=False, description="Where cleats are put on the panel behind them."),
    ] = MadeIn.SHOP
    legs_made_in: Annotated[
        MadeIn, Field(strict=False, description="Where legs are screwed under decks.")
    ] = MadeIn.SITE
    boxes_made_in: Annotated[
        MadeIn,
        Field(strict=False, description="Where a base box is put together from its panels."),
    ] = MadeIn.SITE


def _all_optional(entry: type[Entry]) -> Any:
    """Return the schema with every key left out at will."""
    fields: dict[str, Any] = {}
    for key, field in entry.model_fields.items():
        said = (field.annotation, *field.metadata)
        kind: Any = Annotated[said] if field.metadata else field.annotation
        fields[key] = (kind | None, Field(default=None, description=field.description))
    return create_model(f"{entry.__name__}AtWill", __base__=Entry, **fields)


class ConstructionChanges(_all_optional(ConstructionEntry)):  # type: ignore[misc]
    """What a set or a unit is built from where it differs from what it belongs to."""
