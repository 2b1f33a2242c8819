"""Cleats: bars in the inside corners of a box, that its panels and its deck are screwed to."""

from __future__ import annotations

from dataclasses import dataclass

from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.geometry.spacing import Interval, between, spread
from parametric.joints.assembly import Assembly, joined
from parametric.joints.joints import Screwed
from parametric.shapes.board import Board
from parametric.shapes.members import Cleat
from parametric.stock.construction import Construction
from parametric.stock.made_in import MadeIn

# Screw layout along cleats: common practice, no source.
END_MM = 45.0  # first screw from a cleat's end
MOST_MM = 300.0  # between screws of one row
LEAST_CLEAT_MM = 60.0  # a shorter piece splits


@dataclass(frozen=True, slots=True)
class Fixing:
    """A part that a cleat is screwed to: the way the screws point, where along the cleat, and where
    that is done.
    """

    into: str
    direction: Direction
    positions: tuple[float, ...]
    made_in: MadeIn = MadeIn.SITE


def screwed_cleat(
    name: str,
    description: str,
    box: Box,
    along: Axis,
    fixings: tuple[Fixing, ...],
    construction: Construction,
) -> Assembly:
    """Return a cleat that fills `box`, with its screws into the parts of `fixings`."""
    unit = name.split("/", maxsplit=1)[0]
    cleat = Cleat(
        name=name,
        unit=unit,
        description=description,
        bar=construction.cleat,
        box=box,
        along=along,
    )
    joints = []
    for fixing in fixings:
        through_mm = box.size(fixing.direction.axis)
        thin = abs(through_mm - construction.cleat.thickness_mm) < abs(
            through_mm - construction.cleat.width_mm
        )
        for position in fixing.positions:
            head = box.centre.at(along, box.low[along] + position)
            entry = box.side(fixing.direction.opposite)
            joints.append(
                Screwed(
                    screw=construction.screw_cleat_thin if thin else construction.screw_cleat_wide,
                    head=head.at(fixing.direction.axis, entry),
                    direction=fixing.direction,
                    through=name,
                    into=fixing.into,
                    made_in=fixing.made_in,
                )
            )
    return Assembly(members=(cleat,), joints=tuple(joints))


def upright_cleat(
    name: str,
    corner: Point,
    height_mm: float,
    far: tuple[str, Direction],
    flat: tuple[str, Direction],
    construction: Construction,
) -> Assembly:
    """Return an upright cleat standing at `corner`, where two panels meet.

    It lies flat against the panel `flat` and is screwed to it through the lesser side of its
    section, to `far` through the greater; each is given with the direction from the cleat to it.
    Flat it is put on in the shop, and the other panel meets it on site, unless the job has it
    otherwise.
    """
    bar = construction.cleat
    box = Box(corner, corner).grown(Direction.Z_PLUS, height_mm)
    box = box.grown(far[1].opposite, bar.width_mm).grown(flat[1].opposite, bar.thickness_mm)
    row = spread(height_mm, END_MM, MOST_MM)
    rows = (
        Fixing(flat[0], flat[1], row, construction.cleats_made_in),
        Fixing(far[0], far[1], between(height_mm, row), construction.boxes_made_in),
    )
    return screwed_cleat(name, "upright cleat", box, Axis.Z, rows, construction)


def level_cleat(
    name: str,
    box: Box,
    panel: tuple[str, Direction],
    decks: tuple[Board, ...],
    construction: Construction,
    positions: tuple[float, ...] | None = None,
) -> Assembly:
    """Return a level cleat against `panel` (with the direction to it), screwed up into the decks.

    `positions` are the screws into the panel; evenly spread if None.
    """
    along = Axis.X if panel[1].axis is Axis.Y else Axis.Y
    length_mm = box.size(along)
    level = spread(length_mm, END_MM, MOST_MM) if positions is None else positions
    rows = [Fixing(panel[0], panel[1], level, construction.cleats_made_in)]
    upward = between(length_mm, level)
    for deck in decks:
        under = tuple(
            position
            for position in upward
            if covers(deck, box.centre.at(along, box.low[along] + position))
        )
        if under:
            rows.append(Fixing(into=deck.name, direction=Direction.Z_PLUS, positions=under))
    return screwed_cleat(name, "deck cleat", box, along, tuple(rows), construction)


def hold_down_cleat(
    name: str, box: Box, panel: Board, inside: Interval, deck: Board, construction: Construction
) -> Assembly:
    """Return a cleat outside a box under the overhang of its deck, where a driver still reaches
    once the deck is down. It is screwed on through `panel`, from inside the box; a level cleat that
    runs `inside` covers these screws, so theirs go between its own.
    """
    outwards = panel.facing
    along = Axis.X if outwards.axis is Axis.Y else Axis.Y
    run_mm = inside[1] - inside[0]
    shift_mm = inside[0] - box.low[along]
    row = [shift_mm + at for at in between(run_mm, spread(run_mm, END_MM, MOST_MM))]
    # Up into the deck half way from its ends to the screws through the panel.
    up = (row[0] / 2, (row[-1] + box.size(along)) / 2)
    into_deck = Fixing(into=deck.name, direction=Direction.Z_PLUS, positions=up)
    cleat = screwed_cleat(name, "hold-down cleat", box, along, (into_deck,), construction)
    inner_face = panel.box.side(outwards.opposite)
    joints = tuple(
        Screwed(
            screw=construction.screw_cleat_thin,
            head=box.centre.at(along, box.low[along] + at).at(outwards.axis, inner_face),
            direction=outwards,
            through=panel.name,
            into=name,
            made_in=construction.cleats_made_in,
        )
        for at in row
    )
    return joined((cleat, Assembly(joints=joints)))


def covers(deck: Board, point: Point) -> bool:
    """Return whether the deck lies over the point."""
    return deck.box.contains(point.at(Axis.Z, deck.box.centre.z))
