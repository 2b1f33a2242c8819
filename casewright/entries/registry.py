"""Every file that a build leaves. A new one is its module beside this one, and a line here.

The table of README.md is this table (a test holds them together), the summary page links the papers
of it, and the manifest has its roles.
"""

from __future__ import annotations

from collections.abc import Sequence

from casewright.entries import cut_files, models, shop_papers, tables
from casewright.entries.built import Built
from casewright.entries.entry import Entry, Form, Left, files, left_by, papers, table
from casewright.entries.site_papers import (
    blocking_plans,
    installation_sheets,
    pick_sheet,
    room_pages,
)
from casewright.entries.summary import summary
from casewright.output.left_file import LeftFile
from casewright.progress import Progress
from export.file_paths import PART_FILES, SHEET_FILES
from export.manifest import FileRole

ENTRIES: tuple[Entry, ...] = (
    Entry(
        path="findings.csv",
        role=FileRole.FINDINGS,
        form=Form.TABLE,
        title="findings",
        readers="engineer",
        holds="every check: measured, limit, source, advice; for strength also method, "
        "assumptions, factor of safety and the place in the room; then what is `not checked`",
        render=table(tables.findings),
    ),
    Entry(
        path=SHEET_FILES,
        role=FileRole.SHEET,
        form=Form.CUT_FILE,
        title="sheets to cut",
        readers="operator",
        holds="one file for each different layout, in a folder for each material; the summary and "
        "the manifest say how often to run it",
        render=files(cut_files.sheets),
    ),
    Entry(
        path=PART_FILES,
        role=FileRole.PART,
        form=Form.CUT_FILE,
        title="single parts to cut",
        readers="operator",
        holds="one file for each part; `P…-second.dxf` is the second operation of a two-sided part",
        render=files(cut_files.parts),
    ),
    Entry(
        path="shop/operator-*.pdf",
        role=FileRole.OPERATOR_PACK,
        form=Form.PAPER,
        title="operator's packs",
        readers="operator",
        holds="for each material, and apart for sheets lying good face up: what to set up and "
        "measure, a page for each layout with its map, bits, time and boxes to tick, second "
        "operations",
        render=files(shop_papers.operator_pages),
    ),
    Entry(
        path="shop/cutlist.csv",
        role=FileRole.CUT_LIST,
        form=Form.TABLE,
        title="cut list",
        readers="shop",
        holds="each part once: quantity, finished and cut size, bands, grain, hand, mass",
        render=table(tables.cut_list),
    ),
    Entry(
        path="shop/linear.csv",
        role=FileRole.LINEAR_LIST,
        form=Form.TABLE,
        title="linear cut list",
        readers="shop",
        holds="cleats and steel angles with their drill positions",
        render=table(tables.linear_list),
    ),
    Entry(
        path="shop/linear-holes.csv",
        role=FileRole.LINEAR_HOLES,
        form=Form.TABLE,
        title="holes of cleats and angles",
        readers="shop",
        holds="each hole of each cleat and angle: face, distance from the left end and across, "
        "what that is measured from",
        render=table(tables.linear_holes),
    ),
    Entry(
        path="shop/drilling.pdf",
        role=FileRole.DRILLING_DRAWINGS,
        form=Form.PAPER,
        title="drilling drawings",
        readers="shop",
        holds="each kind of cleat and angle drawn with its holes, all from the left end: how many "
        "to make, drills, which are mirror images or look alike",
        render=files(shop_papers.drilling_drawings),
    ),
    Entry(
        path="shop/bars.csv",
        role=FileRole.BAR_PLAN,
        form=Form.TABLE,
        title="cut plan of bars",
        readers="shop",
        holds="how the bars are cut: each pattern with its runs, the cuts in order, what is left "
        "and whether to keep it; only where a job has any",
        render=table(tables.bar_plan),
    ),
    Entry(
        path="shop/edge-bores.csv",
        role=FileRole.EDGE_BORES,
        form=Form.TABLE,
        title="holes in edges",
        readers="shop",
        holds="holes that no router drills flat; only where a job has any",
        render=table(tables.edge_bores),
    ),
    Entry(
        path="shop/panels.csv",
        role=FileRole.PANELS,
        form=Form.TABLE,
        title="panels drawn elsewhere",
        readers="shop",
        holds="which part is from which file of another program, its material and how that was "
        "found, thickness as drawn, bores with the tip of a drill; only where a job has any",
        render=table(tables.panels),
    ),
    Entry(
        path="shop/assembly.pdf",
        role=FileRole.ASSEMBLY_SHEETS,
        form=Form.PAPER,
        title="shop assembly sheets",
        readers="shop",
        holds="a page for each piece that is joined in the shop and delivered in one piece: its "
        "parts drawn apart with their screws, which cleats look alike, mass",
        render=files(shop_papers.assembly_sheets),
    ),
    Entry(
        path="shop/pieces.csv",
        role=FileRole.PIECES,
        form=Form.TABLE,
        title="pieces joined in the shop",
        readers="shop, store",
        holds="the same as a table: each piece with its parts, how many, mass, size over all",
        render=table(tables.pieces),
    ),
    Entry(
        path="shop/hardware.csv",
        role=FileRole.SHOP_HARDWARE,
        form=Form.TABLE,
        title="hardware for the shop",
        readers="shop, store",
        holds="the screws and fittings of what is joined in the shop, for all rooms",
        render=table(tables.shop_hardware),
    ),
    Entry(
        path="shop/yield.csv",
        role=FileRole.YIELD,
        form=Form.TABLE,
        title="yield",
        readers="estimator",
        holds="sheets, yield, lower bound and cost for each material and stock",
        render=table(tables.yields),
    ),
    Entry(
        path="shop/offcuts.csv",
        role=FileRole.OFFCUTS,
        form=Form.TABLE,
        title="offcuts",
        readers="store",
        holds="what is left of each sheet and worth keeping, with its place, how often it falls "
        "and its rack label",
        render=table(tables.offcuts),
    ),
    Entry(
        path="shop/router-times.csv",
        role=FileRole.ROUTER_TIMES,
        form=Form.TABLE,
        title="time on the router",
        readers="operator, estimator",
        holds="for each cut file and bit: layers, path, plunges, minutes; then changes of bits and "
        "handling; holes that no bit of the machine file drills have a line without minutes",
        render=table(tables.router_times),
    ),
    Entry(
        path="site/install-*.pdf",
        role=FileRole.INSTALLATION,
        form=Form.PAPER,
        title="installation sheets",
        readers="installer",
        holds="for each set and hand: the kit, screws and hours, what comes before, then a page "
        "for each step with its pictures, parts, screws by letter, what to do, mark, check and"
        " mind",
        render=papers(installation_sheets),
    ),
    Entry(
        path="site/blocking-*.pdf",
        role=FileRole.BLOCKING,
        form=Form.PAPER,
        title="blocking plans",
        readers="builder, installer",
        holds="for each set and hand, with its rooms: where the walls must hold screws, from floor "
        "and corner, all walls to one scale; size of each block or fixing and hole of each wall, "
        "and the load on a screw",
        render=papers(blocking_plans),
    ),
    Entry(
        path="site/rooms.pdf",
        role=FileRole.ROOM_PAGES,
        form=Form.PAPER,
        title="room pages",
        readers="installer",
        holds="a page for each room: what it asks for, its kit, a code with its record",
        render=papers(room_pages),
    ),
    Entry(
        path="site/pick-list.pdf",
        role=FileRole.PICK_SHEET,
        form=Form.PAPER,
        title="pick list for the store",
        readers="store",
        holds="what goes into each box and into all of them",
        render=papers(pick_sheet),
    ),
    Entry(
        path="site/kits.csv",
        role=FileRole.KITS,
        form=Form.TABLE,
        title="kits",
        readers="installer, store",
        holds="what is packed for one room of each set and hand, counted from the joints: "
        "hardware, screws, caps, adhesive, shims; which parts use it",
        render=table(tables.kits),
    ),
    Entry(
        path="site/pick-list.csv",
        role=FileRole.PICK_LIST,
        form=Form.TABLE,
        title="pick list",
        readers="store",
        holds="the same for the whole job, article by article",
        render=table(tables.pick_list),
    ),
    Entry(
        path="site/rooms.csv",
        role=FileRole.ROOMS,
        form=Form.TABLE,
        title="measured rooms",
        readers="installer",
        holds="what each measured room asks for",
        render=table(tables.rooms),
    ),
    Entry(
        path="site/room-fixings.csv",
        role=FileRole.ROOM_FIXINGS,
        form=Form.TABLE,
        title="wall screws without wood",
        readers="installer",
        holds="wall screws that find no wood in a measured room",
        render=table(tables.room_fixings),
    ),
    Entry(
        path="engineering/*.step",
        role=FileRole.SOLIDS,
        form=Form.MODEL,
        title="solids",
        readers="engineer",
        holds="each set and hand as it stands; every board a solid, milled for its bands, named by "
        "part number; edge bands, cleats, steel as solids of their own",
        render=files(models.solids),
    ),
    Entry(
        path="engineering/*.glb",
        role=FileRole.VIEW,
        form=Form.MODEL,
        title="views",
        readers="engineer",
        holds="the same to look at",
        render=files(models.views),
    ),
    Entry(
        path="summary.html",
        role=FileRole.SUMMARY,
        form=Form.PAGE,
        title="summary",
        readers="everyone",
        holds="job, findings, pictures of each set in each hand, sheet maps, yield, cut list; "
        "opens offline",
        render=summary,  # last: it links what stands above
    ),
)


def files_of(
    built: Built, progress: Progress, entries: Sequence[Entry] = ENTRIES
) -> tuple[LeftFile, ...]:
    """Return the files of all entries, in their order.

    Raises:
        RuntimeError: the typesetter cannot set a paper, which is a bug.
    """
    progress.stage("lists and papers", len(entries))
    left: tuple[Left, ...] = ()
    for entry in entries:
        left += tuple(left_by(entry, built, left))
        progress.step(entry.title)
    return tuple(each.file for each in left)
