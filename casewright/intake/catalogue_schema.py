"""Schema of materials and hardware, in library files and in the job file itself.

Millimetres after reading. Everything is listed by name; the name is how the job asks for it.
"""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field

from casewright.intake.entry import Entry, LengthIn, Name, Text
from casewright.intake.label_schema import LabelStockEntry
from casewright.intake.tolerance_schema import ToleranceEntry
from parametric.stock.hardware import Head, MadeFor
from parametric.stock.lengths import Units
from parametric.stock.materials import BoardKind, Figures, GoodFaces, Grain

Density = Annotated[float, Field(ge=50, le=5000, description="Kilograms per cubic metre.")]


def _price(of: str) -> Any:
    return Field(ge=0, le=1e6, description=f"For {of}, in the job's currency.")


Price = Annotated[float | None, _price("a pack, or for a piece without a pack")]
BarPrice = Annotated[float | None, _price("a bar")]
Pack = Annotated[int | None, Field(ge=1, le=100_000, description="Pieces in a pack.")]
PieceMass = Annotated[float | None, Field(gt=0, le=50_000, description="Grams of one piece.")]


class StockEntry(Entry):
    """A sheet that can be bought; its length is the way the grain runs."""

    length: Annotated[float, LengthIn(300, 6000, "Along the grain.")]
    width: Annotated[float, LengthIn(300, 3000, "Across the grain.")]
    price: Annotated[float, Field(ge=0, le=1e6, description="Per sheet, in the job's currency.")]
    on_hand: (
        Annotated[int, Field(ge=0, le=100_000, description="Sheets there are; any if left out.")]
        | None
    ) = None


# Beyond any board that is cut on a router, so that slips of a digit are caught; from memory: birch
# plywood and compact laminate bend at up to about 100 N/mm2, MDF's internal bond is about 1.
MOST_BENDING, MOST_BOND, MOST_IN_PLANE = 120, 3, 150
Force = Annotated[float, Field(gt=0, le=20_000, description="Newtons.")]


class PulledScrewEntry(Entry):
    """What pulls a screw out of the face of a board; other screws are worked out from it."""

    pull_n: Force
    diameter: Annotated[float, LengthIn(1.5, 12, "Over the thread (EN 320: 4.2 mm).")]
    bite: Annotated[float, LengthIn(3, 60, "How deep it was in the board (EN 320: 15 mm).")]


class PulledHeadEntry(Entry):
    """What pulls the head of a screw through a board; other heads are worked out from it."""

    pull_n: Force
    head: Annotated[float, LengthIn(2, 25, "Diameter of the head.")]
    board: Annotated[float, LengthIn(3, 60, "How much board was under it.")]


class StrengthEntry(Entry):
    """What tests or a standard say a board bears, in its weaker direction; all of one sort."""

    bending_n_mm2: Annotated[
        float, Field(gt=0, le=MOST_BENDING, description="Bending strength, N/mm2.")
    ]
    elasticity_n_mm2: Annotated[
        float, Field(ge=100, le=30_000, description="Modulus of elasticity in bending, N/mm2.")
    ]
    source: Annotated[Text, Field(description="Where the figures are from.")]
    figures: Annotated[
        Figures,
        Field(
            strict=False,
            description="What they are: characteristic as in EN 312 (95 boards of 100 bear more),"
            " or mean as in ANSI A208.1.",
        ),
    ]
    creep_factor: Annotated[
        float | None,
        Field(
            ge=0,
            le=10,
            description="What years add to sag, times it: k_def of EN 1995-1-1. Default: that of"
            " its kind.",
        ),
    ] = None
    internal_bond_n_mm2: Annotated[
        float | None, Field(gt=0, le=MOST_BOND, description="Tension across the face, N/mm2.")
    ] = None
    in_plane_n_mm2: Annotated[
        float | None,
        Field(gt=0, le=MOST_IN_PLANE, description="Compression in the board's plane, N/mm2."),
    ] = None
    screw_face: Annotated[
        PulledScrewEntry | None, Field(description="A test of a screw out of the face.")
    ] = None
    head_pull: Annotated[
        PulledHeadEntry | None, Field(description="A test of a screw's head through the board.")
    ] = None


