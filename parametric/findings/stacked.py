"""Grading a clearance against the tolerances that take from it, and the chains' common links."""

from __future__ import annotations

from collections.abc import Iterator

from parametric.findings.finding import Finding, Sense, Severity
from parametric.geometry.space import SAME_MM, Axis, Direction
from parametric.shapes.board import Board
from parametric.stock.amounts import MM, Words, joined, length
from parametric.stock.tolerances import Contribution, CutTolerances, SettingOut, Stack


def stack_finding(*, code: str, where: str, what: Words, stacked: Stack, advice: str) -> Finding:
    """Return a finding on a clearance that must not close; measured is what the root sum square
    leaves of it.

    A failure where the root sum square closes it: then it will be closed in some of the rooms, and
    a part that does not go in stops the room. A warning where only the worst case does, which few
    sets come near, or where a tolerance is not known.
    """
    worst_mm, likely_mm = stacked.worst_case_mm, stacked.root_sum_square_mm
    left_mm = stacked.nominal_mm - likely_mm
    if left_mm <= SAME_MM:
        severity = Severity.FAIL
    elif stacked.unknown or stacked.nominal_mm - worst_mm <= SAME_MM:
        severity = Severity.WARN
    else:
        severity = Severity.OK
    uncounted = "; ".join(stacked.unknown)
    return Finding(
        code=code,
        severity=severity,
        where=where,
        message=(
            what,
            " ",
            length(stacked.nominal_mm),
            "; tolerances take up to ",
            length(worst_mm),
            " at worst, ",
            length(likely_mm),
            " likely (root sum square)",
            f"; not counted, as no tolerance is given: {uncounted}" if uncounted else "",
        ),
        measured=left_mm,
        sense=Sense.AT_LEAST,
        limit=0.0,
        unit=MM,
        source="tolerances: " + "; ".join(_sources(stacked)),
        advice="" if severity is Severity.OK else _advice(stacked, advice),
    )


def _sources(stacked: Stack) -> tuple[str, ...]:
    known = (each.tolerance for each in stacked.contributions if each.tolerance is not None)
    return tuple(dict.fromkeys(tolerance.source for tolerance in known))


def _advice(stacked: Stack, advice: str) -> Words:
    """Return what to do: tell what is not known, or make room for what takes most."""
    told: list[Words] = []
    if stacked.unknown:
        told.append(
            "give thickness_tolerance or leg_tolerance in the library for: "
            + "; ".join(stacked.unknown)
        )
    if stacked.nominal_mm - stacked.worst_case_mm <= SAME_MM:
        most = stacked.largest
        told.append((f"{advice}; most is taken by {most.what} (", length(most.takes_mm), ")"))
    return joined("; ", told)


def extent(board: Board, axis: Axis, cut: CutTolerances) -> Iterator[Contribution]:
    """Yield what the board's finished size along `axis`, in its plane, depends on."""
    yield Contribution(what=f"cut size of {board.name}", tolerance=cut.size)
    for band in board.bands:
        if band.edge.axis is axis:
            yield band_thickness(board, band.edge)


def band_thickness(board: Board, edge: Direction) -> Contribution:
    """Return what the band on one of the board's edges adds; all of one key are of one roll.

    Raises:
        ValueError: the board has no band there.
    """
    for band in board.bands:
        if band.edge is edge:
            return Contribution(
                what=f"thickness of band {band.band.key}", tolerance=band.band.thickness_tolerance
            )
    raise ValueError(f"{board.name} has no band on its {edge.name} edge")


def thickness(board: Board) -> Contribution:
    """Return what the board's thickness depends on; all boards of one material are of one pack."""
    return Contribution(
        what=f"thickness of {board.material.key}", tolerance=board.material.thickness_tolerance
    )


def edge_along_wall(
    board: Board, edge: Direction, cut: CutTolerances, setting_out: SettingOut
) -> Iterator[Contribution]:
    """Yield what decides where the board's edge facing `edge` lies along its wall.

    In the room frame. Units are set with their side towards the corner to a mark; what starts in
    the corner stands against the other wall, to which it is scribed.
    """
    along = edge.axis
    middle = board.box.centre[along]
    to_corner = Direction((along, 1 if middle < 0 else -1))
    if abs(board.box.side(to_corner)) > SAME_MM:
        yield Contribution(what=f"place of the {board.unit}", tolerance=setting_out.place)
    if edge is not to_corner:
        yield from extent(board, along, cut)
