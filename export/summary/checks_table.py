"""The kinds of checks made, and how close each came to its limit."""

from __future__ import annotations

from collections.abc import Sequence

from export.summary.markup import Align, Column, table
from parametric.findings.telling import ToldFinding
from parametric.findings.tightest import tightest

# What each kind of check looks at. A code that is not here is shown as it stands.
CHECKED = {
    "set-in-use": "rooms that use each set",
    "seat-height": "supports at one height with the underside of what they carry",
    "leg-cover": "deck beyond the plate of each leg",
    "leg-clearance": "gap between each leg and the base box",
    "screw-bite": "penetration of each screw into the second part",
    "screw-head": "material under the countersunk head of each screw",
    "head-seat": "heads of screws through steel that match their holes",
    "screw-skin": "material beyond the tip of each screw",
    "wall-screw-reach": "reach of wall screws past the face of the wall",
    "angle-clearance": "clearance beside the steel angle in its notches",
    "notch-left-below": "material below the notches",
    "angle-bearing": "steel angle past the panels it bears on",
    "notch-left-beside": "material between the notches and the panels' ends",
    "slot-line": "slots of one steel angle in line",
    "driver-access": "clear run for a driver to the screws",
    "panel-lift": "room to lift hung panels onto their wall plates",
    "panel-below": "gap below hung panels",
    "plates-centred": "wall plates about the middle of hung panels",
    "hole-edge": "material between each hole and the nearest edge",
    "cuts-apart": "material between each hole and the next cut",
    "stock-on-hand": "sheets on hand against the least that hold the parts",
    "stock-size": "parts on the stock sheets, by the machine's trim and distances",
    "stock-length": "parts on the bars that they are cut from",
    "sheet-fit": "room to spare for each board on a stock sheet",
    "pre-mill": "what is milled off edges, against the bands that go on them",
    "board-mass": "mass of each board, for two people to carry",
    "stack-angle-slot": "play of the steel angle in its notches, less tolerances",
    "stack-angle-height": "room for packing under the steel angle, less tolerances",
    "stack-deck-table": "play of the table between the decks, less tolerances",
    "stack-groove": "play of hung panels over their lips, less tolerances",
    "stack-panel-below": "gap below hung panels, less tolerances",
    "stack-housing": "play of boards in grooves, less tolerances",
    "stack-run": "gap beyond each set, less tolerances",
    "overlap": "parts that interfere",
    "cleat-edge": "screws from the edges of solid cleats",
    "cleat-end": "screws from the ends of solid cleats",
    "cleat-row": "screws of one row in solid cleats",
    "machine-bed": "boards on the table of the router",
    "machine-sheet": "sheets on the table of the router",
    "way-door": "pieces through the narrowest door",
    "way-lift": "pieces in the lift",
    "way-corner": "pieces round the corner of the corridor",
    "step-order": "order of work on site that the joints allow",
    "step-path": "parts in the way of each part that comes in",
    "angle-entry": "length to spare to bring the steel angle into its notches",
    "unit-balance": "centre of mass of each unit inside what it stands on",
    "unit-lift": "mass lifted at once of each box or carcass, for two people",
    "angle-bending": "bending of the steel angle under somebody who sits on the table",
    "angle-sag": "sag of the steel angle under the table and what lies on it",
    "notch-bearing": "pressure of the steel angle on the bottom of its notches",
    "deck-test": "bending of decks under the test load and the dropped weight of seats",
    "deck-bending": "bending of decks under one or two seat loads anywhere, or a spread load",
    "deck-sag": "sag of decks under a spread load after years",
    "deck-hold": "what holds decks down where a load beyond their support levers them up",
    "leg-load": "load on legs",
    "leg-side": "pull on leg screws of untied units that are dragged over the floor",
    "leg-wall": "wall of the tubes of legs, thick enough not to dent",
    "seat-tip": "load on a corner at which units that nothing holds tip over",
    "wall-fixing": "wall screws that no fixing is given for",
    "wall-embedment": "depth of wall fixings behind the lining",
    "wall-hole": "tips of wall fixings in their holes",
    "wall-spacing": "wall fixings from each other",
    "wall-pull": "pull on wall screws",
    "wall-head": "pull on the heads of wall screws in board",
    "wall-cleat": "load along the wall on the screws of cleats",
    "plate-load": "load on the screws of wall plates",
    "no-rule": "joints that no strength rule covers",
    "bit-missing": "sizes of holes and cuts that no bit of the router's rack makes",
    "board-class": "boards that are not of the formaldehyde class that is asked for",
    "room-measured": "rooms that were not measured",
    "turn-room": "rooms without the floor to turn decks and boxes over on",
    "room-fit": "gap beyond the far end of each set, as measured",
    "room-corner": "wedge that a corner out of square leaves at the side wall",
    "room-width": "width of each room, where a set stands along its far wall",
    "room-floor": "fall of each floor under the set",
    "wall-fixing-missed": "wall screws that miss stud and blocking",
}

_COLUMNS = (
    Column("what is checked"),
    Column("code"),
    Column("checks", Align.NUMBER),
    Column("tightest", Align.NUMBER),
    Column("limit", Align.NUMBER),
    Column("source of the limit"),
)


def checks_table(findings: Sequence[ToldFinding]) -> str:
    """Return a table with a row for each code, in the order of their first finding.

    The values shown are those of the finding nearest to its limit, or furthest beyond it.
    """
    by_code: dict[str, list[ToldFinding]] = {}
    for finding in findings:
        by_code.setdefault(finding.code, []).append(finding)
    return table(_COLUMNS, (_row(code, of_code) for code, of_code in by_code.items()))


def _row(code: str, findings: Sequence[ToldFinding]) -> tuple[object, ...]:
    shown = tightest(findings)
    return (
        CHECKED.get(code, code),
        code,
        len(findings),
        shown.shown,
        shown.shown_limit,
        shown.source,
    )