class MaterialEntry(Entry):
    """A board material of one thickness."""

    description: Text
    thickness: Annotated[float, LengthIn(3, 60, "Thickness of the board.")]
    thickness_tolerance: ToleranceEntry | None = None
    density_kg_m3: Density
    good_faces: Annotated[
        GoodFaces, Field(strict=False, description="Which faces are fit to be seen.")
    ]
    grain: Annotated[
        Grain, Field(strict=False, description="Whether parts must follow a direction.")
    ]
    stock: Annotated[
        dict[Name, StockEntry], Field(min_length=1, description="Sheets it comes in, by name.")
    ]
    kind: Annotated[
        BoardKind | None,
        Field(
            strict=False,
            description="What it is made of; what loads and damp do to it is that of the weakest if"
            " left out.",
        ),
    ] = None
    strength: Annotated[
        StrengthEntry | None,
        Field(description="What it bears; checks that need it warn if it is left out."),
    ] = None
    formaldehyde: Annotated[
        Text | None,
        Field(description="Its formaldehyde class, as its maker states it: E1, TSCA Title VI."),
    ] = None


class BandEntry(Entry):
    """An edge band; its thickness counts in the finished size of a part."""

    description: Text
    thickness: Annotated[float, LengthIn(0.1, 10, "Thickness of the band.")]
    thickness_tolerance: ToleranceEntry | None = None
    density_kg_m3: Density
    roll: Annotated[float, LengthIn(1000, 1_000_000, "Length of a roll.")] | None = None
    price: Annotated[float | None, _price("a roll, or for a metre without a roll")] = None


Kerf = Annotated[
    float | None,
    LengthIn(0, 10, "Width of the cut of the blade for it. Default: that of the machine's saw."),
]


class BarEntry(Entry):
    """Rectangular bar for cleats."""

    description: Text
    thickness: Annotated[float, LengthIn(10, 100, "Lesser side of the section.")]
    width: Annotated[float, LengthIn(10, 200, "Greater side of the section.")]
    density_kg_m3: Density
    stock_length: Annotated[float, LengthIn(500, 8000, "Length it is bought in.")]
    kerf: Kerf = None
    price: BarPrice = None


class ScrewEntry(Entry):
    """A screw and the holes it wants."""

    description: Text
    length: Annotated[float, LengthIn(8, 200, "Over all.")]
    major_diameter: Annotated[float, LengthIn(1.5, 12, "Over the thread.")]
    root_diameter: Annotated[float, LengthIn(1, 10, "At the bottom of the thread.")]
    head_diameter: Annotated[float, LengthIn(2, 25, "Of the head.")]
    clearance_diameter: Annotated[float, LengthIn(1.5, 15, "Hole in the first part.")]
    pilot_diameter: Annotated[float, LengthIn(0.8, 10, "Hole in the second part.")]
    countersink_angle: Annotated[
        float,
        Field(ge=60, le=120, description="Angle of the head's cone from side to side, degrees."),
    ] = 82.0
    made_for: Annotated[
        MadeFor,
        Field(
            strict=False,
            description="wood: a wood screw, as NDS 2018 covers it; boards: its maker's rules hold,"
            " and checks that need them warn; metal: a machine screw, for tapped holes and nuts.",
        ),
    ] = MadeFor.WOOD
    head: Annotated[
        Head,
        Field(
            strict=False,
            description="flat: lies flush in its cone; washer: bears on the face, as on steel.",
        ),
    ] = Head.FLAT
    drive: Annotated[
        Text | None,
        Field(
            description="Driver bit for its head: hexalobular as ISO 10664 numbers it (T20), or"
            " cross as ISO 4757 does (PZ 2, PH 2). Left out: papers name the article instead.",
        ),
    ] = None
    pack: Pack = None
    price: Price = None
    mass_g: PieceMass = None


