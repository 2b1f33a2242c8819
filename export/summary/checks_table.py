"""The kinds of checks made, and how close each came to its limit."""

from __future__ import annotations

from collections.abc import Sequence

from export.summary.markup import Align, Column, table
from export.tables.csv_text import fixed
from parametric.findings.finding import Finding
from parametric.findings.tightest import tightest

# What each kind of check looks at. A code that is not here is shown as it stands.
CHECKED = {
    "set-in-use": "rooms that have each set",
    "seat-height": "supports at one height with the underside of what they carry",
    "leg-cover": "deck beyond the plate of each leg",
    "leg-clearance": "space between each leg and the base box",
    "screw-bite": "thread of each screw in the second part",
    "screw-head": "first part left under the countersunk head of each screw",
    "screw-skin": "board left in front of the tip of each screw",
    "wall-screw-reach": "reach of wall screws past the face of the wall",
    "angle-clearance": "clearance beside the steel angle in its notches",
    "notch-left-below": "board left below the notches",
    "angle-bearing": "steel angle beyond the panels it bears on",
    "notch-left-beside": "board left from the notches to the panels' ends",
    "slot-line": "slots of one steel angle in line",
    "driver-access": "straight way for a driver to the screws",
    "panel-lift": "play of hung panels on their wall plates",
    "panel-below": "space below hung panels",
    "plates-centred": "wall plates about the middle of hung panels",
    "hole-edge": "part left between each hole and the nearest edge",
    "cuts-apart": "part left between each hole and the next cut",
    "stock-on-hand": "sheets on hand against the least that hold the parts",
    "stock-size": "parts on the stock sheets, by the machine's trim and distances",
    "stock-length": "parts on the bars that they are cut from",
    "sheet-fit": "room to spare for each board on a stock sheet",
    "pre-mill": "what is milled off edges, against the bands that go on them",
    "board-mass": "mass of each board, for two people to carry",
    "stack-angle-slot": "play of the steel angle in its notches, less tolerances",
    "stack-deck-table": "play of the table between the decks, less tolerances",
    "stack-groove": "play of hung panels over their lips, less tolerances",
    "stack-panel-below": "space below hung panels, less tolerances",
    "stack-housing": "play of boards in grooves, less tolerances",
    "stack-run": "room beyond each set, less tolerances",
    "overlap": "space that two parts take at once",
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
    "leg-side": "pull on the screws of legs of units that nothing ties, dragged over the floor",
    "leg-wall": "wall of the tubes of legs, thick enough not to dent",
    "seat-tip": "load on the rim of units that nothing holds, until they tip",
    "wall-pull": "pull on wall screws in solid wood",
    "wall-head": "pull on the heads of wall screws in board",
    "wall-cleat": "load along the wall on the screws of cleats",
    "plate-load": "load on the screws of wall plates",
    "no-rule": "joints that no rule of strength covers",
    "room-fit": "room beyond the far end of each set, as measured",
    "room-corner": "wedge that a corner out of square leaves at the side wall",
    "room-floor": "fall of each floor under the set",
    "wall-fixing-missed": "wall screws that meet neither stud nor blocking",
}

_COLUMNS = (
    Column("what is checked"),
    Column("code"),
    Column("checks", Align.NUMBER),
    Column("tightest", Align.NUMBER),
    Column("limit", Align.NUMBER),
    Column("unit"),
    Column("source of the limit"),
)


def checks_table(findings: Sequence[Finding]) -> str:
    """Return a table with a row for each code, in the order of their first finding.

    The values shown are those of the finding nearest to its limit, or furthest beyond it.
    """
    by_code: dict[str, list[Finding]] = {}
    for finding in findings:
        by_code.setdefault(finding.code, []).append(finding)
    return table(_COLUMNS, (_row(code, of_code) for code, of_code in by_code.items()))


def _row(code: str, findings: Sequence[Finding]) -> tuple[object, ...]:
    shown = tightest(findings)
    return (
        CHECKED.get(code, code),
        code,
        len(findings),
        fixed(shown.measured, 2),
        f"{shown.sense} {fixed(shown.limit, 2)}",
        shown.unit,
        shown.source,
    )
