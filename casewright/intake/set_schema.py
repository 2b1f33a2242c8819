"""Schema of the sets in a job file; the ranges only keep slips of the hand out."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from casewright.intake.entry import Entry, LengthIn

BENCH_WIDTH = LengthIn(300, 1500, "Deck, along the head wall.")


class BenchEntry(Entry):
    """Corner bench: a deck in the corner of head wall and side wall, on a base box."""

    deck_width: Annotated[float, BENCH_WIDTH]
    deck_depth: Annotated[float, LengthIn(300, 3000, "Deck, out from the head wall.")]
    overhang: Annotated[float, LengthIn(0, 600, "Deck beyond its base box on the free sides.")]
    corner_radius: Annotated[float, LengthIn(0, 500, "Radius of the deck's free corner.")]


class TableEntry(Entry):
    """Bedside table: an open carcass on the steel angle between bench and bed."""

    width: Annotated[float, LengthIn(200, 1200, "Along the head wall.")]
    depth: Annotated[float, LengthIn(200, 1000, "Out from the head wall.")]
    height: Annotated[float, LengthIn(120, 700, "From the underside to the top.")]
    shelf_height: (
        Annotated[
            float,
            LengthIn(30, 600, "Underside of the shelf above that of the table; none if left out."),
        ]
        | None
    ) = None


class BedEntry(Entry):
    """Platform bed: a deck on a base box, legs under its foot end."""

    deck_width: Annotated[float, LengthIn(300, 3000, "Deck, along the head wall.")]
    deck_length: Annotated[float, LengthIn(1000, 3000, "Deck, out from the head wall.")]
    wall_clearance: Annotated[
        float, LengthIn(0, 100, "Room between head wall and base box, for the wall base.")
    ]
    side_overhang: Annotated[float, LengthIn(0, 800, "Deck beyond its base box on both sides.")]
    foot_overhang: Annotated[float, LengthIn(0, 1200, "Deck beyond its base box at the foot.")]
    leg_inset: Annotated[float, LengthIn(20, 800, "Centre of the legs from the deck's edges.")]
    corner_radius: Annotated[float, LengthIn(0, 500, "Radius of the corners at the foot.")]


class WallPanelEntry(Entry):
    """Wall panel behind the bed, as wide as its deck, hung on wall plates."""

    height: Annotated[float, LengthIn(200, 2000, "From lower to upper edge.")]
    gap: Annotated[float, LengthIn(0, 300, "Lower edge above the bed's deck.")]
    plates: Annotated[int, Field(ge=2, le=12, description="How many wall plates carry it.")]


class AnglePlaceEntry(Entry):
    """Steel angle that ties bench and bed, and carries the table."""

    from_wall: Annotated[float, LengthIn(0, 1500, "Its near side from the head wall.")]
    bearing: Annotated[
        float, LengthIn(20, 1500, "Its length inside each base box, beyond the panel.")
    ]


class SetEntry(Entry):
    """One set: a bench, a bed or both, and what goes with them."""

    base_height: Annotated[float, LengthIn(200, 700, "Tops of all base boxes above the floor.")]
    butt_gap: Annotated[float, LengthIn(0, 25, "Left where the table meets each deck.")]
    bench: BenchEntry | None = None
    table: TableEntry | None = None
    bed: BedEntry | None = None
    wall_panel: WallPanelEntry | None = None
    angle: AnglePlaceEntry | None = None