class AngleEntry(Entry):
    """A steel angle with equal legs."""

    description: Text
    leg: Annotated[float, LengthIn(15, 200, "Width of each leg.")]
    leg_tolerance: ToleranceEntry | None = None
    thickness: Annotated[float, LengthIn(2, 25, "Thickness of the legs.")]
    stock_length: Annotated[float, LengthIn(500, 15000, "Length it is bought in.")]
    kerf: Kerf = None
    yield_n_mm2: Annotated[
        float, Field(ge=200, le=700, description="Yield strength of the steel, N/mm2.")
    ] = 235.0
    price: BarPrice = None


class LegEntry(Entry):
    """A metal leg: a square top plate with four holes on a round tube."""

    description: Text
    height: Annotated[float, LengthIn(50, 1000, "Floor to top of plate.")]
    plate: Annotated[float, LengthIn(30, 300, "Side of the plate.")]
    plate_thickness: Annotated[float, LengthIn(1, 15, "Thickness of the plate.")]
    tube_diameter: Annotated[float, LengthIn(10, 150, "Outside of the tube.")]
    hole_spacing: Annotated[float, LengthIn(15, 280, "Side of the square of holes.")]
    screw: Annotated[Text, Field(description="Name of the screw in its holes.")]
    tube_wall: (
        Annotated[float, LengthIn(0.5, 20, "Wall of the tube; checks warn if it is left out.")]
        | None
    ) = None
    countersunk: Annotated[bool, Field(description="Whether its holes take flat heads.")] = False
    pack: Pack = None
    price: Price = None


class WallPlateEntry(Entry):
    """A folded steel plate that carries a hung panel on its lip."""

    description: Text
    length: Annotated[float, LengthIn(30, 1000, "Along the wall.")]
    height: Annotated[float, LengthIn(15, 200, "Up the wall.")]
    thickness: Annotated[float, LengthIn(1, 10, "Thickness of the plate.")]
    thickness_tolerance: ToleranceEntry | None = None
    lip: Annotated[float, LengthIn(2, 40, "Lip beyond the plate's face.")]
    hole_spacing: Annotated[float, LengthIn(10, 980, "Between its two holes.")]
    screw: Annotated[Text, Field(description="Name of the screw in its holes.")]
    countersunk: Annotated[
        bool, Field(description="Whether its holes take flat heads: the panel lies on its face.")
    ] = False
    pack: Pack = None
    price: Price = None


class CapEntry(Entry):
    """A cap over a screw head, in a round recess."""

    description: Text
    diameter: Annotated[float, LengthIn(4, 30, "Diameter of the recess.")]
    recess_depth: Annotated[float, LengthIn(0.5, 20, "Depth of the recess.")]
    pack: Pack = None
    price: Price = None
    mass_g: PieceMass = None


def _shelf(what: str) -> Any:
    return Field(default_factory=dict, description=f"{what}, by name.")


class Shelves(Entry):
    """The maps that a library file and a job file have in common."""

    materials: dict[Name, MaterialEntry] = _shelf("Board materials")
    bands: dict[Name, BandEntry] = _shelf("Edge bands")
    bars: dict[Name, BarEntry] = _shelf("Bars for cleats")
    screws: dict[Name, ScrewEntry] = _shelf("Screws")
    angles: dict[Name, AngleEntry] = _shelf("Steel angles")
    legs: dict[Name, LegEntry] = _shelf("Legs")
    wall_plates: dict[Name, WallPlateEntry] = _shelf("Wall plates")
    caps: dict[Name, CapEntry] = _shelf("Screw caps")
    label_stocks: dict[Name, LabelStockEntry] = _shelf("What labels are printed on")


class LibraryFile(Shelves):
    """A library file: what a shop keeps, for many jobs."""

    units: Annotated[
        Units, Field(strict=False, description="What bare numbers in this file count.")
    ]
